"""What an indicator over a vee block, or a two-point gauge, shows of a part that isn't round.

A part with n equal lobes of amplitude A is out of round by 2A. Two points see an odd number of lobes not at all: that
is why "it measures the same all round" doesn't mean round. Source: geometry (the three-point method; ISO 4292 sense).
"""

from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import cosine, sine
from benchvoice.quantity.units import Number
from benchvoice.quantity.values import Quantity, quantity


class BadVee(InputError):
    """A vee or a number of lobes that can't be."""


def vee_factor(lobes: int, included_angle: Number) -> Fraction:
    """Indicator range over out-of-round, for an indicator on the bisector of a vee of this angle in degrees.

    |1 + cos(n (90 + a/2)) / sin(a/2)|: nought means that this vee is blind to that number of lobes.
    """
    half = _half(included_angle)
    return abs(1 + cosine(_lobes(lobes) * (90 + half)) / sine(half))


def two_point_factor(lobes: int) -> int:
    """Range of two-point readings over out-of-round: 2 for an even number of lobes, 0 for an odd one."""
    return 0 if _lobes(lobes) % 2 else 2


def reading_change(diameter_change: Quantity, included_angle: Number) -> Quantity:
    """How far the indicator moves when the diameter changes: half the change times 1 + 1/sin(a/2)."""
    moved = Fraction(diameter_change.value) / 2 * (1 + 1 / sine(_half(included_angle)))
    return quantity(moved, diameter_change.unit)


def _half(angle: Number) -> Fraction:
    if not 0 < angle < 180:
        raise BadVee(f"a vee of {angle} degrees can't be: give an angle between 0 and 180")
    return Fraction(angle) / 2


def _lobes(lobes: int) -> int:
    if lobes < 2:
        raise BadVee(f"{lobes} lobes is not a form of out-of-round: one is off centre, two is oval")
    return lobes
