"""An engine's cylinder: volumes, compression ratio, ring gap, piston speed and position.

Definitions and kinematics; the factors of ring gap per bore are a rule of the trade (common practice, no source), and
the maker's figure wins.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, cosine, sine, sqrt
from benchvoice.quantity.units import Number, convert
from benchvoice.quantity.values import Quantity, quantity


class BadCylinder(InputError):
    """Sizes that no engine has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Volumes:
    """The volumes of one cylinder in cc, its compression ratio, and what the engine displaces."""

    swept: Quantity
    gasket: Quantity
    deck: Quantity
    clearance: Quantity
    ratio: Quantity
    displacement: Quantity


def disc(diameter: Quantity, height: Quantity) -> Fraction:
    """The volume of a disc in cc; a negative height gives a negative volume."""
    across, tall = diameter.in_unit("cm"), height.in_unit("cm")
    return PI / 4 * across * across * tall


def volumes(
    *,
    bore: Quantity,
    stroke: Quantity,
    chamber: Quantity,
    gasket_bore: Quantity,
    gasket_thickness: Quantity,
    below_deck: Quantity,
    dish: Quantity,
    cylinders: int,
) -> Volumes:
    """All volumes from the sizes. The piston above the deck is a negative `below_deck`; a dome is a negative `dish`."""
    swept, gasket, deck = disc(bore, stroke), disc(gasket_bore, gasket_thickness), disc(bore, below_deck)
    clearance = chamber.in_unit("cc") + gasket + deck + dish.in_unit("cc")
    if clearance <= 0 or swept <= 0:
        raise BadCylinder("these sizes leave no room over the piston or no stroke: look at the signs of deck and dish")
    return Volumes(
        swept=quantity(swept, "cc"),
        gasket=quantity(gasket, "cc"),
        deck=quantity(deck, "cc"),
        clearance=quantity(clearance, "cc"),
        ratio=quantity((swept + clearance) / clearance, "1"),
        displacement=quantity(swept * cylinders, "cc"),
    )


def clearance_for(swept: Quantity, ratio: Number) -> Quantity:
    """The volume over the piston that gives a compression ratio."""
    if ratio <= 1:
        raise BadCylinder(f"a compression ratio of {ratio} can't be: give one above 1")
    return quantity(Fraction(swept.value) / (Fraction(ratio) - 1), swept.unit)


def ring_gap(bore: Quantity, factor: Number) -> Quantity:
    """The gap for a bore, by a factor per unit of bore."""
    return quantity(Fraction(bore.value) * Fraction(factor), bore.unit)


def ring_gap_growth(bore_wear: Quantity) -> Quantity:
    """How much the gap of the same ring opens when the bore wears: pi times the wear."""
    return quantity(PI * Fraction(bore_wear.value), bore_wear.unit)


def mean_piston_speed(stroke: Quantity, speed: Quantity, unit: str = "m_s") -> Quantity:
    """Two strokes a revolution."""
    metres_a_second = 2 * stroke.in_unit("m") * speed.in_unit("rpm") / 60
    return quantity(convert(metres_a_second, "m_s", unit), unit)


def piston_drop(stroke: Quantity, rod: Quantity, crank_angle: Number) -> Quantity:
    """How far the piston is below top dead centre, the pin on the bore's axis.

    r (1 - cos a) + l - sqrt(l^2 - r^2 sin^2 a), r half the stroke and l the rod between centres.
    """
    radius, length = Fraction(stroke.value) / 2, rod.in_unit(stroke.unit)
    if length <= radius:
        raise BadCylinder(f"a rod of {rod} can't swing over a stroke of {stroke}: look at the two figures")
    swing = sqrt(length**2 - (radius * sine(crank_angle)) ** 2)
    return quantity(radius * (1 - cosine(crank_angle)) + length - swing, stroke.unit)


def rim_distance(diameter: Quantity, angle: Quantity) -> Quantity:
    """The length along a rim that an angle comes to."""
    return quantity(PI * Fraction(diameter.value) * angle.in_unit("turn"), diameter.unit)


def top_dead_centre(stop_before: Quantity, stop_after: Quantity) -> Quantity:
    """Where top dead centre is between two touches of a piston stop, readings before it negative: midway."""
    middle = (Fraction(stop_before.value) + stop_after.in_unit(stop_before.unit)) / 2
    return quantity(middle, stop_before.unit)


def weakest_over_best(pressures: tuple[Quantity, ...]) -> Fraction:
    """The lowest compression reading over the highest."""
    values = [pressure.in_unit(pressures[0].unit) for pressure in pressures]
    if not values or min(values) < 0 or max(values) == 0:
        raise BadCylinder("compression readings are above nought: give the readings of all cylinders")
    return min(values) / max(values)


# The least that is called even: common practice, no source.
WEAKEST_OVER_BEST = Decimal("0.75")


def leakage(supply: Quantity, cylinder: Quantity) -> Quantity:
    """What share of the supply pressure a cylinder loses, in per cent."""
    if supply.value <= 0:
        raise BadCylinder(f"a supply of {supply} tests nothing: give a pressure above nought")
    return quantity((1 - cylinder.in_unit(supply.unit) / Fraction(supply.value)) * 100, "percent")
