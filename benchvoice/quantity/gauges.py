"""From what an instrument shows to the size: dials, bore gauges, micrometers, verniers, setting rings, drift.

Instrument practice. Everything is exact, in the unit of the first figure.
"""

from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.values import Quantity, quantity


class BadGauge(InputError):
    """Figures that the instrument can't show."""


class Sense(StrEnum):
    """Which way a bore gauge's dial counts: many count backwards, so it is asked, never assumed."""

    LARGER = "plus is larger"
    SMALLER = "plus is smaller"


def dial(turns: int, hand: Quantity, per_turn: Quantity, zero: Quantity) -> Quantity:
    """A dial with a revolution counter, less what it showed at its zero."""
    at_hand = Fraction(hand.value)
    if abs(at_hand) >= per_turn.in_unit(hand.unit):
        raise BadGauge(f"a hand at {hand} is past its own turn of {per_turn}: read the dial again")
    return quantity(turns * per_turn.in_unit(hand.unit) + at_hand - zero.in_unit(hand.unit), hand.unit)


def drift(before: Quantity, after: Quantity) -> Quantity:
    """How far the zero moved between two checks."""
    return quantity(after.in_unit(before.unit) - Fraction(before.value), before.unit)


def must_repeat(before: Quantity, after: Quantity, allowed: Quantity) -> bool:
    """Whether the zero drifted by more than is allowed, so that what was read between must be read again."""
    return abs(Fraction(drift(before, after).value)) > allowed.in_unit(before.unit)


def bore_size(setting: Quantity, shown: Quantity, sense: Sense) -> Quantity:
    """The size that a bore gauge found, from the master it was set to and what it shows."""
    sign = 1 if sense is Sense.LARGER else -1
    return quantity(Fraction(setting.value) + sign * shown.in_unit(setting.unit), setting.unit)


def micrometer(sleeve: Quantity, thimble: Quantity, vernier: Quantity | None = None) -> Quantity:
    """Sleeve and thimble, and the vernier where there is one."""
    fine = Fraction(0) if vernier is None else vernier.in_unit(sleeve.unit)
    return quantity(Fraction(sleeve.value) + thimble.in_unit(sleeve.unit) + fine, sleeve.unit)


def vernier_caliper(main: Quantity, line: int, resolution: Quantity) -> Quantity:
    """The main scale and the line of the vernier that meets one above it."""
    if line < 0:
        raise BadGauge(f"line {line} is not on a vernier: read it again")
    return quantity(Fraction(main.value) + line * resolution.in_unit(main.unit), main.unit)


def corrected(reading: Quantity, certified: Quantity, zeroed_to: Quantity) -> Quantity:
    """A reading put right for a master that isn't the size it was zeroed as."""
    return quantity(
        Fraction(reading.value) + certified.in_unit(reading.unit) - zeroed_to.in_unit(reading.unit), reading.unit
    )


def estimated(divisions: Decimal, per_division: Quantity) -> Quantity:
    """So many divisions of a dial: "three and a half lines" on a dial of a hundredth each."""
    return quantity(Fraction(divisions) * Fraction(per_division.value), per_division.unit)
