"""Figures as they are printed keep the decimals that were said."""

from decimal import Decimal

import pytest

from benchvoice.sheet import words

D = Decimal


@pytest.mark.parametrize(
    ("value", "unit", "printed"),
    [
        ("2.50", "thou", "2.50 thou"), ("-0.5", "thou", "−0.5 thou"), ("60", "N_m", "60 N·m"), ("90", "deg", "90°"),
        ("0.0001", "in", "0.0001 in"), ("3", "furlong", "3 furlong"),
    ],
)  # fmt: skip
def test_quantity(value: str, unit: str, printed: str) -> None:
    assert words.quantity(D(value), unit) == printed


def test_intervals_and_open_ends() -> None:
    assert words.interval(None, D(4), D(5), "thou") == "between 4 and 5 thou"
    assert words.interval(None, D(50), None, "thou") == "50 thou or more"
    assert words.interval(None, None, D(3), "thou") == "3 thou or less"
    assert words.interval(D("2.0"), D("2.0"), D("2.0"), "thou") == "2.0 thou"


def test_limits() -> None:
    assert words.limits(D("1.5"), D("3.0"), "thou") == "1.5 to 3.0 thou"
    assert words.limits(None, D("3.0"), "N_m") == "at most 3.0 N·m"
    assert words.limits(D(4), None, "thou") == "at least 4 thou"


@pytest.mark.parametrize(
    ("logged", "printed"),
    [("25 N_m", "25 N·m"), ("5.4 to 6.0 thou", "5.4 to 6.0 thou"), ("90 deg", "90°"), ("by hand", "by hand"),
     ("0.5 turn", "0.5 turn")],
)  # fmt: skip
def test_what_a_stage_asks(logged: str, printed: str) -> None:
    assert words.asked(logged) == printed


@pytest.mark.parametrize(
    ("seconds", "printed"),
    [("0", "0 s"), ("437.9", "7 min 17 s"), ("480", "8 min"), ("21600", "6 h"), ("-30", "−30 s")],
)
def test_durations(seconds: str, printed: str) -> None:
    assert words.duration(D(seconds)) == printed


def test_lists() -> None:
    assert [words.listed(names) for names in ((), ("a",), ("a", "b"), ("a", "b", "c"))] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
