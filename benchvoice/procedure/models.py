"""A procedure document: what a writer of procedures can say.

Everything is frozen once loaded. Numbers are Decimal, read from text, so that 0.10 stays 0.10. A step has exactly one
kind (tell, check, mark, measure, tighten, slacken, wait, look, which_way_up, choose) and any of the cross-cutting
parts. Names are lower-case words joined by underscores; what people say (choices, places, answers) is written as it
is spoken.

The parts live in their own modules (`fields`, `shop`, `limits`, `kinds`) and are all to be had from here.
"""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from benchvoice.procedure.brought import BringsIn
from benchvoice.procedure.decision_rules import DecisionRule
from benchvoice.procedure.fields import (
    Band,
    Bound,
    Count,
    Name,
    Names,
    Number,
    Part,
    Places,
    Size,
    Text,
    Texts,
    Unit,
    YesNo,
)
from benchvoice.procedure.kinds import (
    Adapter,
    Check,
    Choose,
    Expected,
    Graded,
    Leave,
    Look,
    Mark,
    Master,
    Match,
    Measure,
    Slacken,
    Stage,
    Tighten,
    Wait,
)
from benchvoice.procedure.limits import Computed, Limits, Shift, WayOut
from benchvoice.procedure.shop import Consumable, Grip, Group, Instrument, Option, Particular, Stock, WhichEnd, Wrench
from benchvoice.procedure.warmth import Even, Warmth

__all__ = [
    "KINDS",
    "SCHEMA",
    "Adapter",
    "Ban",
    "Band",
    "Bound",
    "BringsIn",
    "Check",
    "Choose",
    "Computed",
    "Condition",
    "Consumable",
    "Count",
    "CountParts",
    "DecisionRule",
    "Even",
    "Expected",
    "Graded",
    "Grip",
    "Group",
    "Instrument",
    "Leave",
    "Limits",
    "Look",
    "Mark",
    "Master",
    "Match",
    "Measure",
    "Name",
    "Names",
    "Number",
    "Option",
    "Owed",
    "Part",
    "Particular",
    "Places",
    "Procedure",
    "Shift",
    "Size",
    "Slacken",
    "Stage",
    "Step",
    "Stock",
    "Text",
    "Texts",
    "Tighten",
    "Unit",
    "Wait",
    "Warmth",
    "WayOut",
    "WhichEnd",
    "Wrench",
]

SCHEMA = 1


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
    """Things counted: laid out, put in and taken out again, or put in to stay (plugs in open ports)."""

    laid_out: dict[Text, Count] = {}
    put_in: Annotated[dict[Text, Count], Field(alias="in")] = {}
    taken_out: Annotated[dict[Text, Count], Field(alias="out")] = {}
    left_in: dict[Text, Count] = {}
    anything_left: YesNo = False
    """Whether "Anything left in the tray?" is asked at the end of the step."""


class Owed(Part):
    """Work that is still to be done after hand-over."""

    what: Text
    when: Text | None = None
    steps: Names = ()
    """The steps that do it. They are none of the first build: they come when this work is taken up after closing."""


KINDS = ("tell", "check", "mark", "measure", "tighten", "slacken", "wait", "look", "which_way_up", "choose")
Condition = dict[Name, Texts]
"""Particular or option → the answers for which it holds (yes / no for an option)."""


class Step(Part):
    """One step: its name, its one kind, and whatever goes with it."""

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
    """Steps whose words (look and say), packs (a computed value with a stock) or matched sets are said again here."""
    touches: Texts = ()
    """Parts that this step touches, by name: a way back asks what was touched."""
    buries: Texts = ()
    """What can't be reached any more after this step."""
    trial: Literal["starts", "ends"] | None = None
    silent: YesNo = False
    """A lift or a feel check: said whole before, then nothing until spoken to."""
    witness: YesNo = False
    uses: Names = ()
    """Consumables."""
    owed: tuple[Owed, ...] = ()
    brings_in: BringsIn | None = None
    """Another build that comes in here; asked before the step is read out, and "none" goes on without."""

    @model_validator(mode="after")
    def _one_kind(self) -> "Step":
        kinds = [kind for kind in KINDS if getattr(self, kind) is not None]
        if len(kinds) != 1:
            if kinds:
                raise ValueError(f"one step is {' and '.join(kinds)} at once; make them steps of their own")
            raise ValueError(f"this step has nothing to do; add one of {', '.join(KINDS)}")
        return self

    @property
    def kind(self) -> str:
        """Which of KINDS it is."""
        return next(kind for kind in KINDS if getattr(self, kind) is not None)


def _first_schema(value: Any) -> Any:
    return SCHEMA if value == str(SCHEMA) else value


class Procedure(Part):
    """A whole document."""

    schema_version: Annotated[
        Literal[1], BeforeValidator(_first_schema), Field(alias="schema"), WithJsonSchema({"enum": [SCHEMA]})
    ]
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
    stock: dict[Name, Stock] = {}
    groups: dict[Name, Group] = {}
    words: dict[Text, Texts] = {}
    """Pronunciations of words that the ear may lack (ARPAbet), by word."""
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
