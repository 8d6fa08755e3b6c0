import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.cylinder import (
    WEAKEST_OVER_BEST,
    BadCylinder,
    clearance_for,
    disc,
    leakage,
    mean_piston_speed,
    piston_drop,
    rim_distance,
    ring_gap,
    ring_gap_growth,
    top_dead_centre,
    volumes,
    weakest_over_best,
)
from benchvoice.quantity.values import parse_quantity as q

D = Decimal


def sizes(**other):
    given_sizes = {
        "bore": "86.0 mm",
        "stroke": "86.0 mm",
        "chamber": "50.0 cc",
        "gasket_bore": "87.0 mm",
        "gasket_thickness": "1.2 mm",
        "below_deck": "0.2 mm",
        "dish": "5.0 cc",
    }
    return {name: q(text) for name, text in {**given_sizes, **other}.items()}


def test_volumes():
    # Computed from the definition.
    found = volumes(**sizes(), cylinders=4)
    expected = {
        "swept": ("499.557", "cc"),
        "gasket": ("7.134", "cc"),
        "deck": ("1.162", "cc"),
        "clearance": ("63.295", "cc"),
        "ratio": ("8.892", "1"),
        "displacement": ("1998.229", "cc"),
    }
    for name, (value, unit) in expected.items():
        part = getattr(found, name)
        assert (round(part.value, 3), part.unit) == (D(value), unit)


def test_piston_above_the_deck_and_dome_take_volume_away():
    found = volumes(**sizes(below_deck="-0.2 mm", dish="-5 cc"), cylinders=1)
    assert round(found.deck.value, 3) == D("-1.162")
    assert round(found.clearance.value, 3) == D("50.972")
    assert found.displacement == found.swept


def test_sizes_in_inches():
    # The launch diesel of the shipped procedures: 2.913 by 3.307 in is 361.3 cc.
    found = volumes(**sizes(bore="2.913 in", stroke="3.307 in"), cylinders=4)
    assert round(found.swept.value, 1) == D("361.2")
    assert round(found.displacement.value) == D("1445")


@pytest.mark.parametrize("other", [{"dish": "-70 cc"}, {"stroke": "0 mm"}, {"stroke": "-1 mm"}])
def test_sizes_that_no_engine_has(other):
    with pytest.raises(
        BadCylinder,
        match=r"^these sizes leave no room over the piston or no stroke: look at the signs of deck and dish$",
    ):
        volumes(**sizes(**other), cylinders=4)


def test_no_room_at_all_is_too_little():
    flat = sizes(chamber="0 cc", gasket_thickness="0 mm", below_deck="0 mm", dish="0 cc")
    with pytest.raises(BadCylinder):
        volumes(**flat, cylinders=1)


def test_disc():
    assert float(disc(q("20 mm"), q("1 cm"))) == pytest.approx(math.pi, rel=1e-15)


def test_clearance_for_a_ratio():
    assert round(clearance_for(q("499.56 cc"), D("10.5")).value, 4) == D("52.5853")
    assert clearance_for(q("20 in3"), 11) == q("2 in3")
    for poor in (1, 0, D("0.5")):
        with pytest.raises(BadCylinder, match="can't be: give one above 1"):
            clearance_for(q("100 cc"), poor)


@given(st.decimals(places=2, min_value=D("1.5"), max_value=25))
def test_clearance_gives_the_ratio_back(wanted):
    swept = q("500 cc")
    clearance = Fraction(clearance_for(swept, wanted).value)
    assert abs((500 + clearance) / clearance - Fraction(wanted)) < Fraction(1, 10**15)


# Published: 0.018 to 0.020 in for a 4.030 in bore (a trade magazine, January 2019, seen); else common practice.
def test_ring_gap():
    assert ring_gap(q("4.000 in"), D("0.0035")) == q("0.014 in")
    assert round(ring_gap(q("4.030 in"), D("0.0045")).value, 3) == D("0.018")
    assert round(ring_gap_growth(q("0.05 mm")).value, 5) == D("0.15708")


def test_mean_piston_speed():
    assert mean_piston_speed(q("86.0 mm"), q("6000 rpm")) == q("17.2 m_s")
    assert mean_piston_speed(q("3.48 in"), q("6500 rpm"), "ft_min") == q("3770 ft_min")


@pytest.mark.parametrize(
    ("stroke", "rod", "angle", "drop"),
    [
        ("86.0 mm", "143 mm", 10, "0.8483"),
        ("86.0 mm", "143 mm", 28, "6.4653"),
        ("70 mm", "115 mm", 90, "40.4555"),
        ("70 mm", "11.5 cm", 180, "70"),
        ("70 mm", "115 mm", 0, "0"),
        ("70 mm", "115 mm", 360, "0"),
    ],
)
def test_piston_drop(stroke, rod, angle, drop):
    found = piston_drop(q(stroke), q(rod), angle)
    assert found.unit == "mm"
    assert abs(found.value - D(drop)) < D("0.00005")


def test_a_rod_is_longer_than_half_the_stroke():
    with pytest.raises(
        BadCylinder, match=r"a rod of 35 mm can't swing over a stroke of 70 mm: look at the two figures"
    ):
        piston_drop(q("70 mm"), q("35 mm"), 10)
    assert piston_drop(q("70 mm"), q("35.1 mm"), 0).value == 0


def test_rim_distance():
    assert round(rim_distance(q("150 mm"), q("10 deg")).value, 4) == D("13.0900")
    assert rim_distance(q("150 mm"), q("0.5 turn")) == rim_distance(q("150 mm"), q("180 deg"))


def test_top_dead_centre():
    assert top_dead_centre(q("-38 deg"), q("34 deg")) == q("-2 deg")
    assert top_dead_centre(q("-41.5 deg"), q("40.5 deg")) == q("-0.5 deg")
    assert top_dead_centre(q("-36 deg"), q("0.1 turn")) == q("0 deg")


# Common practice, no source: three quarters.
def test_compressions():
    even = weakest_over_best((q("11.8 bar"), q("12.1 bar"), q("11.5 bar"), q("1200 kPa")))
    assert even == Fraction(115, 121) >= WEAKEST_OVER_BEST
    assert weakest_over_best((q("10.9 bar"), q("8.0 bar"), q("11.2 bar"))) == Fraction(5, 7) < WEAKEST_OVER_BEST
    assert Fraction(3, 4) == WEAKEST_OVER_BEST
    assert weakest_over_best((q("0 bar"), q("8 bar"))) == 0


@pytest.mark.parametrize("readings", [(), ("0 bar", "0 bar"), ("-1 bar", "8 bar")])
def test_compressions_that_say_nothing(readings):
    with pytest.raises(
        BadCylinder, match=r"^compression readings are above nought: give the readings of all cylinders$"
    ):
        weakest_over_best(tuple(map(q, readings)))


def test_leakage():
    assert leakage(q("100 psi"), q("88 psi")) == q("12 percent")
    assert leakage(q("1 bar"), q("75 kPa")) == q("25 percent")
    for supply in ("0 psi", "-1 psi"):
        with pytest.raises(BadCylinder, match="tests nothing: give a pressure above nought"):
            leakage(q(supply), q("1 psi"))


def test_a_very_small_engine():
    small = sizes(
        bore="8 mm", stroke="9 mm", chamber="0.05 cc", gasket_thickness="0 mm", below_deck="0 mm", dish="0 cc"
    )
    found = volumes(**small, cylinders=1)
    assert found.swept.value < 1
    assert found.clearance == q("0.05 cc")


def test_one_cylinder_is_even_with_itself():
    assert weakest_over_best((q("12 bar"),)) == 1
