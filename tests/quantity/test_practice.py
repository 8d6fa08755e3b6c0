"""Customs of the bench (common practice, no source)."""

from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.practice import (
    JOURNAL,
    repeat_warning,
    same_size_name,
    size_name_gap,
    two_point_warning,
)
from benchvoice.quantity.values import Quantity


@pytest.mark.parametrize(
    ("mm", "thou", "gap"),
    [("0.5", "20", "0.008"), ("0.25", "10", "0.004"), ("0.75", "30", "0.012"), ("1.0", "40", "0.016")],
)
def test_two_names_of_one_oversize(mm: str, thou: str, gap: str) -> None:
    assert same_size_name(Decimal(mm), Decimal(thou))
    assert size_name_gap(Decimal(mm), Decimal(thou)) == Fraction(gap)


def test_other_sizes_share_no_name() -> None:
    assert not same_size_name(Decimal("0.5"), Decimal(30))
    assert not same_size_name(Decimal("0.508"), Decimal(20))
    assert size_name_gap(Decimal("0.508"), Decimal(20)) == 0
    assert size_name_gap(Decimal("0.6"), Decimal(20)) == Fraction("0.092")


def test_two_points_are_blind_to_odd_lobes() -> None:
    said = "a two-point reading cannot show three or five lobes; use a V-block or three-point gauge"
    assert two_point_warning([3, 5]) == said
    assert two_point_warning([2, 3, 4, 5]) == said
    assert two_point_warning([2, 4]) is None
    assert two_point_warning([11]) == said.replace("three or five", "11")
    assert two_point_warning([7, 9]) == said.replace("three or five", "seven or nine")


@pytest.mark.parametrize(
    ("readings", "which"),
    [
        (["0.05", "0.05", "0.09"], "third"),
        (["0.09", "0.05", "0.05"], "first"),
        (["0.05", "0.09", "0.06", "0.05"], "second"),
        (["0.05", "0.05", "0.06"], None),
        (["0.05", "0.06", "0.07"], None),
        (["0.1", "0.12", "0.11"], None),
        (["0.05", "0.09"], None),
        (["0.05"], None),
    ],
)
def test_the_odd_one_out(readings: list[str], which: str | None) -> None:
    said = repeat_warning([Quantity(value=Decimal(text), unit="mm") for text in readings])
    wanted = which and f"the {which} differs by more than the resolution: clean and measure again"
    assert said == wanted


def test_a_journal() -> None:
    assert JOURNAL.least == 4
    assert str(JOURNAL) == "two planes, two directions 90 degrees apart"
