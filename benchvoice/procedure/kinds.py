"""The kinds of steps: what each asks of the person and what it does with the answers."""

from collections.abc import Sequence
from decimal import Decimal
from functools import cached_property
from itertools import product
from typing import Annotated, Any, Literal

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from benchvoice.procedure.decision_rules import DecisionRule, with_rule_of_limits
from benchvoice.procedure.fields import (
    Band,
    Name,
    NameOrTable,
    Names,
    Number,
    OneOrTable,
    Order,
    Part,
    Places,
    Size,
    SizeOrTable,
    Text,
    Texts,
    Unit,
    Whole,
    YesNo,
)
from benchvoice.procedure.limits import OTHER, Computed, Limits, WayOut
from benchvoice.procedure.warmth import Warmth
from benchvoice.quantity.values import Quantity
from benchvoice.tighten.lubricant import CONDITIONS, condition_of

Way = Literal["torque", "angle", "stretch", "drag", "turns", "hand"]
STAGE_WAYS: tuple[Way, ...] = ("torque", "angle", "stretch", "drag", "turns", "hand")


_SUCH_AS = {"stretch": "thou", "drag": "N_m"}


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names) or "none"


class Graded(Part):
    """A question about how something feels or looks, with its answers in groups."""

    ask: Text
    passes: Annotated[Texts, Field(alias="pass", min_length=1)]
    further: dict[Text, Text] = {}
    """Answers that need one more question (where?), and that question; such an answer fails."""
    fails: Annotated[Texts, Field(alias="fail")] = ()
    back_to: NameOrTable | None = None
    """The step that a failure leads back to, or one for each answer that fails (`other` for those not named)."""
    touched: Names = ()
    """Reading steps whose places are asked when this fails: what was touched there is read again."""

    def way_back(self, answer: str) -> str | None:
        """The step that a failing answer leads back to."""
        if isinstance(self.back_to, dict):
            return self.back_to.get(answer, self.back_to.get(OTHER))
        return self.back_to


class Check(Graded):
    """A graded question of its own, asked at each place."""

    places: Places = {}


class Expected(Part):
    """What a mark must read: a text, by the answer to a particular or an axis's value, or equal to another mark.

    The other mark is one of this build, or one that a build brought in has; without that build it is only recorded.
    """

    text: Text | None = None
    by: Name | None = None
    marks: dict[Text, Text] = {}
    equal_to: Name | None = None
    brought_in: Name | None = None

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, value: Any) -> Any:
        if isinstance(value, str):
            return {"text": value}
        if isinstance(value, dict) and "by" in value and "marks" not in value:
            return {"by": value["by"], "marks": {key: text for key, text in value.items() if key != "by"}}
        return value

    @model_validator(mode="after")
    def _one_way(self) -> "Expected":
        ways = [way for way in (self.text, self.by, self.equal_to, self.brought_in) if way is not None]
        if len(ways) != 1:
            raise ValueError(
                "a mark is expected in one way; write a text, by: a particular, equal_to: another mark, or brought_in: "
                "a mark of a build that is brought in"
            )
        if self.by is not None and not self.marks:
            raise ValueError(f"no marks for the answers to {self.by}; add the mark for each of its answers")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        text = {"type": ["string", "number"]}
        equal = {"type": "object", "properties": {"equal_to": {"type": "string"}}, "additionalProperties": False}
        table = {"type": "object", "properties": {"by": {"type": "string"}}, "additionalProperties": text}
        plain = {"type": "object", "properties": {"text": text}, "additionalProperties": False}
        brought = {"type": "object", "properties": {"brought_in": {"type": "string"}}, "additionalProperties": False}
        return {"anyOf": [text, equal, brought, {**table, "required": ["by"]}, plain]}


class Mark(Part):
    """Letters and digits read off a part: recorded, or compared with what is expected."""

    read: Text
    expected: Expected | None = None
    places: Places = {}
    otherwise: Annotated[WayOut | None, Field(alias="else")] = None
    words: Texts = ()
    """Whole answers that are words, not spelt: plain, none."""


class Master(Part):
    """A setting master: readings are deviations from its size, and computed values work on the sizes themselves."""

    what: Text
    size: SizeOrTable
    by: Name | None = None
    uncertainty: Size | None = None
    """Expanded uncertainty (k = 2) of its size: it is in every reading that was set by it."""

    @model_validator(mode="after")
    def _chosen(self) -> "Master":
        if isinstance(self.size, dict) != (self.by is not None):
            raise ValueError("a master has one size, or several and what chooses; write both size: {ANSWER: …} and by")
        return self


