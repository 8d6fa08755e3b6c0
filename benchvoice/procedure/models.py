"""A procedure document: what a writer of procedures can say.

Everything is frozen once loaded. Numbers are Decimal, read from text, so that 0.10 stays 0.10. A step has exactly one
kind (tell, check, mark, measure, tighten, slacken, wait, look, which_way_up, choose) and any of the cross-cutting
parts. Names are lower-case words joined by underscores; what people say (choices, places, answers) is written as it
is spoken.
"""

from decimal import Decimal
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints, model_validator

from benchvoice.errors import BenchvoiceError
from benchvoice.quantity.units import kind_of
from benchvoice.quantity.values import Quantity, parse_quantity

SCHEMA = 1


class Part(BaseModel):
    """Base of every part of a document: frozen, and a misspelt field is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True)


def _plain_number(value: object) -> object:
    if isinstance(value, float | bool):
        raise ValueError("write the number as text so that its decimals are kept")
    if isinstance(value, str):
        text = value.strip().removeprefix("+")
        digits = text.removeprefix("-")
        if not (digits.isascii() and digits.replace(".", "", 1).isdigit()):
            raise ValueError(f"{value!r} is not a plain decimal number; write figures such as 1.50")
        return text
    return value


def _a_quantity(value: object) -> object:
    if isinstance(value, Quantity):
        return value
    try:
        return parse_quantity(str(value))
    except BenchvoiceError as fault:
        raise ValueError(str(fault)) from None


def _a_unit(value: str) -> str:
    try:
        kind_of(value)
    except BenchvoiceError as fault:
        raise ValueError(str(fault)) from None
    return value


def _one_or_many(value: object) -> object:
    return value if isinstance(value, list | tuple | None) else [value]


Name = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*$")]
"""Identifier of a step, group, particular, instrument …"""
Text = Annotated[str, StringConstraints(min_length=1, max_length=2000, strip_whitespace=True)]
Number = Annotated[Decimal, BeforeValidator(_plain_number)]
Size = Annotated[Quantity, BeforeValidator(_a_quantity), Field(json_schema_extra={"type": "string"})]
"""A number with its unit, as text: 25 N_m, 8 min."""
Unit = Annotated[str, AfterValidator(_a_unit)]
Bound = Number | None
Band = tuple[Bound, Bound]
"""Least and most; null leaves an end open."""
Names = Annotated[tuple[Name, ...], BeforeValidator(_one_or_many)]
Texts = Annotated[tuple[Text, ...], BeforeValidator(_one_or_many)]
Count = Annotated[int, Field(ge=0, le=10_000)]
Places = dict[Name, Annotated[tuple[Text, ...], Field(min_length=1)]]
"""Named axes and their values as spoken; a place is one value of each axis."""


# What holds for the whole build ---------------------------------------------------------------------------------


class Particular(Part):
    """A fact about this machine, asked and answered with one of the choices."""

    ask: Text
    choices: Annotated[tuple[Text, ...], Field(min_length=2)]


class Option(Part):
    """Something that may be fitted or not: yes or no."""

    ask: Text


class WhichEnd(Part):
    """Which end is which, said with a side the first time that a step uses one."""

    number_one: Text | None = None
    left_right: Text | None = None
    turning: Text | None = None


class Instrument(Part):
    """A measuring instrument (VIM 3.1), its resolution (VIM 4.14) and stated uncertainty."""

    kind: Text
    unit: Unit
    resolution: Number | None = None
    uncertainty: Number | None = None
    range: Band | None = None
    calibration_due: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None


class Wrench(Part):
    """A torque wrench: range, step of its scale, and permissible relative deviation in per cent (ISO 6789 class)."""

    range: Annotated[tuple[Number, Number], Field()]
    unit: Unit
    step: Number
    class_percent: Number = Decimal(4)
    calibration_due: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None


class Consumable(Part):
    """A sealant, compound, grease: what it is and where it must not go."""

    what: Text
    not_on: Text | None = None
    label: bool = False
    """Its product, lot and date are read off the label before first use."""


class Group(Part):
    """Fasteners tightened together."""

    what: Text
    positions: Annotated[tuple[Text, ...], Field(min_length=1)]
    order: Text | tuple[Text, ...] = "in turn"
    """A named order or the list of positions in the order of tightening."""
    size: Text | None = None
    property_class: Annotated[Text | None, Field(alias="class")] = None
    new_each_time: bool = False
    takes: dict[Text, Text] = {}
    """Positions that take another fastener, and which."""


# Limits and computed values -------------------------------------------------------------------------------------


class Limits(Part):
    """Limits of a reading: plain, by new and worn, or by the answer to a particular or the value of an axis.

    In a document: [least, most], or {new: [..], worn: [..]}, or {by: NAME, ANSWER: [..], …} where NAME is a
    particular, an option or an axis of the places, and `other` stands for the answers not named.
    """

    by: Name | None = None
    bands: dict[Text, Band]
    nominal: Number | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, value: Any) -> Any:
        if isinstance(value, list | tuple):
            return {"bands": {"new": value}}
        if isinstance(value, dict) and "bands" not in value:
            known = {key: value[key] for key in ("by", "nominal") if key in value}
            return {**known, "bands": {key: band for key, band in value.items() if key not in known}}
        return value

    @model_validator(mode="after")
    def _right_way_round(self) -> "Limits":
        if not self.bands:
            raise ValueError("no limits are given; write [least, most]")
        for key, (low, high) in self.bands.items():
            if low is None and high is None:
                raise ValueError(f"limits for {key} are open at both ends; give least or most")
            if low is not None and high is not None and low > high:
                raise ValueError(f"limits for {key} are the wrong way round: {low} is more than {high}")
        if self.by is None and not set(self.bands) <= {"new", "worn"}:
            raise ValueError(f"limits named {', '.join(self.bands)} need `by:` with the particular that chooses")
        return self


class Computed(Part):
    """A value computed from readings: a declared kind with named inputs.

    `of` names each input: a step, or STEP.COMPUTED; without it the step's own readings are the input. `per` names the
    axes that stay: one value for each of their places, over all others.
    """

    kind: Name
    of: dict[Name, Text] = {}
    per: Names = ()
    unit: Unit | None = None
    limits: Limits | None = None
    factor: Number | None = None
    say: Text | None = None


class WayOut(Part):
    """Where a failure leads: back to a step, or by the cause that is asked."""

    ask: Text | None = None
    back_to: Name | dict[Text, Name] | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        return {"back_to": value} if isinstance(value, str) else value


# The kinds of steps ---------------------------------------------------------------------------------------------


class Graded(Part):
    """A question about how something feels or looks, with its answers in groups."""

    ask: Text
    passes: Annotated[Texts, Field(alias="pass", min_length=1)]
    further: dict[Text, Text] = {}
    """Answers that need one more question (where?), and that question; such an answer fails."""
    fails: Annotated[Texts, Field(alias="fail")] = ()
    back_to: Name | None = None
    touched: Names = ()
    """Reading steps whose places are asked when this fails: what was touched there is read again."""


class Check(Graded):
    places: Places = {}


class Expected(Part):
    """What a mark must read: a text, by the answer to a particular, or equal to another mark."""

    text: Text | None = None
    by: Name | None = None
    marks: dict[Text, Text] = {}
    equal_to: Name | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, value: Any) -> Any:
        if isinstance(value, str):
            return {"text": value}
        if isinstance(value, dict) and "by" in value and "marks" not in value:
            return {"by": value["by"], "marks": {key: text for key, text in value.items() if key != "by"}}
        return value


class Mark(Part):
    """Letters and digits read off a part: recorded, or compared with what is expected."""

    read: Text
    expected: Expected | None = None
    places: Places = {}
    otherwise: Annotated[WayOut | None, Field(alias="else")] = None
    words: Texts = ()
    """Whole answers that are words, not spelt: plain, none."""


class Master(Part):
    """A setting master: readings are deviations from its size."""

    what: Text
    size: Size | dict[Text, Size]
    by: Name | None = None


class Measure(Part):
    """One or many readings."""

    what: Text
    unit: Unit
    places: Places = {}
    order: tuple[Text, ...] = ()
    """Values of the only axis in the order they are asked; any order is accepted."""
    only: tuple[tuple[Text, ...], ...] = ()
    limits: Limits | None = None
    instrument: Name | None = None
    resolution: Number | None = None
    master: Master | None = None
    zero_check: bool = False
    """The instrument's zero is read first and last."""
    repeats: Annotated[int, Field(ge=1, le=20)] = 1
    """Readings taken and kept at each place; they differ by repeatability, their mean is judged."""
    computed: dict[Name, Computed] = {}
    say_limits: Literal["first place", "before", "after", "on request"] = "first place"
    out: WayOut | None = None
    reason: Text | None = None
    """Why this is read again: the readings of `again` are then re-measured."""
    again: Name | None = None
    before_each: Text | None = None
    """What to do before the reading at each place."""
    may_decide: bool = True


