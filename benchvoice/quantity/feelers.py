"""Feeler leaves: stacks that make up a thickness, and what "goes" and "won't go" say about a gap."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import combinations

from benchvoice.errors import InputError
from benchvoice.quantity.functions import sqrt
from benchvoice.quantity.units import to_decimal

# More leaves than this trap oil and spring apart, and the stack measures thick (common practice, no source).
MOST_LEAVES = 4


class BadLeaves(InputError):
    """Leaves that can't be, or a gap whose ends are the wrong way round."""


def stacks(want: Decimal, leaves: Sequence[Decimal], most: int = MOST_LEAVES) -> list[tuple[Decimal, ...]]:
    """Every stack of the fewest leaves that is exactly so thick, each thinnest first; empty when none is.

    Each leaf of the set is there once. All quantities are in the one unit that the set is marked in.
    """
    if want <= 0 or any(leaf <= 0 for leaf in leaves):
        raise BadLeaves("a thickness is above nought: look at the leaf or the gap that was given")
    ordered = sorted(set(leaves))
    for count in range(1, most + 1):
        found = [stack for stack in combinations(ordered, count) if sum(map(Fraction, stack)) == Fraction(want)]
        if found:
            return found
    return []


def nearest_stack(want: Decimal, leaves: Sequence[Decimal], most: int = MOST_LEAVES) -> tuple[Decimal, ...] | None:
    """The stack nearest to a thickness, on a tie the one of fewer leaves, then the thinner; None without leaves."""
    ordered = sorted(set(leaves))
    every = (stack for count in range(1, most + 1) for stack in combinations(ordered, count))

    def rank(stack: tuple[Decimal, ...]) -> tuple[Fraction, int, Fraction]:
        total = sum(map(Fraction, stack), Fraction(0))
        return abs(total - Fraction(want)), len(stack), total

    return min(every, key=rank, default=None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """What two leaves say: the gap is at least `low`, below `high`; the middle, and its standard uncertainty."""

    low: Decimal
    high: Decimal
    middle: Decimal
    u: Decimal


def between(goes: Decimal, wont: Decimal) -> Gap:
    """The gap that takes one leaf and not the next. The reading is the interval, not the leaf that goes alone."""
    if not 0 <= goes < wont:
        raise BadLeaves(f"{goes} goes and {wont} doesn't: the leaf that goes must be the thinner")
    half = (Fraction(wont) - Fraction(goes)) / 2
    return Gap(low=goes, high=wont, middle=to_decimal(Fraction(goes) + half), u=to_decimal(half / sqrt(3), 20))


def leaf_between(gap: Gap, leaves: Sequence[Decimal], most: int = 2) -> tuple[Decimal, ...] | None:
    """The leaf, or the pair, nearest the middle of an undecided gap: the one to try next. None when none is between."""
    candidates = [
        stack
        for count in range(1, most + 1)
        for stack in combinations(sorted(set(leaves)), count)
        if gap.low < to_decimal(sum(map(Fraction, stack), Fraction(0))) < gap.high
    ]
    middle = Fraction(gap.middle)
    return min(
        candidates, key=lambda stack: (len(stack), abs(sum(map(Fraction, stack), Fraction(0)) - middle)), default=None
    )
