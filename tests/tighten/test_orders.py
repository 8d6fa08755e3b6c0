"""Orders: every one a permutation, the published ones as published, and the groups of the shipped procedures."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.orders import (
    PATTERN_NAMES,
    PATTERNS,
    OrderError,
    order_numbers,
    order_of,
    pattern_of,
    rows_of,
    slackening,
)


def ring(count: int) -> list[str]:
    return [str(i) for i in range(1, count + 1)]


def two_rows(columns: int, a: str = "A", b: str = "B") -> list[str]:
    return [f"{row}{i}" for row in (a, b) for i in range(1, columns + 1)]


@pytest.mark.parametrize("name", PATTERNS)
@pytest.mark.parametrize("columns", range(1, 21))
def test_every_pattern_takes_every_position_once(name: str, columns: int) -> None:
    positions = two_rows(columns)
    order = order_of(name, positions)
    assert sorted(order) == sorted(positions)
    assert slackening(order)[::-1] == order


@pytest.mark.parametrize(
    ("positions", "order"),
    [
        # ASME PCC-1 legacy pattern (recalled): 4, 8, 12 and 16 bolts.
        (4, [1, 3, 2, 4]),
        (8, [1, 5, 3, 7, 2, 6, 4, 8]),
        (12, [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]),
        (16, [1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]),
        # Common practice, no source.
        (1, [1]),
        (2, [1, 2]),
        (3, [1, 2, 3]),
        (5, [1, 3, 5, 2, 4]),
        (6, [1, 4, 2, 5, 3, 6]),
    ],
)
def test_a_star_goes_round_as_published(positions: int, order: list[int]) -> None:
    assert order_of("star", ring(positions)) == tuple(map(str, order))


@pytest.mark.parametrize("count", range(4, 41))
def test_a_star_takes_opposite_pairs_and_never_neighbours(count: int) -> None:
    order = [int(p) for p in order_of("star", ring(count))]
    if count % 2 == 0:
        assert all(abs(a - b) == count // 2 for a, b in zip(order[::2], order[1::2], strict=True))
    if count >= 5:
        steps = [abs(a - b) for a, b in itertools.pairwise(order)]
        assert all(min(step, count - step) > 1 for step in steps)


@pytest.mark.parametrize(
    ("columns", "order"),
    [  # Common practice, no source: six studs in two rows, a ten-bolt head, and so on.
        (1, "A1 B1"),
        (2, "A1 B2 A2 B1"),
        (3, "A2 B2 A1 B3 A3 B1"),
        (4, "A2 B3 A3 B2 A1 B4 A4 B1"),
        (5, "A3 B3 A2 B4 A4 B2 A1 B5 A5 B1"),
        (6, "A3 B4 A4 B3 A2 B5 A5 B2 A1 B6 A6 B1"),
    ],
)
def test_centre_pair_first(columns: int, order: str) -> None:
    assert order_of("centre pair first", two_rows(columns)) == tuple(order.split())


@pytest.mark.parametrize(
    ("columns", "order"),
    [
        (1, "A1 B1"),
        (2, "A1 A2 B2 B1"),
        (3, "A2 B2 A1 A3 B3 B1"),
        (4, "A2 A3 B3 B2 A1 A4 B4 B1"),
    ],
)
def test_a_spiral_goes_round_each_level(columns: int, order: str) -> None:
    assert order_of("spiral", two_rows(columns)) == tuple(order.split())


def test_lines() -> None:
    assert order_of("outside last", ring(5)) == ("2", "3", "4", "1", "5")
    assert order_of("outside last", ring(3)) == ("2", "1", "3")
    assert order_of("outside last", ring(2)) == ("1", "2")
    assert order_of("outside last", ring(1)) == ("1",)
    assert order_of("middle outwards", ring(5)) == ("3", "2", "4", "1", "5")
    assert order_of("middle outwards", ring(4)) == ("2", "3", "1", "4")
    assert order_of("in turn", ring(3)) == ("1", "2", "3")


CAPS = [f"{cap}{side}" for cap in range(1, 6) for side in "LR"]
HEAD_NUTS = ["L3", "R3", "R2", "L4", "L2", "R4", "L1", "R5", "R1", "L5"]


def test_the_groups_of_a_bottom_end_and_a_head() -> None:
    caps = order_of("centre pair first", CAPS)
    assert caps == ("3L", "3R", "2L", "4R", "4L", "2R", "1L", "5R", "5L", "1R")
    assert order_numbers(caps)["3L"] == 1
    assert order_numbers(caps)["1R"] == 10
    assert slackening(caps)[:2] == ("1R", "5L")
    assert order_of(HEAD_NUTS, two_rows(5, "L", "R")) == tuple(HEAD_NUTS)
    assert order_of("star", ring(6)) == ("1", "4", "2", "5", "3", "6")
    for count in (8, 12, 18):
        assert order_of("ring order", ring(count)) == tuple(ring(count))
    assert order_of("outside ones last", ring(5)) == ("2", "3", "4", "1", "5")


def test_names_are_forgiven_their_case_spaces_and_spelling() -> None:
    assert pattern_of("  Centre  pair FIRST ").name == "centre pair first"
    assert pattern_of("center pair first, then crosswise outwards").name == "centre pair first"
    assert {pattern_of(name).name for name in PATTERN_NAMES} == set(PATTERNS)
    assert all(p.rule and p.source and name == p.name for name, p in PATTERNS.items())


@pytest.mark.parametrize(
    ("asked", "positions", "said"),
    [
        ("zigzag", ring(4), "no order is called 'zigzag'"),
        ("in turn", [], "without positions"),
        ("in turn", ["1", "2", "1"], "the positions name 1 twice"),
        (["1", "2"], ring(3), "leaves out 3"),
        (["1", "2", "3", "9"], ring(3), "takes 9"),
        (["1", "2", "2"], ring(3), "the order takes 2 twice"),
        ("centre pair first", ring(4), "position '1' is not a row letter and a number"),
        ("centre pair first", ["A1", "A2"], "there are 1"),
        ("spiral", ["A1", "B1", "C1"], "there are 3"),
        ("centre pair first", ["A1", "A2", "B1"], "don't have the same columns"),
        ("centre pair first", ["A1", "1A", "B1", "B2"], "both row A, column 1"),
    ],
)
def test_what_is_refused(asked: str | list[str], positions: list[str], said: str) -> None:
    with pytest.raises(OrderError, match=said):
        order_of(asked, positions)


def test_rows_are_told_apart_whatever_their_case() -> None:
    assert rows_of(["l1", "L2", "R1", "r2"]).a == ("l1", "L2")


@given(st.permutations(two_rows(5)))
def test_a_listed_order_is_taken_as_it_is(order: list[str]) -> None:
    assert order_of(order, two_rows(5)) == tuple(order)


@given(st.integers(1, 12), st.sampled_from(["{row}{column}", "{column}{row}", "{row} {column}", "{row}-{column}"]))
def test_rows_are_read_from_either_way_of_writing(columns: int, form: str) -> None:
    positions = [form.format(row=row, column=c) for c in range(columns, 0, -1) for row in "RL"]
    rows = rows_of(positions)
    assert rows.columns == columns
    assert rows.a == tuple(form.format(row="R", column=c) for c in range(1, columns + 1))
    for position in positions:
        assert rows.crosswise(rows.crosswise(position)) == position
        assert rows.off_centre(rows.crosswise(position)) == rows.off_centre(position)
        assert rows.spot(rows.crosswise(position))[0] != rows.spot(position)[0]