class Stage(Part):
    """One stage of tightening: exactly one of torque, angle, stretch, drag, turns, hand."""

    torque: Size | None = None
    angle: Size | None = None
    stretch: Band | None = None
    drag: Band | None = None
    turns: Number | None = None
    hand: Text | None = None
    unit: Unit | None = None
    """Unit of stretch and drag."""
    most: Size | None = None
    """Past this the fastener is spent (angle), or the part is (drag)."""
    back_first: Number | None = None
    """Turned back this many turns before, one fastener at a time."""
    hold_point: Graded | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "Stage":
        ways = [way for way in ("torque", "angle", "stretch", "drag", "turns", "hand") if getattr(self, way) is not None]
        if len(ways) != 1:
            raise ValueError("a stage needs exactly one of torque, angle, stretch, drag, turns, hand")
        if ways[0] in ("stretch", "drag") and self.unit is None:
            raise ValueError(f"a stage by {ways[0]} needs its unit")
        return self

    @property
    def way(self) -> Literal["torque", "angle", "stretch", "drag", "turns", "hand"]:
        """Which of the six it is."""
        for way in ("torque", "angle", "stretch", "drag", "turns"):
            if getattr(self, way) is not None:
                return way  # type: ignore[return-value]
        return "hand"


class Adapter(Part):
    """A crowfoot or extension on the wrench: its length from the drive's centre, at an angle to the lever."""

    length: Size
    lever: Size
    angle: Size = Quantity(value=Decimal(0), unit="deg")


