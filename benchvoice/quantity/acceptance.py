"""Whether a reading and its instrument are good enough to judge by, and acceptance after rounding.

Sources: JCGM 106:2012 (measurement capability index, 7.6.3), ASTM E29 (absolute and rounding methods), and the four to
one and ten to one rules of the trade (common practice, no source).
"""

from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.reading import places_of
from benchvoice.quantity.rounding import round_places
from benchvoice.quantity.units import Number, convert

QUARTER = Fraction(1, 4)
TENTH = Fraction(1, 10)


class NoWidth(InputError):
    """Limits with an open side have no width to compare with."""


def width_over_resolution(resolution: Decimal, unit: str, limits: Limits) -> Fraction:
    """The tolerance in steps of the reading's last digit. NoWidth for one-sided limits."""
    return _width(limits) / _span(resolution, unit, limits.unit)


def too_coarse(resolution: Decimal, unit: str, limits: Limits, share: Number = QUARTER) -> bool:
    """Whether a reading is too coarse to judge by: its step is more than this share of the tolerance."""
    return _span(resolution, unit, limits.unit) > Fraction(share) * _width(limits)


def capability(limits: Limits, u: Decimal, unit: str) -> Fraction:
    """The measurement capability index: tolerance over four standard uncertainties."""
    return _width(limits) / (4 * _span(u, unit, limits.unit))


def rounded_for(reading: Decimal, unit: str, limits: Limits) -> Decimal:
    """A reading in the unit of the limits, rounded (ties to even) to the decimals that the limits are given with."""
    ends = [end for end in (limits.low, limits.high) if end is not None]
    return round_places(convert(reading, unit, limits.unit), max(map(places_of, ends)))


def accepted_after_rounding(reading: Decimal, unit: str, limits: Limits) -> bool:
    """The rounding method: whether the reading, rounded to the places of the limits, is within them."""
    rounded = rounded_for(reading, unit, limits)
    return (limits.low is None or rounded >= limits.low) and (limits.high is None or rounded <= limits.high)


def _width(limits: Limits) -> Fraction:
    if limits.low is None or limits.high is None:
        raise NoWidth("limits with an open side have no width: give both limits")
    return Fraction(limits.high) - Fraction(limits.low)


def _span(value: Decimal, unit: str, to: str) -> Fraction:
    """A difference in another unit: what a value more adds there, so that no temperature offset comes in."""
    if value <= 0:
        raise NoWidth(f"{value} {unit} is not above nought: give a resolution or uncertainty above it")
    return convert(value, unit, to) - convert(0, unit, to)
