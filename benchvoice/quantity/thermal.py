"""Sizes and temperature: every size on a drawing holds at 20 degrees Celsius (ISO 1:2016).

Coefficients of expansion are handbook middles with about a tenth of doubt either way; a figure of the maker's wins.
"""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from benchvoice.errors import InputError
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity, quantity

REFERENCE = Quantity(value=Decimal(20), unit="degC")

# Per kelvin. Handbook ranges: steel 11 to 12.5, grey iron 10 to 11, aluminium alloys 22 to 24, bronze 17 to 19.
EXPANSION: Mapping[str, Decimal] = MappingProxyType(
    {
        "steel": Decimal("0.0000115"),
        "stainless steel": Decimal("0.000016"),
        "cast iron": Decimal("0.0000105"),
        "aluminium": Decimal("0.000023"),
        "bronze": Decimal("0.000018"),
        "brass": Decimal("0.000019"),
        "copper": Decimal("0.000017"),
        "titanium": Decimal("0.0000086"),
        "magnesium": Decimal("0.000026"),
    }
)


class UnknownMaterial(InputError):
    """A material whose expansion isn't in the table."""


class BadHeat(InputError):
    """Temperatures, sizes or coefficients that no part has."""


def expansion_of(material: str) -> Decimal:
    """The coefficient of a named material, per kelvin."""
    material = material.replace("aluminum", "aluminium")
    if material not in EXPANSION:
        raise UnknownMaterial(
            f"{material!r} has no expansion here: give a figure per kelvin, or {', '.join(EXPANSION)}"
        )
    return EXPANSION[material]


def growth(length: Quantity, alpha: Decimal, cold: Quantity, warm: Quantity) -> Quantity:
    """How much a length grows from one temperature to another (negative: it shrinks)."""
    return quantity(_stretched(length, alpha, _celsius(warm) - _celsius(cold)), length.unit)


def at_reference(reading: Quantity, alpha: Decimal, temperature: Quantity) -> Quantity:
    """The size at 20 degrees of a part read at another temperature, by a gauge that is true."""
    grown = 1 + Fraction(alpha) * (_celsius(temperature) - 20)
    if grown <= 0:
        raise BadHeat(f"nothing is left of a part at {temperature} with {alpha} per kelvin: look at the two figures")
    return quantity(Fraction(reading.value) / grown, reading.unit)


def reading_error(length: Quantity, part: tuple[Decimal, Quantity], gauge: tuple[Decimal, Quantity]) -> Quantity:
    """By how much a reading is more than the size at 20 degrees; part and gauge each as (alpha, temperature)."""
    own = _stretched(length, part[0], _celsius(part[1]) - 20)
    return quantity(own - _stretched(length, gauge[0], _celsius(gauge[1]) - 20), length.unit)


def clearance_at(
    bore: Quantity, bore_alpha: Decimal, shaft: Quantity, shaft_alpha: Decimal, temperature: Quantity
) -> Quantity:
    """The clearance of two parts, sizes given at 20 degrees, when both are at another temperature."""
    above = _celsius(temperature) - 20
    hole = Fraction(bore.value) + _stretched(bore, bore_alpha, above)
    pin = Fraction(shaft.value) + _stretched(shaft, shaft_alpha, above)
    return quantity(hole - convert(pin, shaft.unit, bore.unit), bore.unit)


def heat_to(
    interference: Quantity, room_to_work: Quantity, diameter: Quantity, alpha: Decimal, room: Quantity
) -> Quantity:
    """How warm an outer part must be (degC) for its bore to clear the shaft by so much: a shrink fit."""
    if alpha <= 0 or diameter.value <= 0:
        raise BadHeat(f"a diameter of {diameter} with {alpha} per kelvin never grows: give both above nought")
    wanted = interference.in_unit(diameter.unit) + room_to_work.in_unit(diameter.unit)
    return quantity(_celsius(room) + wanted / (Fraction(alpha) * Fraction(diameter.value)), "degC")


def _stretched(length: Quantity, alpha: Decimal, kelvins: Fraction) -> Fraction:
    return Fraction(length.value) * Fraction(alpha) * kelvins


def _celsius(temperature: Quantity) -> Fraction:
    return convert(temperature.value, temperature.unit, "degC")
