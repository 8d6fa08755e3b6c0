from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.gears import (
    BadGears,
    at_radius,
    change_by_centres,
    change_by_shims,
    hunting,
    play_angle,
    ratio,
    round_the_gear,
    turns_to_meet_again,
)
from benchvoice.quantity.values import parse_quantity as q

D = Decimal


# Computed: geometry. The third is the shipped reduction gear, read at its flange bolts.
@pytest.mark.parametrize(
    ("reading", "taken", "wanted", "found"),
    [
        ("0.30 mm", "120 mm", "80 mm", "0.2 mm"),
        ("0.010 in", "5.0 in", "3.5 in", "0.007 in"),
        ("0.28 mm", "67.5 mm", "54.0 mm", "0.224 mm"),
        ("0.30 mm", "12 cm", "80 mm", "0.2 mm"),
    ],
)
def test_backlash_at_another_radius(reading, taken, wanted, found):
    assert at_radius(q(reading), q(taken), q(wanted)) == q(found)


def test_play_angle():
    found = play_angle(q("0.30 mm"), q("120 mm"))
    assert found.unit == "deg"
    assert abs(found.value - D("0.1432")) < D("0.00005")
    assert play_angle(q("0.30 mm"), q("12 cm")) == found


@pytest.mark.parametrize("radius", ["0 mm", "-5 mm"])
def test_radius_is_above_nought(radius):
    with pytest.raises(BadGears, match="is not above nought"):
        at_radius(q("1 mm"), q(radius), q("1 mm"))
    with pytest.raises(BadGears):
        play_angle(q("1 mm"), q(radius))


def test_change_by_centres():
    assert abs(change_by_centres(q("0.10 mm"), 20).value - D("0.07279")) < D("0.000005")
    assert change_by_centres(q("0.004 in"), 45).unit == "in"
    assert abs(change_by_centres(q("0.004 in"), 45).value - D("0.008")) < D("1e-18")


# From the shipped reduction gear: 0.05 moved changes the backlash by 0.033.
def test_change_by_shims():
    assert round(change_by_shims(q("0.05 mm"), 20, D("64.7")).value, 3) == D("0.033")
    assert abs(change_by_shims(q("0.05 mm"), 45, 90).value - D("0.1")) < D("1e-18")
    assert change_by_shims(q("0.05 in"), 45, 90).unit == "in"


def test_round_the_gear():
    found = round_the_gear([q("0.14 mm"), q("0.17 mm"), q("190 um"), q("0.15 mm")])
    assert (found.least, found.greatest, found.variation) == (q("0.14 mm"), q("190 um"), q("0.05 mm"))


def test_ratio():
    assert ratio([(11, 41)]) == Fraction(41, 11)
    assert ratio([(18, 32), (20, 30)]) == Fraction(8, 3)
    assert round(ratio([(17, 36)]), 3) == Fraction("2.118")


@pytest.mark.parametrize("stages", [[], [(0, 5)], [(5, 0)], [(3, 4), (-1, 2)]])
def test_gears_have_teeth(stages):
    with pytest.raises(
        BadGears, match=r"^every gear needs at least one tooth: give driver and driven teeth of each stage$"
    ):
        ratio(stages)


def test_one_tooth_will_do():
    assert ratio([(1, 40)]) == 40
    assert ratio([(40, 1)]) == Fraction(1, 40)


@given(st.integers(min_value=1, max_value=60), st.integers(min_value=1, max_value=60))
def test_teeth_meet_again_as_counting_says(driver, driven):
    turns = next(turn for turn in range(1, driven + 1) if turn * driver % driven == 0)
    assert turns_to_meet_again(driver, driven) == turns
    assert hunting(driver, driven) is (turns == driven)


def test_meshing_needs_teeth():
    with pytest.raises(BadGears):
        turns_to_meet_again(0, 5)


def test_the_first_reading_gives_the_unit():
    found = round_the_gear([q("0.14 mm"), q("150 um")])
    assert str(found.variation) == "0.01 mm"
    assert round_the_gear([q("0.14 mm")]).variation == q("0 mm")
    assert at_radius(q("1 mm"), q("0.5 in"), q("1 in")) == q("2 mm")
    assert isinstance(turns_to_meet_again(12, 36), int)
