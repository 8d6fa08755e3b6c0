"""Limits of a characteristic: least, greatest, nominal, in one unit."""

from dataclasses import dataclass
from decimal import Decimal

from benchvoice.errors import DocumentError
from benchvoice.quantity.units import kind_of


class BadLimits(DocumentError):
    """Limits that nothing could satisfy, or that limit nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """The least and the greatest value allowed, both of them allowed; None is an open side.

    `nominal` is what is aimed at, where that is not the middle. Raises BadLimits when both sides are open or the least
    is above the greatest, UnknownUnit for a unit that is not on the list.
    """

    low: Decimal | None
    high: Decimal | None
    unit: str
    nominal: Decimal | None = None

    def __post_init__(self) -> None:
        kind_of(self.unit)
        if self.low is None and self.high is None:
            raise BadLimits("limits with neither a least nor a greatest value limit nothing: give at least one of them")
        if self.low is not None and self.high is not None and self.low > self.high:
            ends = f"the least limit {self.low} {self.unit} is above the greatest, {self.high} {self.unit}"
            raise BadLimits(f"{ends}: swap them")

    @property
    def width(self) -> Decimal | None:
        """Greatest minus least: the tolerance. None when a side is open."""
        return None if self.low is None or self.high is None else self.high - self.low
