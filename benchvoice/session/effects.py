"""What the session wants done, in order. A `Say` follows the writes that it acknowledges, never the other way round."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from benchvoice.session.entries import Entry
from benchvoice.session.facts import Instant

Tone = Literal["heard", "not heard", "out of limits", "window"]


@dataclass(frozen=True, slots=True)
class Write:
    """Append this entry to the log, durably, before anything after it."""

    entry: Entry
    now: Instant
    by: str | None


@dataclass(frozen=True, slots=True)
class Say:
    """Speak, after a tone where one is named."""

    text: str
    tone: Tone | None = None


@dataclass(frozen=True, slots=True)
class ToneAlone:
    """Sound a tone and speak no words; `text` stands for it in writing."""

    tone: Tone
    text: ClassVar[str] = "(tone)"


@dataclass(frozen=True, slots=True)
class Hush:
    """Fall silent at once."""


@dataclass(frozen=True, slots=True)
class Adjust:
    """Change how the voice speaks from now on."""

    what: Literal["slower", "faster", "quieter", "louder"]


@dataclass(frozen=True, slots=True)
class DropClip:
    """Delete the sound of an utterance; its entry stays and says so."""

    clip: str


@dataclass(frozen=True, slots=True)
class End:
    """The conversation is over: the build is closed, or the work stops for the day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAtBuilds:
    """Look at other builds, and give what is seen in a BuildsSeen event: those that a step may bring in, or with
    `step` None those that are brought in, as they are now."""

    step: str | None = None
    what: str = ""
    title: str | None = None
    """Title of the procedure that they must follow."""


Effect = Write | Say | ToneAlone | Hush | Adjust | DropClip | LookAtBuilds | End
