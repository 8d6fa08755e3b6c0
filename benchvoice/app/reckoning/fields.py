"""How the text of an input is read: quantities of a kind, numbers, lists of them, trays of shims, names."""

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any

from benchvoice.app.reckoning.model import BadReckoning, Field
from benchvoice.quantity.units import kind_of, units_of
from benchvoice.quantity.values import Quantity, parse_quantity


def measure(meaning: str, kind: str, example: str, default: str | None = None) -> Field:
    """A quantity of one kind, such as a length."""

    def read(text: str) -> Quantity:
        value = _of_kind(parse_quantity(text), kind)
        if kind == "temperature" and value.in_unit("degC") < _COLDEST:
            raise BadReckoning("nothing is as cold as that: give a temperature above -273.15 degC")
        return value

    return Field(meaning=meaning, read=read, example=example, default=default)


_COLDEST = Decimal("-273.15")


def size(meaning: str, kind: str, example: str, default: str | None = None) -> Field:
    """A quantity above nought: a length that is there, a torque that is put on."""
    return _checked(measure(meaning, kind, example, default), _above_nought)


def amount(meaning: str, kind: str, example: str, default: str | None = None) -> Field:
    """A quantity that is nought or more."""
    return _checked(measure(meaning, kind, example, default), _not_below_nought)


def proportion(meaning: str, example: str, default: str | None = None) -> Field:
    """A plain number above nought."""
    return _checked(number(meaning, example, default), _above_nought)


def _checked(field: Field, check: Callable[[Decimal], None]) -> Field:
    def read(text: str) -> Any:
        value = field.read(text)
        check(value.value if isinstance(value, Quantity) else value)
        return value

    return replace(field, read=read)


def _above_nought(value: Decimal) -> None:
    if value <= 0:
        raise BadReckoning("it is not above nought: give it above nought")


def _not_below_nought(value: Decimal) -> None:
    if value < 0:
        raise BadReckoning("it is below nought: give nought or more")


def anything(meaning: str, example: str, default: str | None = None) -> Field:
    """A quantity of any kind."""
    return Field(meaning=meaning, read=parse_quantity, example=example, default=default)


def several(meaning: str, example: str, kind: str | None = None) -> Field:
    """Quantities with commas between; a unit on the last goes for those without one."""

    def read(text: str) -> tuple[Quantity, ...]:
        return tuple(one if kind is None else _of_kind(one, kind) for one in _list(text))

    return Field(meaning=meaning, read=read, example=example)


def number(meaning: str, example: str, default: str | None = None) -> Field:
    """A plain number, or a fraction such as 1/4."""
    return Field(meaning=meaning, read=lambda text: parse_quantity_of_one(text).value, example=example, default=default)


def share(meaning: str, example: str, default: str | None = None) -> Field:
    """A number or a proportion such as 1/3, exactly."""

    def read(text: str) -> Fraction:
        if re.fullmatch(r"[0-9]{1,6}/[1-9][0-9]{0,5}", text):
            return Fraction(text)
        return Fraction(parse_quantity_of_one(text).value)

    return Field(meaning=meaning, read=read, example=example, default=default)


def whole(meaning: str, example: str, default: str | None = None, least: int = 0) -> Field:
    """A whole number, not below the least."""

    def read(text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,6}", text):
            raise BadReckoning("it is not a whole number: write digits alone")
        if int(text) < least:
            raise BadReckoning(f"it is below {least}: give {least} or more")
        return int(text)

    return Field(meaning=meaning, read=read, example=example, default=default)


_LONGEST_NAME = 60


def name(meaning: str, example: str, default: str | None = None) -> Field:
    """A name, as it is."""

    def read(text: str) -> str:
        if len(text) > _LONGEST_NAME:
            raise BadReckoning("it is longer than any name: write it short")
        return text.strip()

    return Field(meaning=meaning, read=read, example=example, default=default)


def names(meaning: str, example: str) -> Field:
    """Names with commas between."""
    return Field(meaning=meaning, read=lambda text: [one.strip() for one in text.split(",")], example=example)


def one_of(meaning: str, kinds: type[StrEnum], example: str, default: str | None = None) -> Field:
    """One of a few names."""

    def read(text: str) -> StrEnum:
        try:
            return kinds(text)
        except ValueError:
            raise BadReckoning(f"it is none of {', '.join(kinds)}: give one of them") from None

    return Field(meaning=meaning, read=read, example=example, default=default)


def maybe(field: Field, *, typical: bool = False) -> Field:
    """A field that may be left out, and then is None."""

    def read(text: str) -> Any:
        return None if text == "" else field.read(text)

    return Field(meaning=field.meaning, read=read, example=field.example, default="", typical=typical)


def tray(meaning: str, example: str) -> Field:
    """A stock of thicknesses with their numbers: 1.00x2,0.50x3,0.15mm. A number left out is one."""
    return Field(meaning=meaning, read=_tray, example=example)


def pairs(meaning: str, example: str) -> Field:
    """Pairs of whole numbers: 18:32,20:30."""
    return Field(meaning=meaning, read=_pairs, example=example)


def parse_quantity_of_one(text: str) -> Quantity:
    """A quantity that has no unit."""
    return _of_kind(parse_quantity(text), "ratio")


def _of_kind(value: Quantity, kind: str) -> Quantity:
    found = kind_of(value.unit)
    if found != kind:
        wanted = "no unit" if kind == "ratio" else f"a unit of {kind}, such as {units_of(kind)[0]}"
        given = f"{value.unit} is a {found}" if value.unit != "1" else "it has no unit"
        raise BadReckoning(f"{given}: give {wanted}")
    return value


def _list(text: str) -> Sequence[Quantity]:
    found = [parse_quantity(part) for part in text.split(",")]
    unit = found[-1].unit
    return [Quantity(value=one.value, unit=unit) if one.unit == "1" else one for one in found]


_PIECE = re.compile(r"(?P<size>[0-9]+(?:\.[0-9]+)?)(?:x(?P<count>[0-9]{1,2}))?")


def _tray(text: str) -> tuple[dict[Decimal, int], str]:
    body, unit = text, ""
    # The unit is what follows the last digit; the x before a number of pieces is not a unit.
    if found := re.fullmatch(r"(.*[0-9]) ?([A-Za-z]+)", text):
        body, unit = found[1], found[2]
    if unit == "" or kind_of(unit) != "length":
        raise BadReckoning("a tray needs a unit of length: give it at the end, such as 0.50x3,0.10mm")
    stock: dict[Decimal, int] = {}
    for part in body.split(","):
        piece = _PIECE.fullmatch(part.strip())
        if piece is None:
            raise BadReckoning(f"{part.strip()!r} is not a thickness and a number: write it like 0.50x3")
        size = Decimal(piece["size"])
        stock[size] = stock.get(size, 0) + int(piece["count"] or 1)
    return stock, unit


def _pairs(text: str) -> list[tuple[int, int]]:
    found = []
    for part in text.split(","):
        both = re.fullmatch(r"\s*([0-9]{1,4}):([0-9]{1,4})\s*", part)
        if both is None:
            raise BadReckoning(f"{part!r} is not a pair: write it like 18:32")
        found.append((int(both[1]), int(both[2])))
    return found
