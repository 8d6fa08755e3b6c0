from decimal import Decimal
from itertools import chain, combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.feelers import BadLeaves, between, leaf_between, nearest_stack, stacks

D = Decimal
INCH = [D("0.0015"), D("0.002"), D("0.0025"), *(D(n) / 1000 for n in range(3, 26))]
METRIC = [D(text) for text in ("0.05", "0.10", "0.15", "0.20", "0.25", "0.30", "0.40", "0.50", "0.60", "0.70", "0.80")]


def texts(found):
    return [tuple(map(str, stack)) for stack in found]


@pytest.mark.parametrize(
    ("want", "leaves", "found"),
    [
        ("0.0195", INCH, [("0.0015", "0.018"), ("0.0025", "0.017")]),
        ("0.0045", INCH, [("0.0015", "0.003"), ("0.002", "0.0025")]),
        ("0.012", INCH, [("0.012",)]),
        ("0.35", METRIC, [("0.05", "0.30"), ("0.10", "0.25"), ("0.15", "0.20")]),
        ("0.07", METRIC, []),
    ],
)
def test_fewest_leaves(want, leaves, found):
    assert texts(stacks(D(want), leaves)) == found


def test_four_leaves_at_most_unless_told():
    leaves = [D(1), D(2), D(4), D(8), D(16)]
    assert texts(stacks(D(15), leaves)) == [("1", "2", "4", "8")]
    assert stacks(D(31), leaves) == []
    assert texts(stacks(D(31), leaves, most=5)) == [("1", "2", "4", "8", "16")]
    assert stacks(D(3), leaves, most=1) == []


def test_a_leaf_is_there_once_though_named_twice():
    assert stacks(D("0.10"), [D("0.05"), D("0.05")]) == []
    assert texts(stacks(D("0.05"), [D("0.05"), D("0.05")])) == [("0.05",)]


@pytest.mark.parametrize(("want", "leaves"), [("0", ["0.05"]), ("-1", ["0.05"]), ("1", ["0"]), ("1", ["1", "-0.05"])])
def test_a_thickness_is_above_nought(want, leaves):
    with pytest.raises(BadLeaves, match=r"^a thickness is above nought: look at the leaf or the gap that was given$"):
        stacks(D(want), [D(leaf) for leaf in leaves])


@given(st.sets(st.integers(min_value=1, max_value=30), min_size=1, max_size=9), st.integers(min_value=1, max_value=80))
def test_no_stack_is_missed_and_none_has_fewer(sizes, want):
    leaves = [D(size) / 100 for size in sizes]
    every = chain.from_iterable(combinations(sorted(leaves), count) for count in range(1, 5))
    right = [stack for stack in every if sum(stack) == D(want) / 100]
    fewest = min(map(len, right), default=0)
    assert stacks(D(want) / 100, leaves) == [stack for stack in right if len(stack) == fewest]


# Computed: GUM 4.3.7, rectangular between the leaf that goes and the one that doesn't.
def test_gap_between_two_leaves():
    gap = between(D("0.15"), D("0.20"))
    assert (gap.low, gap.high, gap.middle) == (D("0.15"), D("0.20"), D("0.175"))
    assert abs(gap.u - D("0.0144338")) < D("0.00000005")
    assert between(D(0), D("0.04")).middle == D("0.02")


@pytest.mark.parametrize(("goes", "wont"), [("0.20", "0.15"), ("0.15", "0.15"), ("-0.1", "0.15")])
def test_the_leaf_that_goes_is_the_thinner(goes, wont):
    with pytest.raises(BadLeaves, match="the leaf that goes must be the thinner"):
        between(D(goes), D(wont))


def test_the_leaf_to_try_next():
    assert leaf_between(between(D("0.15"), D("0.25")), METRIC) == (D("0.20"),)
    assert leaf_between(between(D("0.10"), D("0.40")), METRIC) == (D("0.25"),)
    # Nothing single is between four and five thou; one and a half with three is.
    assert leaf_between(between(D("0.004"), D("0.005")), INCH) == (D("0.0015"), D("0.003"))
    assert leaf_between(between(D("0.004"), D("0.005")), INCH, most=1) is None
    assert leaf_between(between(D("0.15"), D("0.16")), METRIC) is None
    # The ends are known already.
    assert leaf_between(between(D("0.15"), D("0.20")), METRIC) is None


def test_uncertainty_of_a_gap_is_given_to_twenty_places():
    assert between(D("0.15"), D("0.20")).u.as_tuple().exponent == -20


@given(
    st.decimals(places=1, min_value=D("0.5"), max_value=60),
    st.lists(st.sampled_from([D(n) / 2 for n in range(1, 51)]), min_size=1, max_size=8),
)
def test_nearest_stack_as_brute_force(want, leaves):
    every = [stack for count in range(1, 5) for stack in combinations(sorted(set(leaves)), count)]
    found = nearest_stack(want, leaves)
    assert found in every
    assert abs(sum(found) - want) == min(abs(sum(stack) - want) for stack in every)
    exact = stacks(want, leaves)
    assert not exact or found in exact


def test_nearest_of_no_leaves_is_none():
    assert nearest_stack(D(1), []) is None
