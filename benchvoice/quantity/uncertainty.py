"""Uncertainty of a reading: from its instrument, from repeats, combined, expanded and reported (GUM, JCGM 100:2008).

Values are plain Decimals in one unit that the caller keeps track of. Square roots never end: results are rounded at
twenty decimals, as advice to judge by, and are not stored as readings.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext
from enum import StrEnum
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, arctangent, sqrt
from benchvoice.quantity.probability import normal_cdf
from benchvoice.quantity.rounding import magnitude, round_places
from benchvoice.quantity.units import to_decimal

_PLACES = 20


class BadUncertainty(InputError):
    """Figures from which no uncertainty follows."""


class Source(StrEnum):
    """What a stated figure of doubt is, which says how it becomes a standard uncertainty."""

    RESOLUTION = "resolution"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"
    ARCSINE = "arcsine"
    CERTIFICATE = "certificate"


_DIVISOR_SQUARED = {Source.RESOLUTION: 12, Source.RECTANGULAR: 3, Source.TRIANGULAR: 6, Source.ARCSINE: 2}


def standard(source: Source, value: Decimal, k: Decimal = Decimal(2)) -> Decimal:
    """The standard uncertainty of one source (GUM 4.3.7, 4.3.9, F.2.2.1).

    `value` is a step of resolution, the half-width of a distribution, or an expanded uncertainty with its `k`.
    """
    if value < 0 or k <= 0:
        raise BadUncertainty(f"an uncertainty of {value} with k = {k} can't be: give figures above nought")
    divisor = Fraction(k) if source is Source.CERTIFICATE else sqrt(_DIVISOR_SQUARED[source])
    return to_decimal(Fraction(value) / divisor, _PLACES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One source in a sum: its standard uncertainty, how much of it counts, and its degrees of freedom (None: many)."""

    u: Decimal
    times: Decimal = Decimal(1)
    freedom: int | None = None


def combined(parts: Sequence[Part]) -> Decimal:
    """The combined standard uncertainty of independent sources: the root of the sum of squares (GUM 5.1.2)."""
    return to_decimal(sqrt(sum((_contribution(part) ** 2 for part in parts), Fraction(0))), _PLACES)


def effective_freedom(parts: Sequence[Part]) -> Fraction | None:
    """Welch-Satterthwaite degrees of freedom of a sum (GUM G.4.1); None when none of its parts is limited."""
    total = sum((_contribution(part) ** 2 for part in parts), Fraction(0)) ** 2
    limited = sum((_contribution(part) ** 4 / part.freedom for part in parts if part.freedom is not None), Fraction(0))
    return total / limited if limited else None


def _contribution(part: Part) -> Fraction:
    return Fraction(part.times) * Fraction(part.u)


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeats:
    """What repeat readings say: their mean, their standard deviation, and the standard uncertainty of the mean."""

    mean: Decimal
    deviation: Decimal
    u_mean: Decimal
    freedom: int


def of_repeats(readings: Sequence[Decimal]) -> Repeats:
    """Mean and uncertainty of two or more repeats (GUM 4.2.1 to 4.2.3)."""
    count = len(readings)
    if count < 2:
        raise BadUncertainty(f"{count} reading has no spread: measure at least twice")
    mean = sum(map(Fraction, readings), Fraction(0)) / count
    variance = sum(((Fraction(reading) - mean) ** 2 for reading in readings), Fraction(0)) / (count - 1)
    return Repeats(
        mean=to_decimal(mean, _PLACES),
        deviation=to_decimal(sqrt(variance), _PLACES),
        u_mean=to_decimal(sqrt(variance / count), _PLACES),
        freedom=count - 1,
    )


def reported(value: Decimal, expanded: Decimal) -> tuple[Decimal, Decimal]:
    """A value and its expanded uncertainty as they are shown: the uncertainty to two significant digits.

    The value to the same place (GUM 7.2.6). Rounding to two digits takes off a twentieth at most, which EA-4/02 allows.
    """
    if expanded <= 0:
        raise BadUncertainty(f"an expanded uncertainty of {expanded} can't be reported: give one above nought")
    places = 1 - magnitude(expanded)
    return round_places(value, places), round_places(expanded, places)


def coverage_factor(p: Decimal, freedom: int | None) -> Decimal:
    """The k that covers a share `p` of Student's t with so many degrees of freedom (None: normal). GUM table G.2.

    Effective degrees of freedom that aren't whole are to be cut to the whole number below (GUM G.4.1, the safe side).
    """
    if not 0 < p < 1 or (freedom is not None and freedom < 1):
        raise BadUncertainty(f"no coverage factor for p = {p} with {freedom} degrees of freedom")
    low, high = Decimal(0), Decimal(1)
    while _covered(high, freedom) < p:
        low, high = high, high * 2
        if high > 1_000_000:
            raise BadUncertainty(f"no coverage factor for p = {p} with {freedom} degrees of freedom")
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if _covered(middle, freedom) < p else (low, middle)
    return round_places(high, 15)


def _covered(t: Decimal, freedom: int | None) -> Decimal:
    """The probability that a variable lies within plus or minus t (Abramowitz and Stegun 26.7.3 and 26.7.4)."""
    if freedom is None or freedom > 2000:
        return 2 * normal_cdf(t) - 1
    with localcontext() as context:
        context.prec = 30
        root = (t * t + freedom).sqrt()
        sine, cosine = t / root, Decimal(freedom).sqrt() / root
        odd = freedom % 2
        term = cosine if odd else Decimal(1)
        total = Decimal(0)
        for step in range(3 if odd else 2, freedom + 1, 2):
            total += term
            term = term * cosine * cosine * (step - 1) / step
        if not odd:
            return sine * total
        half_turn = Decimal(PI.numerator) / Decimal(PI.denominator)
        angle = arctangent(Fraction(sine) / Fraction(cosine)) * PI / 180
        theta = Decimal(angle.numerator) / Decimal(angle.denominator)
        return 2 * (theta + sine * total) / half_turn
