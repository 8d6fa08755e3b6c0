"""What to set on a torque wrench so that the fastener gets the torque that is asked.

Statics: torque at the fastener = setting x (L + E cos a) / L, where L is the wrench's lever (grip centre to square),
E the adapter (square to fastener) and a its angle to the handle's line, 0 straight ahead, 90 square, 180 reversed.
A fastener that drags on its way down (a locking nut, a tight thread) takes its drag torque before it clamps anything:
the drag is added to what is asked.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import cosine
from benchvoice.quantity.rounding import round_to
from benchvoice.quantity.units import UNITS, Number, convert, kind_of
from benchvoice.quantity.values import Quantity

LOWEST_SHARE = Decimal("0.2")
"""A wrench is best used above a fifth of its capacity (common practice, no source)."""


class WrenchError(InputError):
    """The torque that is asked can't be had with this wrench and adapter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrench:
    """A torque wrench: its range and the step of its scale in `unit`, and the greatest deviation its class allows.

    `class_percent` is 4 or 6 for a wrench to ISO 6789 (see `wrench_class`).
    """

    low: Decimal
    high: Decimal
    step: Decimal
    unit: str
    class_percent: Decimal = Decimal(4)

    def __post_init__(self) -> None:
        if kind_of(self.unit) != "torque":
            raise WrenchError(f"a wrench's range can't be in {self.unit}; give a unit of torque")
        if not 0 < self.low < self.high:
            raise WrenchError(f"a wrench from {self.low} to {self.high} can't be; give its least, then its greatest")
        if self.step <= 0 or self.class_percent <= 0:
            raise WrenchError("the step of a wrench's scale and its class are more than nothing; correct the wrench")


_STRAIGHT_AHEAD = Quantity(value=Decimal(0), unit="deg")


@dataclass(frozen=True, slots=True, kw_only=True)
class Adapter:
    """A crowfoot or extension on a wrench: square to fastener, at an angle to the wrench's lever.

    `lever` is from the middle of the grip to the square. The angle is 0 straight ahead, 90 square, 180 reversed.
    """

    length: Quantity
    lever: Quantity
    angle: Quantity = _STRAIGHT_AHEAD

    def __post_init__(self) -> None:
        if kind_of(self.length.unit) != "length" or kind_of(self.lever.unit) != "length":
            raise WrenchError("the adapter and the wrench's lever are lengths; give units of length")
        if kind_of(self.angle.unit) != "angle":
            raise WrenchError(f"the adapter's angle can't be in {self.angle.unit}; give it in degrees")
        if self.length.value < 0:
            raise WrenchError(f"an adapter can't be {self.length} long; give its length, and 180 deg if it is reversed")
        self.ratio()  # refuses a lever of nothing and an adapter that reaches back past the grip

    def ratio(self) -> Fraction:
        """What a torque is multiplied by to get the setting."""
        return lever_ratio(self.lever.in_unit("mm"), self.length.in_unit("mm"), self.angle.in_unit("deg"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What to set, in the wrench's unit: the exact number, the nearest mark, and what that gives above the drag."""

    exact: Fraction
    mark: Decimal
    gives: Fraction
    unit: str


def lever_ratio(lever: Number, adapter: Number, angle: Number = 0) -> Fraction:
    """L / (L + E cos a): what a torque is multiplied by to get the setting. Lever and adapter in one unit."""
    if lever <= 0:
        raise WrenchError("the wrench's lever is more than nothing; measure from the middle of the grip to the square")
    reach = Fraction(lever) + Fraction(adapter) * cosine(angle)
    if reach <= 0:
        raise WrenchError("the adapter reaches back past the grip: no setting gives that torque; turn the adapter")
    return Fraction(lever) / reach


def setting_for(torque: Number, lever: Number, adapter: Number, angle: Number = 0) -> Fraction:
    """The setting that gives `torque` at the fastener through an adapter."""
    return Fraction(torque) * lever_ratio(lever, adapter, angle)


def torque_from(setting: Number, lever: Number, adapter: Number, angle: Number = 0) -> Fraction:
    """The torque that reaches the fastener when the wrench is set to `setting` and an adapter is on."""
    return Fraction(setting) / lever_ratio(lever, adapter, angle)


def number_to_set(
    torque: Quantity, wrench: Wrench, *, adapter: Adapter | None = None, drag: Quantity | None = None
) -> Setting:
    """What to set on `wrench` so that the fastener gets `torque` above its drag; WrenchError where it can't be set."""
    if torque.value <= 0 or (drag is not None and drag.value < 0):
        raise WrenchError("a torque is more than nothing and a drag not less; correct the figure")
    ratio = Fraction(1) if adapter is None else adapter.ratio()
    dragged = Fraction(0) if drag is None else drag.in_unit(wrench.unit)
    exact = (torque.in_unit(wrench.unit) + dragged) * ratio
    mark = round_to(exact, wrench.step)
    fault = range_fault(exact, wrench.unit, wrench) or range_fault(mark, wrench.unit, wrench)
    if fault is not None:
        raise WrenchError(fault)
    return Setting(exact=exact, mark=mark, gives=Fraction(mark) / ratio - dragged, unit=wrench.unit)


def range_fault(torque: Number, unit: str, wrench: Wrench) -> str | None:
    """Why a wrench can't be set to a torque, in one sentence; None when it can."""
    wanted = convert(torque, unit, wrench.unit)
    if Fraction(wrench.low) <= wanted <= Fraction(wrench.high):
        return None
    where = "below" if wanted < wrench.low else "above"
    low, high = _short(wrench.low), _short(wrench.high)
    symbol = UNITS[wrench.unit].symbol
    return f"{_short(wanted)} {symbol} is {where} this wrench's range, {low} to {high}: take another wrench."


def _short(value: Number) -> str:
    """A value for a sentence: to a hundredth, without idle zeros."""
    return f"{round_to(value, Decimal('0.01')).normalize():f}"


def well_inside(torque: Number, capacity: Number, lowest_share: Number = LOWEST_SHARE) -> bool:
    """Whether a torque lies between the lowest share of a wrench's capacity and all of it (one unit for both)."""
    return Fraction(capacity) * Fraction(lowest_share) <= Fraction(torque) <= Fraction(capacity)


STORE_AT = "lowest mark, not below it"
"""Where a click wrench is left after use, so that its spring keeps its set (common practice, no source)."""
