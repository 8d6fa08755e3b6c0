"""Cylinders and pumps, pulls and mixes: the bench's small sums with pressure, force and parts by weight."""

from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI
from benchvoice.quantity.units import Number, convert
from benchvoice.quantity.values import Quantity, quantity


class BadFigures(InputError):
    """Figures that no machine or mix has."""


def push(pressure: Quantity, bore: Quantity, unit: str = "kN") -> Quantity:
    """The force of a cylinder going out: pressure on the whole bore."""
    return _force(pressure, _square(bore), unit)


def pull(pressure: Quantity, bore: Quantity, rod: Quantity, unit: str = "kN") -> Quantity:
    """The force of a cylinder coming in: pressure on the bore less the rod."""
    if rod.in_unit(bore.unit) >= bore.value:
        raise BadFigures(f"a rod of {rod} doesn't fit a bore of {bore}: look at the two figures")
    return _force(pressure, _square(bore) - _square(rod), unit)


def flow(displacement: Quantity, speed: Quantity, efficiency: Number) -> Quantity:
    """What a pump delivers, in litres a minute, with its volumetric efficiency as a share of one."""
    litres_a_turn = displacement.in_unit("cc_rev") / 1000
    return quantity(litres_a_turn * speed.in_unit("rpm") * Fraction(efficiency), "L_min")


def turning_torque(pull_read: Quantity, radius: Quantity) -> Quantity:
    """The torque of a spring balance and cord at a radius: bearing preload. Inches and pounds give inch-pounds."""
    unit = "in_lb" if pull_read.unit == "lbf" and radius.unit in {"in", "ft"} else "N_m"
    newton_metres = pull_read.in_unit("N") * radius.in_unit("m")
    return quantity(convert(newton_metres, "N_m", unit), unit)


def mix(total: Quantity, parts: tuple[Number, Number]) -> tuple[Quantity, Quantity]:
    """The two weights of a two-part mix that together make a total, by the proportion on its label."""
    first, second = Fraction(parts[0]), Fraction(parts[1])
    if first <= 0 or second <= 0:
        raise BadFigures(f"a mix of {parts[0]} to {parts[1]} can't be: both parts are above nought")
    one = Fraction(total.value) * first / (first + second)
    return quantity(one, total.unit), quantity(Fraction(total.value) - one, total.unit)


def _square(diameter: Quantity) -> Fraction:
    across = diameter.in_unit("m")
    return PI / 4 * across * across


def _force(pressure: Quantity, area: Fraction, unit: str) -> Quantity:
    pascals = convert(pressure.value, pressure.unit, "kPa") * 1000
    return quantity(convert(pascals * area, "N", unit), unit)
