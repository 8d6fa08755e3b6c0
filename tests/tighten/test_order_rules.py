"""The rules of a good order, against the worked examples and by brute force against rules written out plainly."""

from itertools import pairwise, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.order_rules import order_cautions, ring_rules, row_rules
from benchvoice.tighten.orders import OrderError, order_of


def ring(count: int) -> list[str]:
    return [str(i) for i in range(1, count + 1)]


def two_rows(columns: int) -> list[str]:
    return [f"{row}{i}" for row in "AB" for i in range(1, columns + 1)]


@pytest.mark.parametrize(
    ("count", "order", "permutation", "opposites", "no_neighbours"),
    [
        # published: legacy pattern of ASME PCC-1 (recalled)
        (4, "1 3 2 4", True, True, True),
        (8, "1 5 3 7 2 6 4 8", True, True, True),
        (12, "1 7 4 10 2 8 5 11 3 9 6 12", True, True, True),
        # common practice, no source
        (5, "1 3 5 2 4", True, True, True),
        (6, "1 4 2 5 3 6", True, True, True),
        (6, "1 4 6 3 5 2", True, True, True),
        (10, "1 6 3 8 5 10 2 7 4 9", True, True, True),
        (8, "1 2 3 4 5 6 7 8", True, False, False),
        (6, "1 4 2 5 3 3", False, False, True),
        (5, "1 2 3 4 5", True, True, False),
        # ours
        (5, "1 3 5 2 9", False, True, True),
        (6, "1 4 2 9 3 6", False, False, True),
        (8, "1 5 4 8 2 6 3 7", True, True, False),
        (8, "1 5 8 4 3 7 6 2", True, True, False),
        (6, "1 4 2 5", False, True, True),
        (4, "1 2 3 4", True, False, True),
    ],
)
def test_ring(count: int, order: str, permutation: bool, opposites: bool, no_neighbours: bool) -> None:
    rules = ring_rules(order.split(), ring(count))
    assert (rules.permutation, rules.opposites, rules.no_neighbours) == (permutation, opposites, no_neighbours)
    assert rules.valid is (permutation and opposites and no_neighbours)


@pytest.mark.parametrize("count", range(1, 61))
def test_the_star_is_valid_for_every_ring(count: int) -> None:
    assert ring_rules(order_of("star", ring(count)), ring(count)).valid


@pytest.mark.parametrize("count", range(2, 8))
def test_ring_by_brute_force(count: int) -> None:
    for order in permutations(range(count)):
        pairs = list(zip(order[::2], order[1::2], strict=False))
        opposites = count % 2 == 1 or all(abs(a - b) * 2 == count for a, b in pairs)
        close = {frozenset((i, (i + 1) % count)) for i in range(count)}
        apart = count < 5 or not any(frozenset(order[i : i + 2]) in close for i in range(count - 1))
        rules = ring_rules([str(i + 1) for i in order], ring(count))
        assert (rules.permutation, rules.opposites, rules.no_neighbours) == (True, opposites, apart)


@pytest.mark.parametrize(
    ("columns", "order", "centre", "outwards", "crosswise"),
    [  # common practice, no source
        (2, "A1 B2 A2 B1", True, True, True),
        (3, "A2 B2 A1 B3 A3 B1", True, True, True),
        (3, "B2 A2 B1 A3 B3 A1", True, True, True),
        (4, "A2 B3 A3 B2 A1 B4 A4 B1", True, True, True),
        (5, "A3 B3 A2 B4 A4 B2 A1 B5 A5 B1", True, True, True),
        (6, "A3 B4 A4 B3 A2 B5 A5 B2 A1 B6 A6 B1", True, True, True),
        (3, "A1 B3 A3 B1 A2 B2", False, False, True),
        (5, "A3 B3 A1 B5 A2 B4 A4 B2 A5 B1", True, False, True),
        (3, "A2 B2 A1 A3 B1 B3", True, True, False),
    ],
)
def test_rows(columns: int, order: str, centre: bool, outwards: bool, crosswise: bool) -> None:
    rules = row_rules(order.split(), two_rows(columns))
    assert rules.permutation
    assert (rules.centre_first, rules.outwards, rules.crosswise) == (centre, outwards, crosswise)
    assert rules.valid is (centre and outwards and crosswise)


def test_a_row_order_with_a_stranger_or_a_gap_is_no_permutation() -> None:
    assert not row_rules(["A2", "B2", "A1", "B3", "A3", "C1"], two_rows(3)).permutation
    assert not row_rules(["A2", "B2", "A1", "B3", "A3", "A3"], two_rows(3)).valid
    assert not row_rules(["A2", "B2"], two_rows(3)).valid
    with pytest.raises(OrderError):
        row_rules(["1"], ["1"])


@pytest.mark.parametrize("columns", range(1, 31))
def test_centre_pair_first_is_valid_for_any_rows(columns: int) -> None:
    assert row_rules(order_of("centre pair first", two_rows(columns)), two_rows(columns)).valid


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_rows_by_brute_force(columns: int) -> None:
    positions = two_rows(columns)

    def far(position: str) -> int:
        return abs(2 * int(position[1]) - columns - 1)

    def across(position: str) -> str:
        return f"{'BA'['AB'.index(position[0])]}{columns + 1 - int(position[1])}"

    for order in permutations(positions):
        rules = row_rules(order, positions)
        middle = [p for p in positions if far(p) == min(map(far, positions))]
        assert rules.centre_first is (sorted(order[: len(middle)]) == middle)
        assert rules.outwards is all(far(a) <= far(b) for a, b in pairwise(order))
        levels = [[p for p in order if far(p) == level] for level in {far(p) for p in positions}]
        assert rules.crosswise is all(
            level[i + 1] == across(level[i]) for level in levels for i in range(0, len(level), 2)
        )


def test_the_head_nuts_keep_every_rule() -> None:
    nuts = [f"{side}{i}" for side in "LR" for i in range(1, 6)]
    assert row_rules(["L3", "R3", "R2", "L4", "L2", "R4", "L1", "R5", "R1", "L5"], nuts).valid


def test_cautions() -> None:
    rows = two_rows(3)
    assert order_cautions(["A2", "B2", "A1", "B3", "A3", "B1"], rows) == ()
    assert order_cautions(ring(4), ring(4)) == ()
    (edge,) = order_cautions(["A1", "B3", "A3", "B1", "A2", "B2"], rows)
    assert edge.startswith("the order starts away from the middle")
    (side,) = order_cautions(["A2", "B2", "A1", "A3", "B1", "B3"], rows)
    assert side.startswith("the order leaves one side of a pair waiting")
    (back,) = order_cautions(["A3", "B3", "A1", "B5", "A2", "B4", "A4", "B2", "A5", "B1"], two_rows(5))
    assert back.startswith("the order goes outwards and back")
    assert len(order_cautions(["A1", "B1", "A2", "B2", "A3", "B3"], rows)) == 2


@given(st.permutations(two_rows(4)))
def test_a_reversed_valid_order_is_only_good_for_slackening(order: list[str]) -> None:
    if row_rules(order, two_rows(4)).valid:
        assert not row_rules(order[::-1], two_rows(4)).centre_first
