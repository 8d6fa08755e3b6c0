"""One shim for a play, a preload or a lash: what is needed, which of the stock to take, and what it then comes to.

Play shrinks by what the shim grows. Arithmetic of the trade. All thicknesses of one call are in one unit, that the
caller keeps track of.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.packs import BadStock
from benchvoice.quantity.rounding import round_to
from benchvoice.quantity.units import Number, to_decimal
from benchvoice.quantity.values import Quantity, quantity


class OpenLimits(InputError):
    """Limits with an open side have no middle to aim at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The shim that would give the middle, the ones in stock nearest to it (two on a tie), and the play of each."""

    needed: Decimal
    shims: tuple[Decimal, ...]
    plays: tuple[Decimal, ...]
    in_limits: bool


def choose_shim(fitted: Decimal, play: Decimal, limits: Limits, stock: Sequence[Decimal]) -> Choice:
    """Which shim of a stock brings a measured play nearest to the middle of its limits, with the one fitted now.

    Two shims equally near are both given: either is right, and the person chooses. `in_limits` says whether what is
    chosen reaches the limits at all.
    """
    if not stock:
        raise BadStock("there is no shim in stock to choose from: count the tray again")
    needed = Fraction(fitted) + Fraction(play) - _middle(limits)
    nearest = min(abs(Fraction(shim) - needed) for shim in stock)
    shims = tuple(shim for shim in sorted(set(stock)) if abs(Fraction(shim) - needed) == nearest)
    plays = tuple(to_decimal(Fraction(fitted) + Fraction(play) - Fraction(shim)) for shim in shims)
    return Choice(
        needed=to_decimal(needed),
        shims=shims,
        plays=plays,
        in_limits=any(_within(result, limits) for result in plays),
    )


def preload_shim(gap: Quantity, preload: Quantity) -> Quantity:
    """A shim thicker than the gap by the preload."""
    return quantity(Fraction(gap.value) + preload.in_unit(gap.unit), gap.unit)


def clearance_shim(depth: Quantity, width: Quantity, clearance: Quantity) -> Quantity:
    """A shim that leaves a clearance in a depth over a part of a width."""
    return quantity(Fraction(depth.value) - width.in_unit(depth.unit) - clearance.in_unit(depth.unit), depth.unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lash:
    """The shim a valve needs for the middle, the nearest of the stock's steps, and the lash that it gives."""

    needed: Decimal
    shim: Decimal
    lash: Decimal
    in_limits: bool
    change_needed: bool


def lash_shim(old: Decimal, measured: Decimal, limits: Limits, step: Decimal) -> Lash:
    """The lash shim to take: new = old + measured - wanted, to the nearest step of the stock.

    On a tie the thinner, because more clearance is the safer (common practice, no source). A lash that is in limits
    needs no change: leave it.
    """
    needed = Fraction(old) + Fraction(measured) - _middle(limits)
    if needed <= 0:
        raise BadStock(f"no shim is thin enough for a lash of {measured} with {old} fitted: look at the figures")
    shim = _nearest_thinner(needed, step)
    lash = to_decimal(Fraction(old) + Fraction(measured) - Fraction(shim))
    return Lash(
        needed=to_decimal(needed),
        shim=shim,
        lash=lash,
        in_limits=_within(lash, limits),
        change_needed=not _within(measured, limits),
    )


def screw_turn(change: Quantity, rocker_ratio: Number, pitch: Quantity) -> Quantity:
    """How many turns of the adjusting screw, on the push rod side, change the lash at the valve by so much."""
    if rocker_ratio <= 0 or pitch.value <= 0:
        raise BadStock("rocker ratio and pitch are above nought: look at the two figures")
    return quantity(Fraction(change.value) / Fraction(rocker_ratio) / pitch.in_unit(change.unit), "turn")


def cold_lash(hot: Quantity, growth_closes: Quantity) -> Quantity:
    """The lash to set cold when growth, which the maker gives and nobody guesses, closes it by so much when hot."""
    return quantity(Fraction(hot.value) + growth_closes.in_unit(hot.unit), hot.unit)


def _nearest_thinner(needed: Fraction, step: Decimal) -> Decimal:
    below = round_to(needed, step)
    thinner = to_decimal(Fraction(below) - Fraction(step))
    return thinner if abs(Fraction(thinner) - needed) == abs(Fraction(below) - needed) else below


def _middle(limits: Limits) -> Fraction:
    if limits.nominal is not None:
        return Fraction(limits.nominal)
    if limits.low is None or limits.high is None:
        raise OpenLimits("limits with an open side have no middle to aim at: give both limits or a nominal")
    return (Fraction(limits.low) + Fraction(limits.high)) / 2


def _within(value: Decimal, limits: Limits) -> bool:
    return (limits.low is None or value >= limits.low) and (limits.high is None or value <= limits.high)