class Match(Part):
    """Parts that go together: pairs or two even banks of one kind, or each with a partner of another kind."""

    what: Text
    """What is matched, as it is said: pistons and rods."""
    how: Literal["pairs", "banks", "totals", "clearances"]
    of: Name
    """The measure step with a reading for each part; for clearances the bores."""
    partners: Name | None = None
    """For totals and clearances: the measure step of the parts that go with them."""

    @model_validator(mode="after")
    def _both(self) -> "Match":
        if (self.how in ("totals", "clearances")) != (self.partners is not None):
            raise ValueError("totals and clearances have partners, pairs and banks have none; correct how or partners")
        return self


class Measure(Part):
    """One or many readings."""

    _rule_of_limits = model_validator(mode="before")(with_rule_of_limits)

    what: Text
    unit: Unit
    places: Places = {}
    order: tuple[Text, ...] = ()
    """Values of the only axis in the order they are asked; any order is accepted."""
    only: tuple[tuple[Text, ...], ...] = ()
    """Only these places of the product, each a value of every axis."""
    without: tuple[tuple[Text, ...], ...] = ()
    """Not these places: each names the values, of some axes or of all, that don't go together."""
    height: YesNo = False
    """Above or below a face: "proud" counts up, "below" counts down, "flush" is zero."""
    limits: Limits | None = None
    rule: DecisionRule | None = None
    """How doubt in a reading is treated when it is judged; without it, simple acceptance."""
    warmth: Warmth | None = None
    """What temperature asks of the readings; limits for cold and for hot stand there."""
    instrument: Name | None = None
    uncertainty: Annotated[Number, Field(ge=0)] | None = None
    """Expanded uncertainty (k = 2) of a reading here, in its unit, in place of the instrument's."""
    resolution: Number | None = None
    """The smallest step that a reading needs here; without it, what the instrument shows."""
    per_division: Number | None = None
    """What one division of the dial (or of a mark etched in figures) is worth: "plus five" is then five of them."""
    master: Master | None = None
    zero_check: YesNo = False
    """The instrument's zero is read first and last."""
    repeats: Annotated[Whole, Field(ge=1, le=20)] = 1
    """Readings taken and kept at each place; they differ by repeatability, their mean is judged."""
    computed: dict[Name, Computed] = {}
    match: Match | None = None
    """Parts to be matched once everything here is read: the best way is proposed, and kept once it is taken."""
    say_limits: Literal["first place", "before", "after", "on request"] = "first place"
    out: WayOut | None = None
    reason: Text | None = None
    """Why this is read again: the readings of `again` are then re-measured."""
    again: Names = ()
    """Steps whose readings of the same places these take over."""
    before_each: OneOrTable | None = None
    """What to do before the reading at each place; or by the value of an axis, nothing where it is not named."""
    may_decide: YesNo = True

    @cached_property
    def every_place(self) -> tuple[tuple[str, ...], ...]:
        """Every place in the order in which they are asked: the product of the axes, less what doesn't go together.

        Worked out once: every question about readings asks for it.
        """
        found = self.only or tuple((value,) for value in self.order) or tuple(product(*self.places.values()))
        return tuple(place for place in found if not any(set(gap) <= set(place) for gap in self.without))

    @model_validator(mode="after")
    def _reasons(self) -> "Measure":
        if self.again and self.reason is None:
            raise ValueError("this reads again without a reason; add reason, what has changed since the first time")
        if self.order and len(self.places) != 1:
            raise ValueError("an order lists the values of the only axis; this has several or none, take it out")
        if self.limits is not None and self.warmth is not None and self.warmth.tables:
            raise ValueError("limits, and limits for cold and hot beside them; take one of them out")
        return self

    @property
    def tables(self) -> tuple[Limits, ...]:
        """Every table of limits that a reading may be judged by: the limits, or those for cold and for hot."""
        by_state = tuple(self.warmth.tables.values()) if self.warmth is not None else ()
        return by_state if self.limits is None else (self.limits,)


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
    free: Name | None = None
    """Step whose readings are the free lengths: the tight length is then read, and the stretch is computed."""
    start: Size | None = None
    """Torque at which drawing up to a drag begins."""
    step: Size | None = None
    """How much more torque at each try for a drag."""
    most: Size | None = None
    """Past this the fastener is spent (angle), or the part is (drag: the torque never gone past)."""
    back_first: Number | None = None
    """Turned back this many turns before, one fastener at a time."""
    hold_point: Graded | None = None

    @model_validator(mode="after")
    def _one_way(self) -> "Stage":
        ways = [way for way in STAGE_WAYS if getattr(self, way) is not None]
        if len(ways) != 1:
            raise ValueError(f"a stage has one way, and this has {_listed(ways)}; write one of {', '.join(STAGE_WAYS)}")
        if ways[0] in ("stretch", "drag") and self.unit is None:
            raise ValueError(f"a stage by {ways[0]} without a unit; add it, such as unit: {_SUCH_AS[ways[0]]}")
        if ways[0] == "drag" and (self.start is None or self.most is None):
            raise ValueError("a stage by drag is drawn up; add start and most, torques to begin at and not to pass")
        return self

    @property
    def way(self) -> Way:
        """Which of the six it is."""
        return next(way for way in STAGE_WAYS if getattr(self, way) is not None)


