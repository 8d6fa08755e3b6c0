"""The normal distribution, and the probability that a measured thing conforms (JCGM 106:2012, clause 7).

Computed in Decimal, not in binary floating point, so that a verdict that rests on a probability is the same on every
machine that replays it. What comes out is advice to about twenty digits, never a stored reading.
"""

from decimal import Decimal, localcontext

_DIGITS = 40
_PI = Decimal("3.14159265358979323846264338327950288419716939937510582097494459")


def normal_cdf(z: Decimal) -> Decimal:
    """The probability that a standard normal variable is at most `z`.

    Phi(z) = 1/2 + phi(z) (z + z^3/3 + z^5/(3*5) + ...). Beyond 12 standard deviations it is 0 or 1 to 30 digits.
    """
    if abs(z) > 12:
        return Decimal(int(z > 0))
    with localcontext() as context:
        context.prec = _DIGITS
        term = total = +z
        odd = 1
        while abs(term) > Decimal(10) ** -_DIGITS:
            odd += 2
            term = term * z * z / odd
            total += term
        return Decimal("0.5") + total * (-z * z / 2).exp() / (2 * _PI).sqrt()


def below(limit: Decimal, reading: Decimal, u: Decimal) -> Decimal:
    """The probability that the true value is below `limit`, for a reading with standard uncertainty `u` above 0."""
    with localcontext() as context:
        context.prec = _DIGITS
        return normal_cdf((limit - reading) / u)


def conformance(reading: Decimal, u: Decimal, low: Decimal | None, high: Decimal | None) -> Decimal:
    """The probability that the true value is within `low` and `high` (None: open), all in the unit of the reading."""
    under_high = Decimal(1) if high is None else below(high, reading, u)
    under_low = Decimal(0) if low is None else below(low, reading, u)
    return under_high - under_low
