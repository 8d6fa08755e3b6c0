"""Rounding, done once and by a named rule, from the exact value.

Rules: *A* rounds a tie to the even multiple, *B* to the greater (ISO 80000-1:2009 Annex B). Converted values keep the
digits that the original had (NIST SP 811 B.7). Limits that may not be violated are rounded inwards (method B of
IEEE/ASTM SI 10), so that a converted pair never allows more than the original did.
"""

from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number, convert
from benchvoice.quantity.values import Quantity


class BadRounding(InputError):
    """A rounding range that is not above nought."""


class Tie(StrEnum):
    """Which way a value half way between two multiples goes."""

    EVEN = "A"
    GREATER = "B"


def round_to(value: Number, step: Decimal, tie: Tie = Tie.EVEN) -> Decimal:
    """The nearest multiple of `step`, with the decimals of the step."""
    if step <= 0:
        raise BadRounding(f"a rounding range of {step} is not above nought")
    count = Fraction(value) / Fraction(step)
    whole = round(count) if tie is Tie.EVEN else floor(count + Fraction(1, 2))
    return _multiple(whole, step)


def round_inwards(low: Number, high: Number, step: Decimal) -> tuple[Decimal, Decimal]:
    """A pair of limits on the grid of `step`, the lower rounded up and the upper down."""
    if step <= 0:
        raise BadRounding(f"a rounding range of {step} is not above nought")
    up, down = ceil(Fraction(low) / Fraction(step)), floor(Fraction(high) / Fraction(step))
    return _multiple(up, step), _multiple(down, step)


def round_places(value: Number, places: int, tie: Tie = Tie.EVEN) -> Decimal:
    """Rounded to so many decimals (fewer than none: tens, hundreds)."""
    return round_to(value, Decimal((0, (1,), -places)), tie)


def round_digits(value: Number, digits: int) -> Decimal:
    """Rounded to so many significant digits, ties to even. Nought stays nought."""
    return Decimal(0) if value == 0 else round_places(value, digits - 1 - magnitude(value))


def magnitude(value: Number) -> int:
    """The power of ten of the first significant digit: 2 for 365, -3 for 0.0045."""
    exact = abs(Fraction(value))
    if exact == 0:
        raise BadRounding("nought has no first significant digit")
    power = len(str(exact.numerator)) - len(str(exact.denominator))
    return power if exact >= Fraction(10) ** power else power - 1


def round_converted(value: Quantity, to: str, digits: int) -> tuple[Quantity, int]:
    """A reading with so many significant digits in another unit, with the digits it deserves there, and their number.

    As many as the original when the first digit of the converted value is at least that of the original; one more when
    it is less (SP 811 B.7.2: 36 ft is 11.0 m).
    """
    converted = convert(value.value, value.unit, to)
    if converted == 0 or value.value == 0:
        return Quantity(value=round_places(converted, digits - 1), unit=to), digits
    kept = digits if _first_digit(converted) >= _first_digit(value.value) else digits + 1
    return Quantity(value=round_digits(converted, kept), unit=to), kept


def _first_digit(value: Number) -> int:
    return floor(abs(Fraction(value)) / Fraction(10) ** magnitude(value))


def mapped_resolution(resolution: Quantity, to: str) -> Decimal:
    """The display resolution in another unit: the largest power of ten not coarser than the converted one."""
    exact = convert(resolution.value, resolution.unit, to) - convert(0, resolution.unit, to)
    return Decimal((0, (1,), magnitude(exact)))


def agree(first: Quantity, first_place: Decimal, second: Quantity, second_place: Decimal) -> bool:
    """Whether two printed values of one limit can be the same: converting either and rounding gives the other."""
    there = round_to(convert(first.value, first.unit, second.unit), second_place)
    back = round_to(convert(second.value, second.unit, first.unit), first_place)
    return there == second.value or back == first.value


def _multiple(count: int, step: Decimal) -> Decimal:
    """So many steps, exactly, with the decimals of the step (a Decimal product would be rounded to 28 digits)."""
    exponent = step.as_tuple().exponent
    places = max(0, -exponent) if isinstance(exponent, int) else 0
    digits = str(abs(int(count * Fraction(step) * 10**places)))
    return Decimal((int(count < 0), tuple(map(int, digits)), -places))
