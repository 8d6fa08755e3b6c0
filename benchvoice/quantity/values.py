"""A number with its unit, and reading one from document text."""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number, convert, kind_of, to_decimal


class BadQuantity(InputError):
    """Text that is not a number with a unit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A value as it was said or written, with its decimals, and the unit it was said in."""

    value: Decimal
    unit: str

    def __post_init__(self) -> None:
        kind_of(self.unit)

    def __str__(self) -> str:
        return f"{self.value:f}" if self.unit == "1" else f"{self.value:f} {self.unit}"

    def in_unit(self, unit: str) -> Fraction:
        """The value in another unit of the same kind, exactly."""
        return convert(self.value, self.unit, unit)


def quantity(value: Number, unit: str) -> Quantity:
    """A computed value as a quantity: exactly where it terminates within twenty decimals, else rounded there."""
    return Quantity(value=to_decimal(value, 20), unit=unit)


# Strict on purpose: no exponents, no thousands separators, no digits of other scripts, no bare point. Fifteen digits
# on either side are more than any bench needs and few enough to harm nothing.
_QUANTITY = re.compile(
    r"(?P<sign>[+-]?)(?:(?P<decimal>[0-9]{1,15}(?:\.[0-9]{1,15})?)|(?P<over>[0-9]{1,4})/(?P<under>[0-9]{1,4}))"
    r"(?: ?(?P<unit>[A-Za-z][A-Za-z0-9_]{0,15}))?"
)


def parse_quantity(text: str) -> Quantity:
    """A quantity from text such as "25 N_m", "8 min", "90deg", "3/8 in" or "0.1" (a ratio: unit 1).

    Raises BadQuantity naming the text and the remedy, UnknownUnit for a unit that is not on the list.
    """
    found = _QUANTITY.fullmatch(text.strip())
    if found is None:
        raise BadQuantity(f"{text!r} is not a number with a unit: write it like '25 N_m', '1.5 thou' or '0.1'")
    number = _decimal(found)
    if number is None:
        raise BadQuantity(f"{text!r} has no end as a decimal: write it as a decimal, rounded as you mean it")
    return Quantity(value=-number if found["sign"] == "-" else number, unit=found["unit"] or "1")


def _decimal(found: re.Match[str]) -> Decimal | None:
    """The number without its sign; None for a fraction that doesn't terminate or divides by nothing."""
    if found["decimal"] is not None:
        return Decimal(found["decimal"])
    if int(found["under"]) == 0:
        return None
    exact = Fraction(int(found["over"]), int(found["under"]))
    near = to_decimal(exact)
    return near if Fraction(near) == exact else None
