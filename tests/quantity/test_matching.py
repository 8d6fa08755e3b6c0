from decimal import Decimal
from fractions import Fraction
from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from benchvoice.quantity.matching import (
    MOST_PARTS,
    BadSet,
    even_banks,
    even_clearances,
    even_totals,
    least_total,
    nearest_pairs,
)

D = Decimal
PARTS = st.decimals(places=1, min_value=0, max_value=5)


def values(*texts):
    return [D(text) for text in texts]


def every_pairing(parts):
    if not parts:
        yield ()
        return
    first, *others = parts
    for partner in others:
        for rest in every_pairing([part for part in others if part != partner]):
            yield ((first, partner), *rest)


def test_pairs():
    found = nearest_pairs(values("411.5", "412.2", "411.9", "412.8"))
    assert (found.largest, found.total, found.unique) == (D("0.6"), D(1), True)
    assert found.pairings == (((0, 2), (1, 3)),)


def test_pairs_of_equal_parts_have_a_choice():
    found = nearest_pairs(values("1", "1", "1", "1"))
    assert found.pairings == (((0, 1), (2, 3)), ((0, 2), (1, 3)), ((0, 3), (1, 2)))
    assert not found.unique
    short = nearest_pairs(values("1", "1", "1", "1"), answers=1)
    assert (len(short.pairings), short.unique) == (1, False)


@given(
    st.lists(PARTS, min_size=1, max_size=3).flatmap(
        lambda half: st.lists(PARTS, min_size=len(half) * 2, max_size=len(half) * 2)
    )
)
def test_pairs_as_brute_force(weights):
    def measures(pairing):
        apart = [abs(weights[one] - weights[other]) for one, other in pairing]
        return max(apart), sum(apart)

    every = list(every_pairing(list(range(len(weights)))))
    best = min(map(measures, every))
    found = nearest_pairs(weights, answers=1000)
    assert (found.largest, found.total) == best
    assert list(found.pairings) == [pairing for pairing in every if measures(pairing) == best]
    assert found.unique is (len(found.pairings) == 1)


@pytest.mark.parametrize("count", [0, 1, 3, 13, 14])
def test_pairs_need_an_even_number(count):
    with pytest.raises(BadSet, match=f"{count} parts don't make pairs here: give an even number, from 2 to 12"):
        nearest_pairs([D(1)] * count)


def test_the_most_parts_are_matched():
    many = [D(n * n) for n in range(MOST_PARTS)]
    assert nearest_pairs(many).pairings[0] == tuple((n, n + 1) for n in range(0, MOST_PARTS, 2))
    assert even_totals(many, many).spread == even_totals(many[::-1], many).spread
    assert even_banks(many).difference == 0


def test_totals():
    found = even_totals(values("411.5", "412.2", "411.9", "412.8"), values("585.0", "584.2", "586.1", "585.3"))
    assert (found.spread, found.partners, found.unique) == (D("0.6"), ((2, 0, 3, 1),), True)


def test_clearances():
    bores = values("86.012", "86.020", "86.008", "86.016")
    found = even_clearances(bores, values("85.962", "85.970", "85.974", "85.958"))
    assert (found.spread, found.partners, found.unique) == (D("0.004"), ((0, 2, 3, 1),), True)


def test_assignments_with_a_choice():
    found = even_totals(values("1", "1", "1"), values("2", "2", "2"), answers=4)
    assert found.partners == ((0, 1, 2), (0, 2, 1), (1, 0, 2), (1, 2, 0))
    assert not found.unique
    assert not even_totals(values("1", "1"), values("2", "2"), answers=1).unique


@pytest.mark.parametrize("sign", [1, -1])
@given(
    st.integers(min_value=1, max_value=5).flatmap(lambda n: st.tuples(*[st.lists(PARTS, min_size=n, max_size=n)] * 2))
)
def test_assignments_as_brute_force(sign, groups):
    first, second = groups

    def spread(partners):
        results = [one + sign * second[partner] for one, partner in zip(first, partners, strict=True)]
        return max(results) - min(results)

    every = list(permutations(range(len(first))))
    best = min(map(spread, every))
    found = (even_totals if sign > 0 else even_clearances)(first, second, answers=1000)
    assert found.spread == best
    assert list(found.partners) == [partners for partners in every if spread(partners) == best]
    assert found.unique is (len(found.partners) == 1)


@pytest.mark.parametrize(("one", "other"), [(2, 3), (0, 0), (13, 13)])
def test_assignments_need_as_many_of_each(one, other):
    with pytest.raises(BadSet, match=f"{one} parts and {other} don't match here: give as many of each, at most 12"):
        even_totals([D(1)] * one, [D(1)] * other)
    with pytest.raises(BadSet):
        even_clearances([D(1)] * one, [D(1)] * other)


def test_banks():
    found = even_banks(values("411.5", "412.2", "411.9", "412.8"))
    assert (found.difference, found.banks, found.unique) == (D("0.2"), ((0, 3),), True)
    assert even_banks(values("1", "2")).banks == ((0,),)
    equal = even_banks(values("1", "1", "1", "1"), answers=2)
    assert (equal.banks, equal.unique) == (((0, 1), (0, 2)), False)


@given(st.sampled_from([2, 4, 6, 8]).flatmap(lambda n: st.lists(PARTS, min_size=n, max_size=n)))
def test_banks_as_brute_force(weights):
    whole = sum(weights)
    every = [split for split in combinations(range(len(weights)), len(weights) // 2) if 0 in split]
    differences = [abs(whole - 2 * sum(weights[part] for part in split)) for split in every]
    found = even_banks(weights, answers=1000)
    assert found.difference == min(differences)
    best = [split for split, apart in zip(every, differences, strict=True) if apart == found.difference]
    assert list(found.banks) == best


@pytest.mark.parametrize("count", [0, 1, 3, 13, 14])
def test_banks_need_an_even_number(count):
    with pytest.raises(BadSet, match=f"{count} parts don't make two banks here: give an even number, from 2 to 12"):
        even_banks([D(1)] * count)


def test_least_total():
    assert least_total([[4, 1, 3], [2, 0, 5], [3, 2, 2]]) == 5
    assert least_total([[Fraction(1, 3)]]) == Fraction(1, 3)


@settings(max_examples=40)
@given(
    st.integers(min_value=1, max_value=7).flatmap(
        lambda n: st.lists(
            st.lists(st.integers(min_value=-9, max_value=9), min_size=n, max_size=n), min_size=n, max_size=n
        )
    )
)
def test_least_total_agrees_with_scipy(costs):
    rows, columns = linear_sum_assignment(np.array(costs))
    assert least_total(costs) == int(np.array(costs)[rows, columns].sum())


@pytest.mark.parametrize("costs", [[], [[1, 2]], [[1], [2]], [[1] * 13] * 13])
def test_costs_are_square(costs):
    with pytest.raises(BadSet, match="costs are a square table of at most 12 rows: give one cost for each of each"):
        least_total(costs)


def test_costs_of_the_most_parts():
    costs = [[abs(row - column) for column in range(MOST_PARTS)] for row in range(MOST_PARTS)]
    assert least_total(costs) == 0
