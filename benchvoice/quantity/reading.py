"""Arithmetic that keeps the decimals that were said: 1.50 is not 1.5, because its last digit was read too.

A sum or difference is no finer than the coarser of its terms; a mean earns one digit more than its readings
(GUM 7.2.6 in sense; NIST SP 811 B.7). For judging, use the exact values instead: these are for saying and showing.
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.rounding import round_places


def resolution_of(reading: Decimal) -> Decimal:
    """What one step of the last digit is worth: 0.01 for 1.50, 1 for 14."""
    return Decimal((0, (1,), -places_of(reading)))


def places_of(reading: Decimal) -> int:
    """How many decimals a reading was given with."""
    exponent = reading.as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def add(*readings: Decimal) -> Decimal:
    """The sum, to the decimals of the coarsest."""
    return round_places(sum(map(Fraction, readings), Fraction(0)), min(map(places_of, readings)))


def subtract(reading: Decimal, less: Decimal) -> Decimal:
    """The difference, to the decimals of the coarser."""
    return round_places(Fraction(reading) - Fraction(less), min(places_of(reading), places_of(less)))


def mean_of(readings: Sequence[Decimal]) -> Decimal:
    """The mean, with one decimal more than the coarsest reading."""
    total = sum(map(Fraction, readings), Fraction(0))
    return round_places(total / len(readings), min(map(places_of, readings)) + 1)


def range_of(readings: Sequence[Decimal]) -> Decimal:
    """Greatest less least."""
    return subtract(max(readings), min(readings))


def compared(one: Decimal, other: Decimal) -> str:
    """How two readings compare, in value and in resolution."""
    value = "equal" if one == other else "different"
    resolution = "equal" if resolution_of(one) == resolution_of(other) else "different"
    return (
        "equal in value and resolution"
        if (value, resolution) == ("equal", "equal")
        else (f"{value} in value, {resolution} in resolution")
    )
