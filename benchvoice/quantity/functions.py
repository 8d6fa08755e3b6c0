"""Square roots, cube roots, circles and angles, to forty digits and the same on every machine.

Exact fractions in, fractions out: what comes out is rounded (these numbers never end), but far beyond any gauge, and
without binary floating point, so that a verdict that rests on one is the same wherever a log is replayed.
"""

from decimal import Decimal, localcontext
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number

_DIGITS = 45
PI = Fraction("3.14159265358979323846264338327950288419716939937510582097494459")


class NoAnswer(InputError):
    """Figures for which a computation has no answer, such as the root of a negative number."""


def _decimal(value: Number) -> Decimal:
    """A fraction to as many digits as the context keeps."""
    exact = Fraction(value)
    return Decimal(exact.numerator) / Decimal(exact.denominator)


def sqrt(value: Number) -> Fraction:
    """The square root; NoAnswer for a negative number."""
    if value < 0:
        raise NoAnswer(f"{value} is below nought and has no square root: look at the figures given")
    with localcontext() as context:
        context.prec = _DIGITS
        return Fraction(_decimal(value).sqrt())


def cube_root(value: Number) -> Fraction:
    """The cube root of a number that is not negative."""
    if value < 0:
        raise NoAnswer(f"{value} is below nought: look at the figures given")
    with localcontext() as context:
        context.prec = _DIGITS
        return Fraction((_decimal(value).ln() / 3).exp()) if value else Fraction(0)


def power(base: Number, exponent: Number) -> Fraction:
    """A positive base to any exponent."""
    with localcontext() as context:
        context.prec = _DIGITS
        return Fraction((_decimal(base).ln() * _decimal(exponent)).exp())


def sine(degrees: Number) -> Fraction:
    """The sine of an angle in degrees; exact at the quarter turns and at thirty degrees either side of nought."""
    angle = Fraction(degrees) % 360
    if angle >= 180:
        return -sine(angle - 180)
    if angle > 90:
        angle = 180 - angle
    known = {Fraction(0): Fraction(0), Fraction(30): Fraction(1, 2), Fraction(90): Fraction(1)}
    return known[angle] if angle in known else _series(angle * PI / 180)


def cosine(degrees: Number) -> Fraction:
    """The cosine of an angle in degrees."""
    return sine(Fraction(degrees) + 90)


def tangent(degrees: Number) -> Fraction:
    """The tangent of an angle in degrees; NoAnswer at a right angle."""
    under = cosine(degrees)
    if under == 0:
        raise NoAnswer(f"an angle of {degrees} degrees has no tangent: look at the figures given")
    return sine(degrees) / under


def arctangent(ratio: Number) -> Fraction:
    """The angle in degrees, between -90 and 90, whose tangent this is.

    Halved three times first (tan x/2 = t / (1 + sqrt(1 + t^2))), so that the series is short.
    """
    with localcontext() as context:
        context.prec = _DIGITS
        small = _decimal(ratio)
        for _ in range(3):
            small = small / (1 + (1 + small * small).sqrt())
        term = total = small
        odd = 1
        while abs(term) > Decimal(10) ** -_DIGITS:
            term, odd = -term * small * small, odd + 2
            total += term / odd
        return Fraction(total) * 8 * 180 / PI


def _series(radians: Fraction) -> Fraction:
    """sin x = x - x^3/3! + x^5/5! - ..."""
    with localcontext() as context:
        context.prec = _DIGITS
        x = _decimal(radians)
        term = total = x
        odd = 1
        while abs(term) > Decimal(10) ** -_DIGITS:
            odd += 2
            term = -term * x * x / (odd * (odd - 1))
            total += term
        return Fraction(total)
