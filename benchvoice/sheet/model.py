"""What the page shows: plain values and finished words, so that the template only lays them out."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Item:
    """Something that happened, in words: its line in the log, when, who was on, and why it doesn't count, if so."""

    n: int
    at: str
    by: str
    text: str
    void: str = ""
    """Why it doesn't count any more; empty when it counts."""
    clip: str | None = None
    """File of its sound."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One reading in a picture of limits: an interval in the limits' unit (None: open end) and how it came out."""

    low: Decimal | None
    high: Decimal | None
    outcome: str
    """in limits, over, under, too close to call; empty when not judged."""
    counts: bool = True


@dataclass(frozen=True, slots=True)
class Band:
    """Limits to draw readings against, in `unit`; the wear limits too where the procedure gives them."""

    low: Decimal | None
    high: Decimal | None
    unit: str
    worn: tuple[Decimal | None, Decimal | None] | None = None
    nominal: Decimal | None = None


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One reading as taken."""

    item: Item
    value: str
    said: str
    verdict: str
    out: bool
    """Whether its verdict is anything but in limits."""
    remarks: tuple[str, ...]
    """Correction of line 7, read back and confirmed, another reading stands, decision …"""
    mark: Mark


@dataclass(frozen=True, slots=True)
class PlaceReadings:
    """Every reading at one place (or every computation of one value), oldest first."""

    place: str
    limits: str
    band: Band | None
    lines: tuple[ReadingLine, ...]
    expected: bool = True
    """Whether the procedure asks for a reading here."""


@dataclass(frozen=True, slots=True)
class Bolt:
    """One fastener of a group at one stage."""

    name: str
    number: int
    state: str
    """done, left for later, unknown, scrap, open, or not here (another step's)."""


@dataclass(frozen=True, slots=True)
class StageMap:
    """One stage of one step: what it asks, how far each fastener came, the wrench's setting and the hold point."""

    title: str
    asked: str
    bolts: tuple[Bolt, ...]
    summary: str
    left: tuple[str, ...]
    """Positions left for later, why, and what closed them."""
    notes: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class GroupMaps:
    """A group of fasteners: trial and final tightening apart."""

    what: str
    size: str
    order: str
    slackened: tuple[Item, ...]
    trial: tuple[StageMap, ...]
    final: tuple[StageMap, ...]

    @property
    def begun(self) -> bool:
        """Whether anything at all was recorded of the group."""
        stages = (*self.trial, *self.final)
        states = {bolt.state for stage in stages for bolt in stage.bolts}
        return bool(self.slackened or states - {"open", "not here"} or any(stage.notes for stage in stages))


@dataclass(frozen=True, slots=True)
class Window:
    """A window of time that ran, in seconds from its start."""

    item: Item
    what: str
    caption: str
    sort: str
    seconds: Decimal
    warned: tuple[Decimal, ...]
    ended: Decimal | None
    """Seconds it had when it ended; None while it runs, or when that is not known."""
    doubt: tuple[Decimal, Decimal] | None


@dataclass(frozen=True, slots=True)
class StepPart:
    """What was recorded at one step."""

    number: int | None
    """Its number in this machine's build; None when it is not part of it."""
    name: str
    title: str
    status: str
    asks: tuple[str, ...]
    readings: tuple[PlaceReadings, ...]
    computed: tuple[PlaceReadings, ...]
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A titled list; `empty` is said when there is nothing in it."""

    title: str
    items: tuple[Item, ...]
    empty: str = "None recorded."


@dataclass(frozen=True, slots=True)
class Tool:
    """An instrument or a wrench that was used."""

    name: str
    what: str
    detail: str
    due: str
    overdue: bool


@dataclass(frozen=True, slots=True)
class Pair:
    """A name and what goes with it."""

    name: str
    value: str
    item: Item | None = None


@dataclass(frozen=True, slots=True)
class Talk:
    """One line of the log in the timeline: which sort (heard, said, unclear, or a fact) and its words."""

    n: int
    at: str
    by: str
    sort: str
    text: str
    void: str
    clip: str | None


@dataclass(frozen=True, slots=True)
class Sheet:
    """The whole page."""

    title: str
    machine: str
    people: tuple[str, ...]
    began: str
    last: str
    status: str
    introduction: str
    facts: tuple[Pair, ...]
    open_items: tuple[str, ...]
    out_of_limits: tuple[PlaceReadings, ...]
    front: tuple[Section, ...]
    particulars: tuple[Pair, ...]
    steps: tuple[StepPart, ...]
    groups: tuple[GroupMaps, ...]
    windows: tuple[Window, ...]
    lists: tuple[Section, ...]
    counts: tuple[Pair, ...]
    tools: tuple[Tool, ...]
    timeline: tuple[Talk, ...]
    sounds: tuple[Item, ...]
    """Readings and unclear utterances with their sounds."""
    program: str
    lines: int
    head: str

    def played(self) -> Mapping[int, str]:
        """Sounds that the page plays, by the line of the entry beside which they are: files of clips."""
        items = [*self.sounds, *(item for section in (*self.front, *self.lists) for item in section.items)]
        return {item.n: item.clip for item in items if item.clip is not None}
