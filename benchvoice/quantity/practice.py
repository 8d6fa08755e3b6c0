"""Customs of measuring at a bench: names of sizes, and when a set of readings isn't to be trusted yet.

Common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.reading import places_of
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.vee_block import two_point_factor

_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_MM_PER_NAMED_THOU = Fraction(1, 40)


def same_size_name(mm: Decimal, thou: Decimal) -> bool:
    """Whether half a millimetre over and twenty thou over, and so on, name one oversize: a quarter of a mm to ten thou.

    One name for two sizes: the numbers are not equal, and neither is ever converted into the other.
    """
    return Fraction(mm) == Fraction(thou) * _MM_PER_NAMED_THOU


def size_name_gap(mm: Decimal, thou: Decimal) -> Fraction:
    """How far apart the two sizes are that share a name, in mm."""
    return abs(convert(thou, "thou", "mm") - Fraction(mm))


def two_point_warning(suspected_lobes: Sequence[int]) -> str | None:
    """What to say before a two-point gauge is trusted with a part that may be lobed; None if it sees all of them."""
    unseen = [_COUNT_WORDS.get(lobes, str(lobes)) for lobes in suspected_lobes if two_point_factor(lobes) == 0]
    if not unseen:
        return None
    return f"a two-point reading cannot show {' or '.join(unseen)} lobes; use a V-block or three-point gauge"


_COUNT_WORDS = {3: "three", 5: "five", 7: "seven", 9: "nine"}


def repeat_warning(readings: Sequence[Quantity]) -> str | None:
    """What to say when one of several repeats differs from all others by more than their resolution; None if none does.

    The resolution is the last digit of the coarsest reading.
    """
    unit = readings[0].unit
    values = [reading.in_unit(unit) for reading in readings]
    resolution = Fraction(1, 10 ** min(places_of(reading.value) for reading in readings))
    for number, value in enumerate(values):
        others = values[:number] + values[number + 1 :]
        agreed = others and max(others) - min(others) <= resolution
        if agreed and min(abs(value - other) for other in others) > resolution and len(others) > 1:
            return f"the {_ORDINALS[number]} differs by more than the resolution: clean and measure again"
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """How a round part is read: in so many planes, in so many directions in each, so far apart in degrees."""

    planes: int
    directions: int
    apart: int

    @property
    def least(self) -> int:
        """How many readings that is."""
        return self.planes * self.directions

    def __str__(self) -> str:
        counts = ("no", "one", "two", "three", "four")
        return f"{counts[self.planes]} planes, {counts[self.directions]} directions {self.apart} degrees apart"


JOURNAL = Readings(planes=2, directions=2, apart=90)
"""A journal: shows oval and taper."""
