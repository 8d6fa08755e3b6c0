"""Balancing rotors: unbalance, what a grade permits, and where to take weight off.

Permissible unbalance by ISO 21940-11:2016 (formula recalled from memory): e_per = G / omega.
"""

from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, sine
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity, quantity


class BadBalance(InputError):
    """Figures that no correction follows from."""


def permissible_offset(grade: Quantity, speed: Quantity) -> Quantity:
    """How far, in um, the centre of mass may be off the axis at a grade (a velocity) and a speed."""
    turns = speed.in_unit("rpm")
    if turns <= 0:
        raise BadBalance(f"a speed of {speed} asks for no balance: give one above nought")
    omega = turns * 2 * PI / 60
    return quantity(grade.in_unit("mm_s") / omega * 1000, "um")


def permissible_unbalance(grade: Quantity, speed: Quantity, mass: Quantity) -> Quantity:
    """The unbalance in gram millimetres that a rotor of this mass may have."""
    offset = permissible_offset(grade, speed)
    return quantity(offset.in_unit("mm") * mass.in_unit("g"), "g_mm")


def unbalance(mass: Quantity, radius: Quantity) -> Quantity:
    """Mass times radius."""
    return quantity(mass.in_unit("g") * radius.in_unit("mm"), "g_mm")


def correction(amount: Quantity, radius: Quantity) -> Quantity:
    """The mass in grams to take off (or put on opposite) at a radius."""
    at = radius.in_unit("mm")
    if at <= 0:
        raise BadBalance(f"nothing can be corrected at a radius of {radius}: give one above nought")
    return quantity(amount.in_unit("g_mm") / at, "g")


def split(mass: Quantity, at: Quantity, holes: tuple[Quantity, Quantity]) -> tuple[Quantity, Quantity]:
    """A correction at an angle, shared between two holes at other angles and the same radius.

    A negative share means the other side: weight put on where it would be taken off.
    """
    wanted, first, second = (angle.in_unit("deg") for angle in (at, *holes))
    between = sine(second - first)
    if between == 0:
        raise BadBalance("the two holes lie in one line with the axis: choose two that don't")
    whole = Fraction(mass.value)
    shares = whole * sine(second - wanted) / between, whole * sine(wanted - first) / between
    return quantity(shares[0], mass.unit), quantity(shares[1], mass.unit)


def drilling_depth(mass: Quantity, drill: Quantity, density: Quantity) -> Quantity:
    """How deep to drill, at full diameter, to take off a mass; the drill's point comes extra."""
    across = drill.in_unit("cm")
    if across <= 0 or density.value <= 0:
        raise BadBalance("drill and density are above nought: look at the two figures")
    deep = mass.in_unit("g") / density.in_unit("g_cc") / (PI / 4 * across * across)
    return quantity(convert(deep, "cm", drill.unit), drill.unit)
