from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.values import parse_quantity as q
from benchvoice.quantity.vee_block import BadVee, reading_change, two_point_factor, vee_factor


# Published: three-point method (factor formula seen in a public abstract).
@pytest.mark.parametrize(
    ("lobes", "angle", "factor"),
    [
        (3, 60, "3"),
        (3, 90, "2"),
        (3, 120, "1"),
        (5, 60, "0"),
        (5, 90, "2"),
        (7, 90, "0"),
        (2, 90, "1"),
        (2, 60, "0"),
        (4, 90, "0.41421356"),
    ],
)
def test_vee(lobes, angle, factor):
    assert abs(vee_factor(lobes, angle) - Fraction(factor)) < Fraction(1, 10**8)


def _by_brute_force(lobes, angle):
    """The part turned in steps over the vee, its support and indicator reckoned from radii alone."""
    import math

    half = math.radians(angle / 2)
    readings = []
    for step in range(720):
        turn = math.radians(step / 2)
        radius = lambda at, turn=turn: math.cos(lobes * (at + turn))  # noqa: E731
        # Contacts lie half + 90 degrees either side of the indicator; the centre settles where both touch.
        left, right = radius(math.pi / 2 + half), radius(-(math.pi / 2 + half))
        sunk = (left + right) / (2 * math.sin(half))
        readings.append(radius(0) + sunk)
    return (max(readings) - min(readings)) / 2


@pytest.mark.parametrize("lobes", [2, 3, 4, 5, 6, 7, 9])
@pytest.mark.parametrize("angle", [60, 72, 90, 120])
def test_vee_agrees_with_turning_the_part(lobes, angle):
    assert float(vee_factor(lobes, angle)) == pytest.approx(_by_brute_force(lobes, angle), abs=1e-3)


@pytest.mark.parametrize(("lobes", "factor"), [(2, 2), (3, 0), (4, 2), (5, 0), (7, 0)])
def test_two_points(lobes, factor):
    assert two_point_factor(lobes) == factor


def test_size_change():
    assert reading_change(q("0.010 mm"), 60) == q("0.015 mm")
    assert abs(reading_change(q("0.010 mm"), 90).value - Decimal("0.012071")) < Decimal("0.0000005")
    assert reading_change(q("0.010 in"), 60).unit == "in"


@pytest.mark.parametrize("angle", [0, 180, -60, 200])
def test_a_vee_has_an_angle(angle):
    with pytest.raises(BadVee, match="can't be: give an angle between 0 and 180"):
        vee_factor(3, angle)
    with pytest.raises(BadVee):
        reading_change(q("1 mm"), angle)


@pytest.mark.parametrize("lobes", [1, 0, -3])
def test_fewer_than_two_lobes_is_no_form(lobes):
    with pytest.raises(BadVee, match="is not a form of out-of-round: one is off centre, two is oval"):
        vee_factor(lobes, 90)
    with pytest.raises(BadVee):
        two_point_factor(lobes)


def test_a_very_narrow_vee_is_a_vee():
    assert reading_change(q("1 mm"), 1).value > 50