class Leave(Part):
    """Positions that this step leaves for later, and the step that closes them."""

    positions: Annotated[tuple[Text, ...], Field(min_length=1)]
    closed_by: Name
    why: Text | None = None


class Tighten(Part):
    group: Name
    purpose: Literal["trial", "final"] = "final"
    fasteners: Literal["new", "old", "as fitted"] = "as fitted"
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]
    positions: tuple[Text, ...] = ()
    """Only these; without it the whole group."""
    order: Text | tuple[Text, ...] | None = None
    wrench: Name | None = None
    adapter: Adapter | None = None
    thread: Text | None = None
    """Condition of thread and bearing face that the figure holds for: dry, oiled, greased …"""
    one_at_a_time: bool = False
    leave_for_later: Leave | None = None
    hold_point: Graded | None = None
    """After each stage, unless a stage has its own."""
    also: tuple["Tighten", ...] = ()
    """Further groups or positions that the same step tightens afterwards."""


class Slacken(Part):
    group: Name
    positions: tuple[Text, ...] = ()
    ends_trial: bool = False


class Wait(Part):
    """A window: open time (at most) or cure time (at least)."""

    what: Text
    open_time: Size | None = None
    cure_time: Size | None = None
    starts_at: Text | None = None
    """The words that start it; without it a cure starts with the step."""
    have_ready: Texts = ()
    warn_at: tuple[Size, ...] = ()
    """Time passed at which to warn; without it at three quarters and the last minute of an open time."""
    closed_by: Name | None = None
    """The step whose end closes the joint; without it "done" does."""
    before: Names = ()
    """Steps that can't begin before a cure time is full; without it the step itself waits."""
    may_outlast: bool = False
    """The build may be closed before the cure is full: it is then owed."""
    each: bool = False

    @model_validator(mode="after")
    def _one_way(self) -> "Wait":
        if (self.open_time is None) == (self.cure_time is None):
            raise ValueError("a wait needs exactly one of open_time and cure_time")
        if self.open_time is not None and self.starts_at is None:
            raise ValueError("an open time needs starts_at, the words that start it")
        return self


