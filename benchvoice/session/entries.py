"""The kinds of log entries: what can be true of a build.

Each entry is a fact, frozen and complete in itself. Numbers are Decimal, written as text so that the decimals that
were said survive; entries refer to one another by their line number `n`. The envelope (n, at, elapsed, boot, by, prev)
is the log's business, not the entry's.

The session (`benchvoice.session`) both makes entries and reads them back: a build's state is a fold over its entries
and nothing else.
"""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

Place = tuple[str, ...]
"""Where: the value of each axis in the order the step declares them, e.g. ("two", "top", "across")."""

Refs = tuple[int, ...]
"""Line numbers of other entries."""


class Entry(BaseModel):
    """A fact about a build. Subclasses say which."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=False)
    kind: str


class Word(BaseModel):
    """A word as the recogniser gave it: confidence 0..1 as text; None where it was typed."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    word: str
    confidence: Decimal | None = None


class Sound(BaseModel):
    """The sound of an utterance, and what is needed to decode it again."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    clip: str
    clip_sha256: str
    grammar: str
    """File in the build's folder that holds the grammar in force."""
    model: str
    """Hash of the model that heard it."""


# Who, when, how the program runs --------------------------------------------------------------------------------


class Opened(Entry):
    kind: Literal["opened"] = "opened"
    title: str
    procedure: str
    """The file of the frozen procedure in the build's folder."""
    procedure_sha256: str
    machine: str | None = None
    program: str
    power_on: str | None = None
    """Which run of the machine since it was switched on; with `uptime` it lets two processes compare clocks."""
    uptime: Decimal | None = None
    """Seconds since then, sleep included, at this entry."""


class Resumed(Entry):
    kind: Literal["resumed"] = "resumed"
    program: str
    set_aside: str | None = None
    """File with the torn tail that the last process left, when there was one."""
    power_on: str | None = None
    uptime: Decimal | None = None


class Person(Entry):
    kind: Literal["person"] = "person"
    name: str
    takes_over: bool = False


class Device(Entry):
    kind: Literal["device"] = "device"
    what: str
    detail: str = ""


class Held(Entry):
    kind: Literal["held"] = "held"


class CarriedOn(Entry):
    kind: Literal["carried_on"] = "carried_on"


class Closed(Entry):
    kind: Literal["closed"] = "closed"
    with_open: tuple[str, ...] = ()
    """What stays owed after hand-over."""


class Owed(Entry):
    kind: Literal["owed"] = "owed"
    what: str
    by_whom: str | None = None
    step: str | None = None


# What was heard and said ----------------------------------------------------------------------------------------


class Heard(Entry):
    kind: Literal["heard"] = "heard"
    text: str
    words: tuple[Word, ...] = ()
    understood: str
    """What it was taken for: the command's or the answer's name."""
    via: Literal["typed", "voice", "key"] = "typed"
    sound: Sound | None = None


class Unclear(Entry):
    kind: Literal["unclear"] = "unclear"
    text: str
    words: tuple[Word, ...] = ()
    reason: str
    via: Literal["typed", "voice", "key"] = "typed"
    sound: Sound | None = None


class Said(Entry):
    kind: Literal["said"] = "said"
    text: str


class Answered(Entry):
    kind: Literal["answered"] = "answered"
    question: str
    """Name of the particular, option, choice, warning or question."""
    answer: str
    step: str | None = None


# Steps ----------------------------------------------------------------------------------------------------------


class StepEntered(Entry):
    kind: Literal["step_entered"] = "step_entered"
    step: str


class StepClosed(Entry):
    kind: Literal["step_closed"] = "step_closed"
    step: str
    how: Literal["done", "skipped", "not fitted", "left for later"] = "done"
    reason: str | None = None


class WentBack(Entry):
    kind: Literal["went_back"] = "went_back"
    step_from: str
    step_to: str
    reason: str


class NoLongerCounts(Entry):
    kind: Literal["no_longer_counts"] = "no_longer_counts"
    entries: Refs
    what: str
    reason: str


class Restarted(Entry):
    kind: Literal["restarted"] = "restarted"
    step: str
    stage: int | None = None
    reason: str


class LeftForLater(Entry):
    kind: Literal["left_for_later"] = "left_for_later"
    step: str
    what: str
    positions: tuple[str, ...] = ()
    closed_by: str | None = None
    """The step that closes it; None: it must be gone back to."""
    reason: str = ""


class ClosedLater(Entry):
    kind: Literal["closed_later"] = "closed_later"
    entry: int
    step: str
    what: str


# Readings -------------------------------------------------------------------------------------------------------


class Reading(Entry):
    kind: Literal["reading"] = "reading"
    step: str
    what: str
    place: Place = ()
    value: Decimal | None
    """As it was said; None only for an interval (low and high then bound it)."""
    unit: str
    said: str
    low: Decimal | None
    high: Decimal | None
    resolution: Decimal | None = None
    instrument: str | None = None
    confidence: Decimal | None = None
    clip: str | None = None
    limits_said_before: bool = False
    confirmed: bool = False
    """Stored only after a read-back and a yes."""
    counts_as: Literal["first", "repeat", "correction", "re-measurement", "zero check", "computed"] = "first"
    replaces: int | None = None
    """Line of the reading that a correction or a re-measurement stands in for."""
    from_entries: Refs = ()
    """A computed value: the readings it was computed from."""


class Verdict(Entry):
    kind: Literal["verdict"] = "verdict"
    step: str
    place: Place = ()
    reading: int
    outcome: Literal["in limits", "over", "under", "too close to call"]
    out_by: Decimal | None = None
    """How far outside the limits, in `unit`. (A plain `by` is the envelope's: the person on.)"""
    low: Decimal | None
    high: Decimal | None
    unit: str
    limits: str = "new"
    reason: str = ""


