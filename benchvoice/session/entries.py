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

from benchvoice.session.entries_base import (
    Answered,
    CarriedOn,
    Closed,
    ClosedLater,
    Corrected,
    Decision,
    Device,
    Entry,
    FollowUp,
    Heard,
    Held,
    LeftForLater,
    NoLongerCounts,
    Opened,
    Owed,
    OwedDone,
    Paper,
    Person,
    Place,
    Reading,
    Refs,
    Remeasured,
    Restarted,
    Resumed,
    Retracted,
    Said,
    Sound,
    Stands,
    StepClosed,
    StepEntered,
    Unclear,
    Verdict,
    WentBack,
    Word,
    Zeroed,
)
from benchvoice.session.entries_brought import (
    BroughtIn,
    BroughtInChanged,
    BroughtInDecision,
    BroughtMark,
    NotBroughtIn,
)
from benchvoice.session.entries_chosen import Matched, PackTaken, StockChanged
from benchvoice.session.entries_conditions import LastRan, StillSo, Temperature, ThreadFound, WarmthSaid

__all__ = [
    "ENTRY_MODELS",
    "Amended",
    "Answered",
    "BanBroken",
    "BanOff",
    "BanOn",
    "BroughtIn",
    "BroughtInChanged",
    "BroughtInDecision",
    "BroughtMark",
    "CarriedOn",
    "Checked",
    "Closed",
    "ClosedLater",
    "Container",
    "Corrected",
    "Counted",
    "Decision",
    "Device",
    "Entry",
    "Finding",
    "FollowUp",
    "Heard",
    "Held",
    "InstrumentTaken",
    "Label",
    "LastRan",
    "LeftForLater",
    "LeftOver",
    "Mark",
    "Matched",
    "NoLongerCounts",
    "NotBroughtIn",
    "Opened",
    "Override",
    "Owed",
    "OwedDone",
    "PackTaken",
    "Paper",
    "Person",
    "Place",
    "Reading",
    "Refs",
    "Remeasured",
    "Remembered",
    "Restarted",
    "Resumed",
    "Retracted",
    "Said",
    "SaidLater",
    "SetRead",
    "Slackened",
    "Sound",
    "Stands",
    "StepClosed",
    "StepEntered",
    "StillSo",
    "StockChanged",
    "Temperature",
    "ThreadFound",
    "Tightened",
    "Unclear",
    "Variation",
    "Verdict",
    "WarmthSaid",
    "WentBack",
    "WindowDoubtful",
    "WindowEnded",
    "WindowStarted",
    "WindowWarned",
    "Witnessed",
    "Word",
    "Zeroed",
]

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
    group: str | None = None
    """The group whose stage it is; None in logs written before a step could tighten several."""
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
    answers: int | None = None
    """The entry that these words answer: what was touched after going back, what a broken ban spoilt."""


class Finding(Entry):
    kind: Literal["finding"] = "finding"
    text: str
    what: Literal["finding", "part missing", "stripped", "broken"] = "finding"
    step: str | None = None
    clip: str | None = None
    left_over: int | None = None
    """Line of what was left over, where it says what was made of that."""


class LeftOver(Entry):
    """Something left in the tray: the build isn't closed without a finding on it."""

    kind: Literal["left_over"] = "left_over"
    what: str
    number: int | None = None
    """How many, where it was said."""
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
    paper: Paper | None = None
    """It was read off paper."""


class Override(Entry):
    kind: Literal["override"] = "override"
    what: str
    reason: str
    step: str | None = None
    instrument: str | None = None
    """The instrument that was used in spite of what `what` objects to."""
    entry: int | None = None
    """Line of what is overridden, where it is an entry: a label that is out of date, a thread that is not as asked."""


class InstrumentTaken(Entry):
    """Which instrument is used where the procedure names one: of the register, or the procedure's own."""

    kind: Literal["instrument"] = "instrument"
    step: str
    name: str
    """The procedure's name for it."""
    id: str | None
    """Its id in the register; None: the procedure's own."""


class Label(Entry):
    """One thing read off a consumable's label before its first use."""

    kind: Literal["label"] = "label"
    consumable: str
    part: Literal["product", "lot", "date"]
    read: str | None
    """The product as it was said, the lot in capitals, the last good day as 2027-03-31; None: it can't be read."""
    said: str
    step: str | None = None


class Container(Entry):
    """A new tube or tin of a consumable: its label is read anew."""

    kind: Literal["container"] = "container"
    consumable: str
    step: str | None = None


class Counted(Entry):
    kind: Literal["counted"] = "counted"
    step: str
    what: str
    number: int
    expected: int | None = None
    way: Literal["laid out", "in", "out", "left in", "left over"] = "laid out"


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


# Bans, windows -------------------------------------------------------------------------------------------------


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
    spoils: tuple[str, ...] = ()
    """Steps whose readings may be spoilt: which is asked until a remembered entry answers this one."""


class WindowStarted(Entry):
    kind: Literal["window_started"] = "window_started"
    window: str
    sort: Literal["open time", "cure time", "cooling"]
    seconds: Decimal
    what: str
    temperature: Decimal | None = None
    """At the bench when it started, in `temperature_unit`, where that is read: it hastens warnings alone."""
    temperature_unit: str | None = None


class WindowWarned(Entry):
    kind: Literal["window_warned"] = "window_warned"
    window: str
    left: Decimal
    """Seconds left."""


class WindowEnded(Entry):
    kind: Literal["window_ended"] = "window_ended"
    window: str
    outcome: Literal["closed in time", "ran out", "full time", "given up"]
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


def _family() -> dict[str, type[Entry]]:
    models: dict[str, type[Entry]] = {}
    for model in Entry.__subclasses__():
        kind: Any = model.model_fields["kind"].default
        models[kind] = model
    return models


ENTRY_MODELS: Mapping[str, type[Entry]] = MappingProxyType(_family())
"""Every kind of entry by its name in the log."""
