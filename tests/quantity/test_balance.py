import math
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from benchvoice.quantity.balance import (
    BadBalance,
    correction,
    drilling_depth,
    permissible_offset,
    permissible_unbalance,
    split,
    unbalance,
)
from benchvoice.quantity.values import parse_quantity as q

D = Decimal


# Published: printed example of a toolholder maker's catalogue (seen): G 6.3, 10 000 rpm, 2 kg is 12 g mm.
def test_permissible_unbalance():
    assert round(permissible_unbalance(q("6.3 mm_s"), q("10000 rpm"), q("2 kg")).value, 2) == D("12.03")
    assert round(permissible_offset(q("6.3 mm_s"), q("10000 rpm")).value, 3) == D("6.016")
    assert permissible_offset(q("6.3 mm_s"), q("10000 rpm")).unit == "um"
    assert permissible_unbalance(q("6.3 mm_s"), q("10000 rpm"), q("2000 g")).unit == "g_mm"


@pytest.mark.parametrize("speed", ["0 rpm", "-100 rpm"])
def test_balance_needs_a_speed(speed):
    with pytest.raises(BadBalance, match="asks for no balance: give one above nought"):
        permissible_offset(q("6.3 mm_s"), q(speed))


def test_unbalance_and_its_correction():
    assert unbalance(q("3.2 g"), q("110 mm")) == q("352 g_mm")
    assert unbalance(q("0.0032 kg"), q("11 cm")) == q("352 g_mm")
    assert round(correction(q("352 g_mm"), q("95 mm")).value, 4) == D("3.7053")
    assert correction(q("60 g_mm"), q("6 cm")) == q("1 g")
    for radius in ("0 mm", "-1 mm"):
        with pytest.raises(BadBalance, match="nothing can be corrected at a radius of"):
            correction(q("352 g_mm"), q(radius))


def test_split():
    first, second = split(q("4 g"), q("30 deg"), (q("0 deg"), q("60 deg")))
    assert round(first.value, 4) == round(second.value, 4) == D("2.3094")
    first, second = split(q("3 g"), q("50 deg"), (q("45 deg"), q("0.25 turn")))
    assert (round(first.value, 4), round(second.value, 4)) == (D("2.7271"), D("0.3698"))
    assert first.unit == second.unit == "g"


ANGLES = st.integers(min_value=0, max_value=359)


@given(ANGLES, ANGLES, ANGLES)
def test_split_adds_up_to_the_whole_as_vectors(at, one, other):
    assume((one - other) % 180 > 5)
    assume((one - other) % 180 < 175)
    first, second = split(q("5 g"), q(f"{at} deg"), (q(f"{one} deg"), q(f"{other} deg")))
    for function in (math.sin, math.cos):
        total = float(first.value) * function(math.radians(one)) + float(second.value) * function(math.radians(other))
        assert total == pytest.approx(5 * function(math.radians(at)), abs=1e-9)


@pytest.mark.parametrize("other", ["40 deg", "220 deg"])
def test_holes_in_one_line_cannot_share(other):
    with pytest.raises(BadBalance, match=r"^the two holes lie in one line with the axis: choose two that don't$"):
        split(q("4 g"), q("30 deg"), (q("40 deg"), q(other)))


def test_drilling_depth():
    assert round(drilling_depth(q("5 g"), q("10 mm"), q("7.85 g_cc")).value, 3) == D("8.110")
    inches = drilling_depth(q("5 g"), q("0.5 in"), q("7.85 g_cc"))
    assert (round(inches.value, 4), inches.unit) == (D("0.1980"), "in")
    for drill, density in (("0 mm", "7.85 g_cc"), ("-1 mm", "7.85 g_cc"), ("10 mm", "0 g_cc"), ("10 mm", "-1 g_cc")):
        with pytest.raises(BadBalance, match=r"^drill and density are above nought: look at the two figures$"):
            drilling_depth(q("5 g"), q(drill), q(density))


def test_small_figures_are_figures():
    assert permissible_offset(q("6.3 mm_s"), q("0.5 rpm")).value > 0
    assert correction(q("1 g_mm"), q("0.5 mm")) == q("2 g")
    assert drilling_depth(q("5 g"), q("0.5 in"), q("0.9 g_cc")).value > 0
