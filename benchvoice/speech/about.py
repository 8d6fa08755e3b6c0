"""Amounts that are said roughly: how much a reading may be off. What is stored stays as exact as it was."""

from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.rounding import round_digits
from benchvoice.speech.say import say_quantity

_SHARES: tuple[tuple[Fraction, str], ...] = (
    (Fraction(1, 10), "a tenth"),
    (Fraction(1, 5), "two tenths"),
    (Fraction(1, 4), "a quarter"),
    (Fraction(1, 3), "a third"),
    (Fraction(1, 2), "half"),
    (Fraction(2, 3), "two thirds"),
    (Fraction(3, 4), "three quarters"),
)
_NEAR = Fraction(1, 10)
"""A share is said where the amount is within a tenth of itself of it: a doubt needs no second figure."""


def say_about(amount: Decimal, unit: str) -> str:
    """An amount above nought in a few words: "a third of a thou", "six microns", "half a degree celsius".

    Inches are said in thou, hundredths of a millimetre in microns; else one figure, or two where it begins with 1.
    """
    if unit == "in":
        return say_about(amount * 1000, "thou")
    if unit == "mm" and amount < Decimal("0.1"):
        return say_about(amount * 1000, "um")
    size, share = min(_SHARES, key=lambda each: abs(Fraction(amount) - each[0]))
    if abs(Fraction(amount) - size) <= _NEAR * size and unit in ("thou", "tenth"):
        return f"half a {unit}" if share == "half" else f"{share} of a {unit}"
    figures = 2 if amount.as_tuple().digits[0] == 1 else 1
    return say_quantity(round_digits(amount, figures).normalize(), unit)