class Stands(Entry):
    """Which of several readings at one place stands."""

    kind: Literal["stands"] = "stands"
    step: str
    place: Place = ()
    reading: int
    reason: str = ""


class Retracted(Entry):
    kind: Literal["retracted"] = "retracted"
    entries: Refs
    what: str


class Corrected(Entry):
    kind: Literal["corrected"] = "corrected"
    entry: int
    step: str
    place: Place = ()
    was: str
    now: str


class Remeasured(Entry):
    kind: Literal["remeasured"] = "remeasured"
    step: str
    place: Place = ()
    entries: Refs
    reason: str


class Zeroed(Entry):
    kind: Literal["zeroed"] = "zeroed"
    step: str
    instrument: str
    value: Decimal
    unit: str
    when: Literal["first", "last", "between"]
    good: bool


class Decision(Entry):
    kind: Literal["decision"] = "decision"
    step: str
    place: Place = ()
    reading: int
    decision: Literal["rework", "repair", "scrap", "concession"]
    reason: str
    name: str


# Marks, checks, observations ------------------------------------------------------------------------------------


class Mark(Entry):
    kind: Literal["mark"] = "mark"
    step: str
    read: str
    place: Place = ()
    value: str
    said: str
    expected: str | None = None
    matches: bool | None = None


class Checked(Entry):
    kind: Literal["checked"] = "checked"
    step: str
    place: Place = ()
    stage: int | None = None
    """The stage whose hold point this is."""
    answer: str
    where: str | None = None
    passed: bool


class Remembered(Entry):
    kind: Literal["remembered"] = "remembered"
    text: str
    step: str | None = None
    place: Place = ()
    observed: bool = False
    """An observation that the step asked for (which way a mark points), recalled by later steps."""
    clip: str | None = None
    next_time: bool = False


class Finding(Entry):
    kind: Literal["finding"] = "finding"
    text: str
    what: Literal["finding", "part missing", "stripped", "broken"] = "finding"
    step: str | None = None
    clip: str | None = None


class Variation(Entry):
    kind: Literal["variation"] = "variation"
    step: str
    reason: str


class SaidLater(Entry):
    """Something done earlier and only told now: time unknown, closes nothing that needs a witness or a count."""

    kind: Literal["said_later"] = "said_later"
    step: str | None
    text: str


class Override(Entry):
    kind: Literal["override"] = "override"
    what: str
    reason: str
    step: str | None = None


class Counted(Entry):
    kind: Literal["counted"] = "counted"
    step: str
    what: str
    number: int
    expected: int | None = None
    way: Literal["laid out", "in", "out", "left in"] = "laid out"


class Witnessed(Entry):
    kind: Literal["witnessed"] = "witnessed"
    step: str
    witness: str


# Tightening -----------------------------------------------------------------------------------------------------


class SetRead(Entry):
    kind: Literal["set_read"] = "set_read"
    step: str
    group: str
    stage: int
    wrench: str | None
    value: Decimal
    unit: str
    said: str
    expected: Decimal
    expected_unit: str
    accepted: bool


class Tightened(Entry):
    kind: Literal["tightened"] = "tightened"
    step: str
    group: str
    stage: int
    stage_kind: str
    """torque, angle, stretch, drag, turns or hand."""
    asked: str
    """What the stage asks, in words or figures with the unit."""
    purpose: Literal["trial", "final"]
    position: str
    outcome: Literal["done", "unknown", "scrap"] = "done"
    reason: str = ""


class Slackened(Entry):
    kind: Literal["slackened"] = "slackened"
    step: str
    group: str
    positions: tuple[str, ...]


# Bans, windows, other builds ------------------------------------------------------------------------------------


class BanOn(Entry):
    kind: Literal["ban_on"] = "ban_on"
    ban: str
    what: str
    until: str | None


class BanOff(Entry):
    kind: Literal["ban_off"] = "ban_off"
    ban: str
    what: str


class BanBroken(Entry):
    kind: Literal["ban_broken"] = "ban_broken"
    ban: str
    what: str
    damage: str = ""
    places: tuple[Place, ...] = ()


class WindowStarted(Entry):
    kind: Literal["window_started"] = "window_started"
    window: str
    sort: Literal["open time", "cure time"]
    seconds: Decimal
    what: str


class WindowWarned(Entry):
    kind: Literal["window_warned"] = "window_warned"
    window: str
    left: Decimal
    """Seconds left."""


class WindowEnded(Entry):
    kind: Literal["window_ended"] = "window_ended"
    window: str
    outcome: Literal["closed in time", "ran out", "full time"]
    taken: Decimal | None = None
    """Seconds that passed."""


class WindowDoubtful(Entry):
    kind: Literal["window_doubtful"] = "window_doubtful"
    window: str
    least: Decimal
    most: Decimal
    reason: str


class Amended(Entry):
    kind: Literal["amended"] = "amended"
    procedure: str
    procedure_sha256: str
    reason: str
    difference: str


class BroughtIn(Entry):
    kind: Literal["brought_in"] = "brought_in"
    build: str
    head: str
    """Hash of the last line of the other build's log when it was brought in."""
    open_items: tuple[str, ...] = ()
    computed: tuple[tuple[str, str], ...] = ()


def _family() -> dict[str, type[Entry]]:
    models: dict[str, type[Entry]] = {}
    for model in Entry.__subclasses__():
        kind: Any = model.model_fields["kind"].default
        models[kind] = model
    return models


ENTRY_MODELS: Mapping[str, type[Entry]] = MappingProxyType(_family())
"""Every kind of entry by its name in the log."""
