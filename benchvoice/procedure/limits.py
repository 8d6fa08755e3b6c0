"""Limits of readings, values computed from readings, and where a failure leads."""

from typing import Annotated, Any

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.decision_rules import DecisionRule, with_rule_of_limits
from benchvoice.procedure.fields import (
    Band,
    Name,
    NameOrTable,
    Names,
    Number,
    OneOrList,
    Part,
    Text,
    Texts,
    Unit,
    Whole,
)
from benchvoice.quantity.iso286 import limits_of_size
from benchvoice.quantity.values import parse_quantity

OTHER = "other"
"""Stands for the answers or values that a table doesn't name."""
NEW, WORN = "new", "worn"

_BAND_SCHEMA = {
    "type": "array",
    "items": {"type": ["number", "string", "null"]},
    "minItems": 2,
    "maxItems": 2,
}
_NEW_AND_WORN_SCHEMA = {
    "type": "object",
    "properties": {NEW: _BAND_SCHEMA, WORN: _BAND_SCHEMA},
    "required": [NEW, WORN],
    "additionalProperties": False,
}


class Limits(Part):
    """Limits of a reading: plain, new and worn, or by the answer to a particular or the value of an axis.

    In a document: [least, most]; or {new: [..], worn: [..]}; or {fit: 30 k6}, a size in mm and the zone of a hole (in
    capitals) or a shaft by ISO 286; or {by: NAME, ANSWER: [..], …} where NAME is a
    particular, an option or an axis of the places, each ANSWER may itself be {new: [..], worn: [..]}, and `other`
    stands for the answers not named. New limits judge; a reading outside them and inside the worn ones is said so.
    `nominal` is the nominal value; `rule` the decision rule, which may as well stand beside the limits.
    """

    by: Name | None = None
    bands: dict[Text, Band]
    """Without `by`: "new" and perhaps "worn". With it: one for each answer."""
    worn: dict[Text, Band] = {}
    """With `by`: the worn limits of those answers that have them."""
    nominal: Number | None = None
    fit: Text | None = None
    """The size and zone that the limits were taken from, such as 30 k6; they are millimetres."""

    @model_validator(mode="before")
    @classmethod
    def _short_forms(cls, value: Any) -> Any:
        if isinstance(value, list | tuple):
            return {"bands": {NEW: value}}
        if not isinstance(value, dict) or "bands" in value:
            return value
        if "fit" in value:
            return _by_fit(value)
        known = {key: value[key] for key in ("by", "nominal") if key in value}
        table = {key: band for key, band in value.items() if key not in known}
        if "by" not in known:
            return {**known, "bands": table}
        both = {key: band for key, band in table.items() if isinstance(band, dict) and set(band) == {NEW, WORN}}
        plain = {key: band[NEW] if key in both else band for key, band in table.items()}
        return {**known, "bands": plain, "worn": {key: band[WORN] for key, band in both.items()}}

    @model_validator(mode="after")
    def _right_way_round(self) -> "Limits":
        if not self.bands:
            raise ValueError("no limits are given; write [least, most]")
        for key, (low, high) in (*self.bands.items(), *self.worn.items()):
            if low is None and high is None:
                raise ValueError(f"limits for {key} are open at both ends; give least or most")
            if low is not None and high is not None and low > high:
                raise ValueError(f"limits for {key} are the wrong way round: {low} is more than {high}; swap them")
        strange = ", ".join(key for key in self.bands if key not in (NEW, WORN))
        if self.by is None and strange:
            raise ValueError(f"nothing chooses the limits for {strange}; add by, the particular or axis that does")
        if self.by is None and NEW not in self.bands:
            raise ValueError("worn limits without new ones; add new")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        table: dict[str, Any] = {name: {"type": "string"} for name in ("by", "fit")}
        table["nominal"] = {"type": ["number", "string"]}
        table["rule"] = {"type": ["string", "object"], "description": "The decision rule, here or beside the limits."}
        bands = {"anyOf": [_BAND_SCHEMA, _NEW_AND_WORN_SCHEMA]}
        return {
            "description": " ".join((cls.__doc__ or "").split()),
            "anyOf": [_BAND_SCHEMA, {"type": "object", "properties": table, "additionalProperties": bands}],
        }


def _by_fit(value: dict[Any, Any]) -> dict[str, Any]:
    """The limits of size that a zone gives a size in mm."""
    name = str(value["fit"])
    size, _, zone = name.replace("mm", " ").strip().rpartition(" ")
    try:
        nominal = parse_quantity(size.strip())
        limits = limits_of_size(nominal.value, zone)
    except BenchvoiceError as fault:
        raise ValueError(f"{name!r} is no size with a zone ({fault}); write it like 30 k6") from None
    return {"bands": {NEW: (limits.low, limits.high)}, "nominal": limits.nominal, "fit": name}


class Computed(Part):
    """A value computed from readings: a declared kind with named inputs.

    `of` names each input: a step, STEP.COMPUTED, either with @VALUE for the places that have this value (bores@top), a
    size such as 67.5 mm, or a list of those; without it the step's own readings are the input. `per` names the axes
    that stay: one value for each of their places, over all others.
    """

    _rule_of_limits = model_validator(mode="before")(with_rule_of_limits)

    kind: Name
    of: dict[Name, OneOrList] = {}
    per: Names = ()
    unit: Unit | None = None
    limits: Limits | None = None
    rule: DecisionRule | None = None
    """How doubt in the value is treated; it comes from the doubt in each reading. Without it, simple acceptance."""
    factor: Number | None = None
    material: Text | None = None
    """What the part is made of, where heat comes in: steel, cast iron, aluminium …"""
    stock: Name | None = None
    """The stock that a pack of this size is made from."""
    within: Number | None = None
    """How far the pack may be from the size."""
    packs: Annotated[Texts, Field(max_length=2)] = ()
    """What the pack is called; two names share the size between two packs. Without it the computed value's name."""
    first: Number | None = None
    """Of two packs, how thick the first is to be, as near as the stock makes it."""
    pieces: Annotated[Whole, Field(ge=1, le=12)] = 6
    """The most pieces in a pack."""
    say: Text | None = None


class Shift(Part):
    """Shim moved from one of two packs to the other, their sum kept, so that what the sum makes is kept too.

    The mean of the values that are out is brought to the middle of `aim`, in the unit of the step.
    """

    packs: Annotated[Texts, Field(min_length=2, max_length=2)]
    change: Number
    """How much the value falls for each unit that is taken from the first pack and put to the second."""
    aim: tuple[Number, Number]
    again: Names = ()
    """Further steps whose readings are spoilt by the move."""


class WayOut(Part):
    """Where a failure leads: what is said to do, and back to a step, or by the cause that is asked."""

    say: Text | None = None
    ask: Text | None = None
    back_to: NameOrTable | None = None
    pack: Name | None = None
    """A computed value of this step with a stock: its pack is chosen on the way out, and only then."""
    shift: Shift | None = None
    """Shim to move from side to side on the way out."""

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        return {"back_to": value} if isinstance(value, str) else value

    @model_validator(mode="after")
    def _asked(self) -> "WayOut":
        if isinstance(self.back_to, dict) and self.ask is None:
            raise ValueError("back_to by cause without a question; add ask, whose answers these are")
        if all(way is None for way in (self.say, self.back_to, self.pack, self.shift)):
            raise ValueError("this leads nowhere; write back_to or say")
        return self

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        whole = handler.resolve_ref_schema(handler(core))
        return {"anyOf": [{"type": "string"}, whole]}
