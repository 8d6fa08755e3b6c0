"""What reaches the session from outside. Each event carries its moment: the session reads no clock."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from benchvoice.procedure.models import Procedure
from benchvoice.session.entries import Sound, Word
from benchvoice.session.facts import Instant
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.other_builds import OtherBuild


@dataclass(frozen=True, slots=True, kw_only=True)
class Begin:
    """A new build is opened; `file` is the frozen procedure in its folder."""

    now: Instant
    file: str
    sha256: str
    program: str
    machine: str | None = None
    power_on: str | None = None
    uptime: Decimal | None = None
    instruments: tuple[KnownInstrument, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Resume:
    """A new process goes on with a build whose facts were read from its log."""

    now: Instant
    program: str
    set_aside: str | None = None
    power_on: str | None = None
    uptime: Decimal | None = None
    instruments: tuple[KnownInstrument, ...] | None = None
    brought: tuple[OtherBuild, ...] = ()
    """The builds that were brought in, as they are now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Utterance:
    """Words that were heard or typed, lower case. `doubtful` says why the ear does not trust them, when it doesn't."""

    now: Instant
    text: str
    via: Literal["typed", "voice", "key"] = "typed"
    words: tuple[Word, ...] = ()
    sound: Sound | None = None
    confidence: Decimal | None = None
    doubtful: str | None = None
    waited: Decimal = Decimal(0)
    """Seconds of silence that ended it: of words that can't be the end the ear waits for more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """Time passed: windows may need a word."""

    now: Instant


@dataclass(frozen=True, slots=True, kw_only=True)
class Amend:
    """A new version of the procedure takes the place of the one in force."""

    now: Instant
    procedure: Procedure
    file: str
    sha256: str
    reason: str
    difference: str
    affected: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceNews:
    """Something about the machine: a microphone lost and back, a disk that refused."""

    now: Instant
    what: str
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildsSeen:
    """What was seen of other builds when the session asked to look at them."""

    now: Instant
    step: str | None
    builds: tuple[OtherBuild, ...]


Event = Begin | Resume | Utterance | Tick | Amend | DeviceNews | BuildsSeen
