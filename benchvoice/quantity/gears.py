"""Gears on the bench: backlash where it is read and where it counts, ratios, and teeth that meet again."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import gcd, prod

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, sine, tangent
from benchvoice.quantity.units import Number
from benchvoice.quantity.values import Quantity, quantity


class BadGears(InputError):
    """Teeth or radii that no gear has."""


def at_radius(reading: Quantity, taken_at: Quantity, wanted_at: Quantity) -> Quantity:
    """Backlash read at one radius, as it is at another (the pitch radius)."""
    return quantity(
        Fraction(reading.value) * wanted_at.in_unit(taken_at.unit) / Fraction(_above(taken_at)), reading.unit
    )


def play_angle(reading: Quantity, taken_at: Quantity) -> Quantity:
    """The free angle that a backlash reading at a radius comes to, in degrees."""
    return quantity(reading.in_unit(taken_at.unit) / Fraction(_above(taken_at)) * 180 / PI, "deg")


def change_by_centres(apart: Quantity, pressure_angle: Number) -> Quantity:
    """How much backlash grows when spur centres move apart: twice the move times the tangent of the pressure angle."""
    return quantity(2 * Fraction(apart.value) * tangent(pressure_angle), apart.unit)


def change_by_shims(moved: Quantity, pressure_angle: Number, cone_angle: Number) -> Quantity:
    """How much the backlash of a bevel wheel changes when shim is moved from one side of it to the other.

    The wheel moves along its axis by what was moved, and only the part square to its cone opens the teeth.
    """
    return quantity(2 * Fraction(moved.value) * tangent(pressure_angle) * sine(cone_angle), moved.unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """Backlash round a gear: judge the tightest place."""

    least: Quantity
    greatest: Quantity
    variation: Quantity


def round_the_gear(readings: Sequence[Quantity]) -> Round:
    """Least, greatest and their difference, in the unit of the first reading."""
    unit = readings[0].unit
    ordered = sorted(readings, key=lambda reading: reading.in_unit(unit))
    least, greatest = ordered[0], ordered[-1]
    return Round(least=least, greatest=greatest, variation=quantity(greatest.in_unit(unit) - least.in_unit(unit), unit))


def ratio(stages: Sequence[tuple[int, int]]) -> Fraction:
    """Turns of the first driver for one turn of the last driven, over stages of (driver, driven) teeth."""
    if not stages or any(driver < 1 or driven < 1 for driver, driven in stages):
        raise BadGears("every gear needs at least one tooth: give driver and driven teeth of each stage")
    return prod((Fraction(driven, driver) for driver, driven in stages), start=Fraction(1))


def turns_to_meet_again(driver: int, driven: int) -> int:
    """How many turns of the driver until the same two teeth meet: keep marks in step, or mesh again, by this."""
    ratio([(driver, driven)])
    return driven // gcd(driver, driven)


def hunting(driver: int, driven: int) -> bool:
    """Whether every tooth meets every other before any pair meets again (no common factor)."""
    return gcd(driver, driven) == 1


def _above(radius: Quantity) -> Decimal:
    if radius.value <= 0:
        raise BadGears(f"a radius of {radius} is not above nought")
    return radius.value
