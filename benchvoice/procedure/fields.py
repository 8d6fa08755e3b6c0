"""The small values that a document is made of: names, texts, numbers, sizes, units, bands.

A document's scalars all arrive as text, so every type here reads text; the decimals that were written are kept. The
JSON Schema beside each type is for editors, whose YAML gives numbers where ours gives text.
"""

from collections.abc import Mapping
from decimal import Decimal
from difflib import get_close_matches
from typing import Annotated

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    StringConstraints,
    Tag,
    WithJsonSchema,
)

from benchvoice.errors import BenchvoiceError
from benchvoice.quantity.units import UNITS, kind_of
from benchvoice.quantity.values import Quantity, parse_quantity

LONGEST_TEXT = 2000
MOST_DIGITS = 30


class Part(BaseModel):
    """Base of every part of a document: frozen, and a misspelt field is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, populate_by_name=True)


def _plain_number(value: object) -> object:
    if isinstance(value, float | bool):
        raise ValueError("write the number as text so that its decimals are kept")
    if isinstance(value, str):
        text = value.strip().removeprefix("+")
        digits = text.removeprefix("-")
        if len(digits) > MOST_DIGITS or not _is_plain(digits):
            raise ValueError(f"{shorten(value)!r} is not a plain decimal number; write figures such as 1.50")
        return text
    return value


def _is_plain(digits: str) -> bool:
    whole, point, decimals = digits.partition(".")
    return digits.isascii() and whole.isdigit() and (decimals.isdigit() if point else True)


def _a_whole_number(value: object) -> object:
    if isinstance(value, str):
        if not (value.isascii() and value.isdigit() and len(value) <= MOST_DIGITS):
            raise ValueError(f"{shorten(value)!r} is not a whole number; write figures such as 8")
        return int(value)
    return value


def _yes_or_no(value: object) -> object:
    if isinstance(value, str):
        if value not in _YES_NO:
            raise ValueError(f"{shorten(value)!r} is not yes or no; write yes or no")
        return _YES_NO[value]
    return value


_YES_NO: Mapping[str, bool] = {"yes": True, "no": False, "true": True, "false": False}


def _a_quantity(value: object) -> object:
    if isinstance(value, Quantity):
        return value
    if not isinstance(value, str):
        raise ValueError("this is not a number with a unit; write it like '25 N_m'")
    try:
        return parse_quantity(value)
    except BenchvoiceError as fault:
        raise ValueError(str(fault)) from None


def _a_unit(value: str) -> str:
    try:
        kind_of(value)
    except BenchvoiceError as fault:
        raise ValueError(_by_name(value) or str(fault)) from None
    return value


def _by_name(value: str) -> str | None:
    """A unit written out in words, such as millimetre, is named by its spelling here."""
    names = {info.name: unit for unit, info in UNITS.items()}
    near = get_close_matches(value.lower().replace("meter", "metre").removesuffix("s"), names, n=1, cutoff=0.8)
    return f"{shorten(value)!r} is not a unit; did you mean {names[near[0]]}?" if near else None


def one_or_many(value: object) -> object:
    """A single value stands for a list of one."""
    return value if isinstance(value, list | tuple | None) else [value]


def _form(value: object) -> str:
    """Which of the forms of a field a value has; keeps the faults of the other forms out of the report."""
    if isinstance(value, Mapping):
        return "table"
    return "list" if isinstance(value, list | tuple) else "one"


def shorten(text: str, most: int = 40) -> str:
    """A text short enough for a sentence."""
    return text if len(text) <= most else text[: most - 1] + "…"


NAME = r"^[a-z][a-z0-9_]*$"
_DATE = r"^\d{4}-\d{2}-\d{2}$"
_ANY_TEXT = {"type": ["string", "number"]}
_SIZE = r"^[+-]?\d+(\.\d+|/\d+)?( ?[A-Za-z][A-Za-z0-9_]*)?$"

Name = Annotated[str, StringConstraints(pattern=NAME, max_length=60)]
"""Identifier of a step, group, particular, instrument …"""
Text = Annotated[
    str,
    StringConstraints(min_length=1, max_length=LONGEST_TEXT, strip_whitespace=True),
    WithJsonSchema(_ANY_TEXT),
]
Date = Annotated[str, StringConstraints(pattern=_DATE)]
Number = Annotated[Decimal, BeforeValidator(_plain_number)]
Size = Annotated[Quantity, BeforeValidator(_a_quantity), WithJsonSchema({"type": "string", "pattern": _SIZE})]
"""A number with its unit, as text: 25 N_m, 8 min."""
Unit = Annotated[str, AfterValidator(_a_unit)]
YesNo = Annotated[bool, BeforeValidator(_yes_or_no), WithJsonSchema({"enum": [True, False, "yes", "no"]})]
Bound = Number | None
Band = tuple[Bound, Bound]
"""Least and most; null leaves an end open."""
Names = Annotated[
    tuple[Name, ...],
    BeforeValidator(one_or_many),
    WithJsonSchema({"anyOf": [{"type": "string", "pattern": NAME}, {"type": "array", "items": {"type": "string"}}]}),
]
Texts = Annotated[
    tuple[Text, ...],
    BeforeValidator(one_or_many),
    WithJsonSchema({"anyOf": [_ANY_TEXT, {"type": "array", "items": _ANY_TEXT}]}),
]
Whole = Annotated[int, BeforeValidator(_a_whole_number)]
Count = Annotated[Whole, Field(ge=0, le=10_000)]
Places = dict[Name, Annotated[tuple[Text, ...], Field(min_length=1)]]
"""Named axes and their values as spoken; a place is one value of each axis."""

OneOrTable = Annotated[Annotated[Text, Tag("one")] | Annotated[dict[Text, Text], Tag("table")], Discriminator(_form)]
"""A text, or one for each value of an axis."""
NameOrTable = Annotated[Annotated[Name, Tag("one")] | Annotated[dict[Text, Name], Tag("table")], Discriminator(_form)]
SizeOrTable = Annotated[Annotated[Size, Tag("one")] | Annotated[dict[Text, Size], Tag("table")], Discriminator(_form)]
OneOrList = Annotated[
    Annotated[Text, Tag("one")] | Annotated[tuple[Text, ...], Tag("list")],
    Discriminator(_form),
]
Order = OneOrList
"""A named order, or the positions in their order."""
