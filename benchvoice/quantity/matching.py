"""Matched sets: which goes with which, so that pairs are alike, totals even or clearances equal.

Exact, and complete for the sizes a bench sees: every best answer is found (as many as are asked for), so that a person
can be told when there is a choice. Values are Decimals in one unit; answers count from nought.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, islice

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number, to_decimal

# The most parts that are matched: the number of ways grows as the factorial, and no bench has more of a kind.
MOST_PARTS = 12


class BadSet(InputError):
    """Parts that can't be matched: too few, too many, or two groups of different number."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """Parts of one group in pairs: the largest difference within one, the sum of differences, the best pairings."""

    largest: Decimal
    total: Decimal
    pairings: tuple[tuple[tuple[int, int], ...], ...]
    unique: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Assignment:
    """One part of a second group for each of a first: the spread of the results, and the best assignments."""

    spread: Decimal
    partners: tuple[tuple[int, ...], ...]
    unique: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Banks:
    """One group split into two of equal number: the difference of their totals, and the best splits (first bank)."""

    difference: Decimal
    banks: tuple[tuple[int, ...], ...]
    unique: bool


def nearest_pairs(weights: Sequence[Decimal], answers: int = 6) -> Pairs:
    """Pairs of nearest weight: the largest difference as small as can be, then the sum of differences."""
    if len(weights) % 2 or not 2 <= len(weights) <= MOST_PARTS:
        raise BadSet(f"{len(weights)} parts don't make pairs here: give an even number, from 2 to {MOST_PARTS}")
    exact = [Fraction(weight) for weight in weights]
    order = sorted(range(len(exact)), key=lambda part: exact[part])
    # Neighbours by weight are one best answer: crossing two pairs never makes either measure smaller.
    neighbours = [exact[high] - exact[low] for low, high in zip(order[::2], order[1::2], strict=True)]
    largest, total = max(neighbours), sum(neighbours, Fraction(0))
    best = list(islice(_pairings(tuple(range(len(exact))), exact, largest, total), max(answers, 2)))
    return Pairs(
        largest=to_decimal(largest),
        total=to_decimal(total),
        pairings=tuple(best[:answers]),
        unique=len(best) == 1,
    )


def _pairings(
    parts: tuple[int, ...], exact: Sequence[Fraction], largest: Fraction, left: Fraction
) -> Iterator[tuple[tuple[int, int], ...]]:
    """Every pairing with no difference above `largest` and their sum exactly `left`, in order of part numbers."""
    if not parts:
        if left == 0:
            yield ()
        return
    first, *others = parts
    for partner in others:
        apart = abs(exact[first] - exact[partner])
        if apart <= largest and apart <= left:
            rest = tuple(part for part in others if part != partner)
            for pairs in _pairings(rest, exact, largest, left - apart):
                yield ((first, partner), *pairs)


def even_totals(first: Sequence[Decimal], second: Sequence[Decimal], answers: int = 6) -> Assignment:
    """A partner from the second group for each of the first, so that the totals spread as little as can be."""
    return _even(first, second, lambda one, other: one + other, answers)


def even_clearances(bores: Sequence[Decimal], shafts: Sequence[Decimal], answers: int = 6) -> Assignment:
    """A shaft for each bore, so that the clearances (bore less shaft) spread as little as can be."""
    return _even(bores, shafts, lambda one, other: one - other, answers)


def _even(
    first: Sequence[Decimal], second: Sequence[Decimal], result: Callable[[Fraction, Fraction], Fraction], answers: int
) -> Assignment:
    if len(first) != len(second) or not 1 <= len(first) <= MOST_PARTS:
        raise BadSet(
            f"{len(first)} parts and {len(second)} don't match here: give as many of each, at most {MOST_PARTS}"
        )
    one, other = [Fraction(part) for part in first], [Fraction(part) for part in second]
    # Heavy with light (or, for differences, large with large) makes the greatest result as small as can be and the
    # least as great as can be, at once. So every other best answer has just these two ends as well.
    ahead, behind = sorted(one), sorted(other, reverse=result(Fraction(0), Fraction(1)) > 0)
    results = [result(a, b) for a, b in zip(ahead, behind, strict=True)]
    low, high = min(results), max(results)
    allowed = [[partner for partner, b in enumerate(other) if low <= result(a, b) <= high] for a in one]
    best = list(islice(_assignments(allowed, ()), max(answers, 2)))
    return Assignment(spread=to_decimal(high - low), partners=tuple(best[:answers]), unique=len(best) == 1)


def _assignments(allowed: Sequence[Sequence[int]], taken: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every way to give each part one of its allowed partners, each taken once, in order of part numbers."""
    if len(taken) == len(allowed):
        yield taken
        return
    if any(all(partner in taken for partner in row) for row in allowed[len(taken) :]):
        return  # somebody further on is left without a partner
    for partner in allowed[len(taken)]:
        if partner not in taken:
            yield from _assignments(allowed, (*taken, partner))


def even_banks(weights: Sequence[Decimal], answers: int = 6) -> Banks:
    """Two banks of equal number whose totals are as near as can be. The first part is always in the first bank."""
    if len(weights) % 2 or not 2 <= len(weights) <= MOST_PARTS:
        raise BadSet(f"{len(weights)} parts don't make two banks here: give an even number, from 2 to {MOST_PARTS}")
    exact = [Fraction(weight) for weight in weights]
    whole = sum(exact, Fraction(0))
    splits = [(0, *rest) for rest in combinations(range(1, len(exact)), len(exact) // 2 - 1)]
    difference = {split: abs(whole - 2 * sum(exact[part] for part in split)) for split in splits}
    least = min(difference.values())
    best = [split for split in splits if difference[split] == least]
    return Banks(difference=to_decimal(least), banks=tuple(best[:answers]), unique=len(best) == 1)


def least_total(costs: Sequence[Sequence[Number]]) -> Fraction:
    """The least sum of costs when each row takes a column of its own: by the best for every set of columns used."""
    size = len(costs)
    if not 1 <= size <= MOST_PARTS or any(len(row) != size for row in costs):
        raise BadSet(f"costs are a square table of at most {MOST_PARTS} rows: give one cost for each of each")
    best = {0: Fraction(0)}
    for row in costs:
        following: dict[int, Fraction] = {}
        for used, total in best.items():
            for column, cost in enumerate(row):
                if used & 1 << column:
                    continue
                key = used | 1 << column
                now = total + Fraction(cost)
                if key not in following or now < following[key]:
                    following[key] = now
        best = following
    return best[2**size - 1]
