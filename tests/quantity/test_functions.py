import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.functions import (
    PI,
    NoAnswer,
    arctangent,
    cosine,
    cube_root,
    power,
    sine,
    sqrt,
    tangent,
)

CLOSE = Fraction(1, 10**38)
DEGREES = st.decimals(places=3, min_value=-720, max_value=720)


def test_pi():
    # Published: any handbook.
    assert str(PI.numerator)[:41] == "31415926535897932384626433832795028841971"[:41]
    assert abs(PI - Fraction(math.pi)) < Fraction(2, 10**16)


def test_square_root():
    assert sqrt(Fraction(9, 4)) == Fraction(3, 2)
    assert sqrt(0) == 0
    assert abs(sqrt(2) ** 2 - 2) < CLOSE
    with pytest.raises(NoAnswer, match="-1 is below nought and has no square root"):
        sqrt(-1)


def test_cube_root():
    assert abs(cube_root(27) - 3) < CLOSE
    assert abs(cube_root(2) ** 3 - 2) < CLOSE
    assert cube_root(0) == 0
    with pytest.raises(NoAnswer, match="-8 is below nought"):
        cube_root(-8)


def test_power():
    assert abs(power(2, Fraction(1, 2)) - sqrt(2)) < CLOSE
    assert abs(power(Fraction(1, 2), -3) - 8) < CLOSE
    assert abs(power(10, 0) - 1) < CLOSE


@pytest.mark.parametrize(
    ("angle", "wanted"),
    [
        (0, 0),
        (30, Fraction(1, 2)),
        (90, 1),
        (150, Fraction(1, 2)),
        (180, 0),
        (210, Fraction(-1, 2)),
        (270, -1),
        (330, Fraction(-1, 2)),
        (360, 0),
        (-30, Fraction(-1, 2)),
        (-90, -1),
        (390, Fraction(1, 2)),
    ],
)
def test_sine_is_exact_where_it_is_a_simple_number(angle, wanted):
    assert sine(angle) == wanted
    assert cosine(angle - 90) == wanted


@given(DEGREES)
def test_sine_cosine_tangent_agree_with_the_maths_library(angle):
    radians = math.radians(float(angle))
    assert float(sine(angle)) == pytest.approx(math.sin(radians), abs=1e-13)
    assert float(cosine(angle)) == pytest.approx(math.cos(radians), abs=1e-13)
    if abs(math.cos(radians)) > 1e-3:
        assert float(tangent(angle)) == pytest.approx(math.tan(radians), abs=1e-9, rel=1e-9)


@given(DEGREES)
def test_sine_and_cosine_square_to_one(angle):
    assert abs(sine(angle) ** 2 + cosine(angle) ** 2 - 1) < CLOSE


def test_sine_of_sixty_is_half_the_root_of_three():
    assert abs(sine(60) - sqrt(3) / 2) < CLOSE
    assert abs(sine(45) - sqrt(2) / 2) < CLOSE


def test_a_right_angle_has_no_tangent():
    for angle in (90, 270, -90):
        with pytest.raises(NoAnswer, match="degrees has no tangent"):
            tangent(angle)
    assert tangent(0) == 0
    assert abs(tangent(45) - 1) < CLOSE


@given(st.decimals(places=4, min_value=-1000, max_value=1000))
def test_arctangent_agrees_with_the_maths_library(ratio):
    assert float(arctangent(ratio)) == pytest.approx(math.degrees(math.atan(float(ratio))), abs=1e-11)


def test_arctangent_of_one_is_forty_five():
    assert abs(arctangent(1) - 45) < Fraction(1, 10**35)
    assert arctangent(0) == 0
    # The pitch cone of a pair of 17 and 36 teeth, as in the shipped reduction gear: 64.7 degrees.
    assert round(arctangent(Fraction(36, 17)), 1) == Fraction("64.7")
