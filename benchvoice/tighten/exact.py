"""The few irrational numbers that tightening needs, as fractions good to forty digits: no float on the way.

Whatever is exact stays exact: cosine of 0, 60, 90, 120 and 180 degrees, the root of a perfect square.
"""

from fractions import Fraction
from math import isqrt

from benchvoice.quantity.units import Number

PI = Fraction("3.14159265358979323846264338327950288419716939937510")
_DIGITS = 40
_SCALE = 10**_DIGITS
_EXACT_COSINES = {0: Fraction(1), 60: Fraction(1, 2), 90: Fraction(0)}


def root(value: Fraction) -> Fraction:
    """Square root of a number that is not negative: exact where it is rational, else to forty places."""
    above, below = isqrt(value.numerator), isqrt(value.denominator)
    if above * above == value.numerator and below * below == value.denominator:
        return Fraction(above, below)
    return Fraction(isqrt(value.numerator * _SCALE * _SCALE // value.denominator), _SCALE)


def cosine(degrees: Number) -> Fraction:
    """Cosine of an angle in degrees."""
    angle = Fraction(degrees) % 360
    if angle > 180:
        angle = 360 - angle
    if angle > 90:
        return -cosine(180 - angle)
    if angle in _EXACT_COSINES:
        return _EXACT_COSINES[int(angle)]
    square = (angle * PI / 180) ** 2
    term = total = Fraction(1)
    step = 0
    # The series alternates with falling terms below 90 degrees, so the first term left out bounds the error.
    while abs(term) * _SCALE > 1:
        step += 2
        term = Fraction(round(-term * square / (step * (step - 1)) * _SCALE * 100), _SCALE * 100)
        total += term
    return total


def nearest(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to a value; half way, the even multiple (ISO 80000-1, rule A)."""
    return round(value / step) * step
