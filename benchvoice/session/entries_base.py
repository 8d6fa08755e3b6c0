"""The first half of the kinds of log entries: people, what was heard and said, steps, readings.

All kinds are to be had from `benchvoice.session.entries`; they are in two modules for their length alone.
"""

from decimal import Decimal
from typing import Literal

from pydantic import BaseModel, ConfigDict

from benchvoice.session.known_instruments import KnownInstrument

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


class Paper(BaseModel):
    """Where a figure was read off that was not measured now: on what, whose, and of when, as far as it was said."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    what: str
    """paper, sheet, card, book …"""
    whose: str | None = None
    when: str | None = None
    """As it was said: yesterday, last week."""


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
    instruments: tuple[KnownInstrument, ...] = ()
    """The shop's register of instruments as it was then."""


class Resumed(Entry):
    kind: Literal["resumed"] = "resumed"
    program: str
    set_aside: str | None = None
    """File with the torn tail that the last process left, when there was one."""
    power_on: str | None = None
    uptime: Decimal | None = None
    instruments: tuple[KnownInstrument, ...] | None = None
    """The register where it has changed since; None: as it was."""


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
    """The build is closed; after follow-ups it is closed once more, and the first closing stays as it was."""

    kind: Literal["closed"] = "closed"
    with_open: tuple[str, ...] = ()
    """What stays owed after hand-over."""
    follow_ups: Refs = ()
    """Lines of the follow-ups that this closes; empty for the first closing."""


class Owed(Entry):
    kind: Literal["owed"] = "owed"
    what: str
    by_whom: str | None = None
    step: str | None = None
    steps: tuple[str, ...] = ()
    """The steps that do it, where the procedure has some."""


class FollowUp(Entry):
    """Work that was owed after hand-over is taken up on the closed build."""

    kind: Literal["follow_up"] = "follow_up"
    entry: int
    """Line of what is owed."""
    what: str
    steps: tuple[str, ...] = ()


class OwedDone(Entry):
    """Work that was owed after hand-over is done."""

    kind: Literal["owed_done"] = "owed_done"
    entry: int
    """Line of what was owed."""
    what: str
    follow_up: int
    """Line of the follow-up that did it."""


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
    actual: Decimal | None = None
    """The actual size that the answer names, in `actual_unit`, where the procedure declares one."""
    actual_unit: str | None = None
    brought_in: int | None = None
    """Line of the build that was brought in, where its answer is this one."""


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
    touched: tuple[str, ...] = ()
    """Steps whose readings may be spoilt: what was touched is asked until a remembered entry answers this one."""


class NoLongerCounts(Entry):
    kind: Literal["no_longer_counts"] = "no_longer_counts"
    entries: Refs
    what: str
    reason: str


class Restarted(Entry):
    kind: Literal["restarted"] = "restarted"
    step: str
    group: str | None = None
    """The group of fasteners whose stage it is; None in older logs."""
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
    counts_as: Literal["first", "repeat", "correction", "re-measurement", "zero check", "computed", "mean"] = "first"
    """A mean is of the repeats in `from_entries`, and stands in their place where it is chosen to."""
    replaces: int | None = None
    """Line of the reading that a correction or a re-measurement stands in for."""
    from_entries: Refs = ()
    """A computed value: the readings it was computed from."""
    paper: Paper | None = None
    """Read off paper, and not measured by who is on, now; None: measured."""


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
    rule: str = ""
    """The decision rule that was asked for; empty: none was, and the reading as taken decided."""
    uncertainty: Decimal | None = None
    """Expanded uncertainty of the reading (95.45 %), in `unit`; None where none is known or the rule needs none."""
    coverage_factor: Decimal | None = None
    """The k in that uncertainty."""
    probability: Decimal | None = None
    """Of conforming, rounded down to four decimals; of an interval, the least over its ends."""


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
