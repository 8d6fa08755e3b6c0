"""Deviation of torque tools: ISO 6789 limits (recalled; type II class A seen in a printed manual)."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.wrench_class import (
    ToolClassError,
    ToolType,
    conforms,
    deviation,
    permissible_deviation,
)


@pytest.mark.parametrize(
    ("kind", "tool_class", "capacity", "setting", "reference", "limit", "off", "inside"),
    [
        ("II", "A", 200, "100", "104", 4, "-3.846", True),
        ("II", "A", 200, "100", "96", 4, "4.167", False),
        ("II", "A", 200, "100", "96.2", 4, "3.950", True),
        ("II", "A", 10, "5", "5.3", 6, "-5.660", True),
        ("II", "A", 10, "5", "4.7", 6, "6.383", False),
        ("II", "B", 50, "40", "41.5", 4, "-3.614", True),
        ("I", "A", 200, "120", "127", 6, "-5.512", True),
        ("I", "C", 200, "120", "127", 4, "-5.512", False),
        ("II", "D", 5, "2", "2.1", 6, "-4.762", True),
    ],
)
def test_published(
    kind: ToolType, tool_class: str, capacity: int, setting: str, reference: str, limit: int, off: str, inside: bool
) -> None:
    assert permissible_deviation(kind, tool_class, capacity) == limit
    assert abs(deviation(Decimal(setting), Decimal(reference)) - Fraction(off)) <= Fraction("0.0005")
    assert conforms(Decimal(setting), Decimal(reference), limit) is inside


@pytest.mark.parametrize(
    ("kind", "wide", "narrow"),
    [("I", "AD", "BCE"), ("II", "DEFG", "ABC")],
)
def test_every_class(kind: ToolType, wide: str, narrow: str) -> None:
    assert [permissible_deviation(kind, c, 200) for c in wide] == [6] * len(wide)
    assert [permissible_deviation(kind, c, Decimal("10.1")) for c in narrow] == [4] * len(narrow)
    assert [permissible_deviation(kind, c, 10) for c in wide + narrow] == [6] * len(wide + narrow)


def test_the_smallest_tools() -> None:
    assert permissible_deviation("II", "D", Decimal("0.5")) == 6


def test_on_the_limit_is_inside() -> None:
    assert conforms(104, 100, 4)
    assert conforms(96, 100, 4)
    assert not conforms(Decimal("104.1"), 100, 4)


@given(st.integers(1, 500), st.integers(1, 500), st.integers(1, 100))
def test_further_off_is_never_better(reference: int, setting: int, more: int) -> None:
    further = setting + more if setting >= reference else setting - more
    assert conforms(setting, reference, 4) or not conforms(further, reference, 4)


@pytest.mark.parametrize(("kind", "tool_class"), [("III", "A"), ("I", "F"), ("II", "H"), ("II", ""), ("II", "AB")])
def test_no_such_class(kind: str, tool_class: str) -> None:
    with pytest.raises(ToolClassError, match="has no type"):
        permissible_deviation(kind, tool_class, 200)  # type: ignore[arg-type]


def test_nothing_to_compare_with() -> None:
    with pytest.raises(ToolClassError, match="greatest torque"):
        permissible_deviation("II", "A", 0)
    with pytest.raises(ToolClassError, match="reference torque"):
        deviation(100, 0)