class Look(Part):
    """Look and say: an observation kept in the person's own words, recalled later."""

    say: Text
    places: Places = {}


class Choose(Part):
    """Ask particulars and options here, or let a computed value choose."""

    ask: Names = ()
    name: Name | None = None
    by: Text | None = None
    """STEP.COMPUTED whose value chooses."""
    bands: dict[Text, Band] = {}


# A step ---------------------------------------------------------------------------------------------------------


class Ban(Part):
    """Something that must not be done from this step until another."""

    what: Text
    until: Name | None = None
    """The step that lifts it; None: a standing ban."""
    broken_by: Texts = ()
    """What a person says when it was broken, besides "I broke the ban"."""
    damage: Text | None = None
    spoils: Names = ()
    """Steps whose readings a break spoils."""


class CountParts(Part):
    laid_out: dict[Text, Count] = {}
    put_in: Annotated[dict[Text, Count], Field(alias="in")] = {}
    taken_out: Annotated[dict[Text, Count], Field(alias="out")] = {}


class Owed(Part):
    what: Text
    when: Text | None = None


KINDS = ("tell", "check", "mark", "measure", "tighten", "slacken", "wait", "look", "which_way_up", "choose")
Condition = dict[Name, Texts]
"""Particular or option → the answers for which it holds (yes / no for an option)."""


class Step(Part):
    step: Name
    tell: Text | None = None
    check: Check | None = None
    mark: Mark | None = None
    measure: Measure | None = None
    tighten: Tighten | None = None
    slacken: Slacken | None = None
    wait: Wait | None = None
    look: Look | None = None
    which_way_up: Text | None = None
    choose: Choose | None = None

    title: Text | None = None
    """What the step is called in the record and when asked where one is."""
    say: Text | None = None
    """Words read out when the step begins, before what its kind asks."""
    when: Condition = {}
    unless: Condition = {}
    after: Names = ()
    """Steps that must be closed first; without it the step before."""
    warning: Text | None = None
    caution: Text | None = None
    standing_order: Text | None = None
    ban: Ban | None = None
    count: CountParts = CountParts()
    recalls: Names = ()
    """Look-and-say steps whose words are said again here."""
    touches: Texts = ()
    """Parts that this step touches, by name: a way back asks what was touched."""
    buries: Texts = ()
    """What can't be reached any more after this step."""
    trial: Literal["starts", "ends"] | None = None
    silent: bool = False
    """A lift or a feel check: said whole before, then nothing until spoken to."""
    witness: bool = False
    uses: Names = ()
    owed: tuple[Owed, ...] = ()
    brings_in: Text | None = None

    @model_validator(mode="after")
    def _one_kind(self) -> "Step":
        kinds = [kind for kind in KINDS if getattr(self, kind) is not None]
        if len(kinds) != 1:
            found = ", ".join(kinds) or "none"
            raise ValueError(f"a step has exactly one of {', '.join(KINDS)}; this one has {found}")
        return self

    @property
    def kind(self) -> str:
        """Which of KINDS it is."""
        return next(kind for kind in KINDS if getattr(self, kind) is not None)


class Procedure(Part):
    """A whole document."""

    schema_version: Annotated[Literal[1], Field(alias="schema")]
    title: Text
    machine: Text | None = None
    work: Literal["inch", "metric"]
    introduction: Text | None = None
    standing_orders: tuple[Text, ...] = ()
    particulars: dict[Name, Particular] = {}
    options: dict[Name, Option] = {}
    which_end: WhichEnd = WhichEnd()
    instruments: dict[Name, Instrument] = {}
    wrenches: dict[Name, Wrench] = {}
    consumables: dict[Name, Consumable] = {}
    groups: dict[Name, Group] = {}
    words: dict[Text, Texts] = {}
    """Pronunciations of words that the ear may lack (ARPAbet), by word."""
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
