"""Irrational numbers without float: exact where they are exact, and as the math library has them elsewhere."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.exact import PI, cosine, nearest, root


def test_pi() -> None:
    assert str(PI * 10**49 // 1) == "31415926535897932384626433832795028841971693993751"


@pytest.mark.parametrize(
    ("degrees", "value"),
    [
        (0, 1),
        (60, Fraction(1, 2)),
        (90, 0),
        (120, Fraction(-1, 2)),
        (180, -1),
        (270, 0),
        (300, Fraction(1, 2)),
        (360, 1),
    ],
)
def test_exact_cosines(degrees: int, value: Fraction) -> None:
    assert cosine(degrees) == value
    assert cosine(-degrees) == value


def test_cosine_of_45_degrees_squares_to_a_half() -> None:
    assert abs(cosine(45) ** 2 - Fraction(1, 2)) < Fraction(1, 10**39)
    assert abs(cosine(30) ** 2 - Fraction(3, 4)) < Fraction(1, 10**39)


@given(st.fractions(min_value=-720, max_value=720, max_denominator=1000))
def test_cosine_against_math(degrees: Fraction) -> None:
    assert math.isclose(float(cosine(degrees)), math.cos(math.radians(float(degrees))), abs_tol=1e-12)


@given(st.fractions(min_value=0, max_value=10**6, max_denominator=10**6))
def test_root(value: Fraction) -> None:
    assert root(value * value) == value
    assert root(value) ** 2 <= value < (root(value) + Fraction(1, 10**40)) ** 2


@pytest.mark.parametrize(
    ("value", "step", "mark"),
    [("7.0714", "0.5", "7"), ("7.25", "0.5", "7"), ("7.75", "0.5", "8"), ("7.26", "0.5", "7.5"), ("64", "5", "65")],
)
def test_nearest_mark_half_way_to_the_even_one(value: str, step: str, mark: str) -> None:
    assert nearest(Fraction(value), Fraction(step)) == Fraction(mark)
