"""One meaning of what was said, and the doubts that come with it."""

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from benchvoice.speech.numbers import Number, Supplied, decimal_places
from benchvoice.speech.units import Meaning


class Doubt(Enum):
    """Why a value is read back before it is stored; each is what a voice says of it."""

    UNIT = "the unit was understood"
    OTHER_UNIT = "not the unit of this step"
    ODD_UNIT = "an odd unit here"
    POINT = "the point was understood"
    HUNDRED = "hundred was understood"
    FIGURES = "figures without a point"
    AFTER_POINT = "figures after the point"
    ARTICLE = "the front may be missing"
    LONE_FRACTION = "of what"
    DIVISIONS = "said in divisions"
    TEN_THOUSANDTHS = "ten thousandths sounds like a ten thousandth"
    NEGATIVE = "below nothing"
    FROM = "counted from another place"
    CORRECTED = "corrected"
    REPEATED = "said twice"
    SOUND = "sounds like another number"
    FRONT = "the front figures were not said"
    SPARE = "another meaning is outside the limits"


_SUPPLIED = {
    Supplied.HUNDRED: Doubt.HUNDRED,
    Supplied.TENS_AFTER_POINT: Doubt.AFTER_POINT,
    Supplied.ARTICLE: Doubt.ARTICLE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense:
    """One meaning: ``value`` of ``unit`` in steps of ``step``; ``heard`` when a unit word was said.

    ``grain`` is the step that further figures could refine: that of "fifteen hundred" is one, where its ``step`` is a
    hundred. ``scaled`` tells that the size itself was understood (thou for a bare number, a point for bare figures);
    such a sense with ``by_limits`` counts only when the step's limits ask for it, and a ``rival`` is never passed
    over when it is of the size that the limits speak of. ``unit`` is None when nothing says what was measured.
    """

    value: Fraction
    places: int
    step: Fraction
    grain: Fraction
    unit: str | None
    heard: str | None = None
    doubts: frozenset[Doubt] = frozenset()
    groups: tuple[str, ...] = ()
    scaled: bool = False
    by_limits: bool = False
    rival: bool = False

    def doubting(self, *doubts: Doubt) -> "Sense":
        return replace(self, doubts=self.doubts | set(doubts))

    @property
    def figures(self) -> str | None:
        """The figures as they were said, noughts in front and behind kept; None when a number was said whole."""
        return "".join(self.groups) or None

    @property
    def decimal(self) -> Decimal:
        return as_decimal(self.value, self.places)


def as_decimal(value: Fraction, places: int) -> Decimal:
    """A fraction with at least so many decimals; exact whenever it ends at all."""
    needed = max(places, decimal_places(value))
    scaled = value * 10**needed
    return Decimal(round(scaled)).scaleb(-needed)


def plain(number: Number, unit: str | None) -> Sense:
    return Sense(
        value=number.value,
        places=number.places,
        step=number.step,
        grain=min(number.step, Fraction(1)),
        unit=unit,
        doubts=frozenset(_SUPPLIED[supplied] for supplied in number.supplied),
        groups=number.groups,
    )


def times(sense: Sense, meaning: Meaning, heard: str | None) -> Sense:
    """A sense counted in the given meaning of a unit word."""
    factor = meaning.factor
    return replace(
        sense,
        value=sense.value * factor,
        step=sense.step * factor,
        grain=sense.grain * factor,
        places=sense.places + decimal_places(factor) if factor <= 1 else decimal_places(sense.value * factor),
        unit=meaning.unit,
        heard=heard,
        doubts=sense.doubts | ({Doubt.ODD_UNIT} if meaning.odd else set()),
    )