class Adapter(Part):
    """A crowfoot or extension on the wrench: its length from the drive's centre, at an angle to the wrench's lever."""

    what: Text = "adapter"
    length: Size
    lever: Size
    angle: Size = Quantity(value=Decimal(0), unit="deg")


class Leave(Part):
    """Positions that this step leaves for later, and the step that closes them."""

    positions: Annotated[tuple[Text, ...], Field(min_length=1)]
    closed_by: Name
    why: Text | None = None


class Tighten(Part):
    """One group tightened through stages. Several steps may share a group's stages between them, in their order."""

    group: Name
    purpose: Literal["trial", "final"] = "final"
    fasteners: Literal["new", "old", "as fitted"] = "as fitted"
    stages: Annotated[tuple[Stage, ...], Field(min_length=1)]
    positions: tuple[Text, ...] = ()
    """Only these; without it the whole group."""
    order: Order | None = None
    wrench: Name | None = None
    adapter: Adapter | None = None
    drag: Text | None = None
    """Torque that the fasteners drag with before they seat, added to each torque: a size such as 4 N_m, or the step
    that reads it."""
    thread: Text | None = None
    """Condition of thread and bearing face that the figure holds for: dry, oiled, greased …"""
    ask_thread: YesNo = False
    """What is on the threads is asked before the first stage; where it is another condition, that is warned about."""
    one_at_a_time: YesNo = False
    each_read: Name | None = None
    """A measure step after this one, read here place by place: after each fastener, before the next."""
    crushes: Name | None = None
    """The earlier step that fits what a drag stage crushes: passed, a new one is fitted there, and never slackened."""
    leave_for_later: Leave | None = None
    hold_point: Graded | None = None
    """After each stage, unless a stage has its own."""
    also: tuple["Tighten", ...] = ()
    """Further groups or positions that the same step tightens afterwards."""

    @model_validator(mode="after")
    def _condition_known(self) -> "Tighten":
        if self.ask_thread and condition_of(self.thread or "") is None:
            what = "nothing says what the figures are for" if self.thread is None else f"{self.thread} is no condition"
            raise ValueError(f"ask_thread, and {what}; write thread: one of {', '.join(CONDITIONS)}")
        return self


class Slacken(Part):
    """A group slackened, in the reverse of its order."""

    group: Name
    positions: tuple[Text, ...] = ()
    ends_trial: YesNo = False


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
    bench_temperature: Name | None = None
    """A step that reads the temperature at the bench: a warm one brings the warnings forward, never the end."""
    closed_by: Name | None = None
    """The step whose end closes the joint; without it "done" does."""
    before: Names = ()
    """Steps that can't begin before a cure time is full; without it the step itself waits."""
    may_outlast: YesNo = False
    """The build may be closed before the cure is full: it is then owed."""
    each: YesNo = False
    """The time holds for each piece by itself."""

    @model_validator(mode="after")
    def _one_way(self) -> "Wait":
        if (self.open_time is None) == (self.cure_time is None):
            raise ValueError("a wait has one time; write open_time (at most) or cure_time (at least)")
        if self.open_time is not None and self.starts_at is None:
            raise ValueError("nothing starts this open time; add starts_at, the words that do, such as bead on")
        return self


class Look(Part):
    """Look and say: an observation kept in the person's own words, recalled later."""

    say: Text
    places: Places = {}


class Choose(Part):
    """Ask particulars and options here, or let a computed value choose."""

    ask: Names = ()
    name: Name | None = None
    """What is chosen by a computed value: a new name, or the particular that it answers."""
    by: Text | None = None
    """STEP.COMPUTED whose value chooses."""
    bands: dict[Text, Band] = {}
    """Answer and the band that chooses it; the first band that holds the value wins."""

    @model_validator(mode="after")
    def _one_way(self) -> "Choose":
        computed = (self.name is not None, self.by is not None, bool(self.bands))
        if bool(self.ask) == any(computed) or (any(computed) and not all(computed)):
            raise ValueError("this neither asks nor lets a value choose; write ask, or name, by and bands together")
        return self
