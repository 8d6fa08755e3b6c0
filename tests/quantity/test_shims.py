"""Arithmetic of the trade; figures invented."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.limits import Limits
from benchvoice.quantity.packs import BadStock
from benchvoice.quantity.shims import (
    Choice,
    Lash,
    OpenLimits,
    choose_shim,
    clearance_shim,
    cold_lash,
    lash_shim,
    preload_shim,
    screw_turn,
)
from benchvoice.quantity.values import parse_quantity as q

D = Decimal
PLAY = Limits(low=D("0.05"), high=D("0.15"), unit="mm")
LASH = Limits(low=D("0.15"), high=D("0.25"), unit="mm")
STOCK = [D("1.90"), D("1.95"), D("2.00"), D("2.05"), D("2.10"), D("2.15"), D("2.20"), D("2.25"), D("2.30")]


def texts(values):
    return [str(value) for value in values]


@pytest.mark.parametrize(
    ("fitted", "play", "needed", "shims", "plays", "fits"),
    [
        ("2.00", "0.28", "2.18", ["2.20"], ["0.08"], True),
        ("2.00", "0.275", "2.175", ["2.15", "2.20"], ["0.125", "0.075"], True),
        ("2.10", "0.02", "2.02", ["2.00"], ["0.12"], True),
        ("2.00", "0.10", "2", ["2.00"], ["0.1"], True),
        ("2.00", "0.62", "2.52", ["2.30"], ["0.32"], False),
    ],
)
def test_choice(fitted, play, needed, shims, plays, fits):
    found = choose_shim(D(fitted), D(play), PLAY, STOCK)
    assert (str(found.needed), texts(found.shims), texts(found.plays), found.in_limits) == (needed, shims, plays, fits)


def test_choice_that_just_reaches_a_limit_is_in():
    assert choose_shim(D("2.00"), D("0.15"), PLAY, [D("2.00")]).in_limits
    assert not choose_shim(D("2.00"), D("0.16"), PLAY, [D("2.00")]).in_limits
    assert choose_shim(D("2.00"), D("0.05"), PLAY, [D("2.00")]).in_limits
    assert not choose_shim(D("2.00"), D("0.04"), PLAY, [D("2.00")]).in_limits


def test_nominal_is_aimed_at_where_there_is_one():
    aimed = Limits(low=D("0.05"), high=D("0.15"), unit="mm", nominal=D("0.05"))
    assert choose_shim(D("2.00"), D("0.28"), aimed, STOCK).needed == D("2.23")
    nominal_alone = Limits(low=D("0.05"), high=None, unit="mm", nominal=D("0.08"))
    assert choose_shim(D("2.00"), D("0.28"), nominal_alone, STOCK) == Choice(
        needed=D("2.2"), shims=(D("2.20"),), plays=(D("0.08"),), in_limits=True
    )


def test_a_shim_twice_in_stock_is_one_choice():
    assert choose_shim(D("2.00"), D("0.28"), PLAY, [D("2.20"), D("2.20"), D("2.10")]).shims == (D("2.20"),)


def test_nothing_to_choose_from():
    with pytest.raises(BadStock, match=r"^there is no shim in stock to choose from: count the tray again$"):
        choose_shim(D(2), D("0.1"), PLAY, [])


@pytest.mark.parametrize(("low", "high"), [(None, D("0.2")), (D("0.1"), None)])
def test_open_limits_have_no_middle(low, high):
    with pytest.raises(
        OpenLimits, match=r"^limits with an open side have no middle to aim at: give both limits or a nominal$"
    ):
        choose_shim(D(2), D("0.1"), Limits(low=low, high=high, unit="mm"), STOCK)


@given(
    st.decimals(places=3, min_value=0, max_value=1),
    st.sets(st.decimals(places=2, min_value=1, max_value=3), min_size=1),
)
def test_no_other_shim_is_nearer(play, stock):
    found = choose_shim(D("2.00"), play, PLAY, sorted(stock))
    middle = D("0.10")
    best = min(abs(D("2.00") + play - shim - middle) for shim in stock)
    assert [abs(result - middle) for result in found.plays] == [best] * len(found.shims)
    assert 1 <= len(found.shims) <= 2


def test_preload_and_clearance():
    assert preload_shim(q("1.42 mm"), q("0.05 mm")) == q("1.47 mm")
    assert preload_shim(q("0.058 in"), q("3 thou")) == q("0.061 in")
    assert clearance_shim(q("23.46 mm"), q("21.98 mm"), q("0.05 mm")) == q("1.43 mm")
    assert clearance_shim(q("1 in"), q("12.7 mm"), q("254 um")) == q("0.49 in")


@pytest.mark.parametrize(
    ("old", "measured", "step", "needed", "shim", "lash", "fits", "change"),
    [
        ("2.80", "0.12", "0.05", "2.72", "2.70", "0.22", True, True),
        ("2.65", "0.31", "0.05", "2.76", "2.75", "0.21", True, True),
        ("2.70", "0.20", "0.05", "2.7", "2.70", "0.2", True, False),
        ("2.80", "0.14", "0.20", "2.74", "2.80", "0.14", False, True),
        ("2.80", "0.10", "0.05", "2.7", "2.70", "0.2", True, True),
        ("2.80", "0.15", "0.05", "2.75", "2.75", "0.2", True, False),
        ("2.80", "0.25", "0.05", "2.85", "2.85", "0.2", True, False),
        ("2.80", "0.26", "0.05", "2.86", "2.85", "0.21", True, True),
    ],
)
def test_lash_shim(old, measured, step, needed, shim, lash, fits, change):
    found = lash_shim(D(old), D(measured), LASH, D(step))
    assert (str(found.needed), str(found.shim), str(found.lash)) == (needed, shim, lash)
    assert (found.in_limits, found.change_needed) == (fits, change)


# Common practice, no source: more clearance is the safer.
@pytest.mark.parametrize(
    ("measured", "shim"), [("0.225", "2.80"), ("0.175", "2.75"), ("0.2251", "2.85"), ("0.2249", "2.80")]
)
def test_on_a_tie_the_thinner(measured, shim):
    assert lash_shim(D("2.80"), D(measured), LASH, D("0.05")).shim == D(shim)


def test_lash_that_no_shim_can_give():
    with pytest.raises(
        BadStock, match=r"no shim is thin enough for a lash of -3 with 2\.80 fitted: look at the figures"
    ):
        lash_shim(D("2.80"), D("-3"), LASH, D("0.05"))
    with pytest.raises(BadStock):
        lash_shim(D("2.80"), D("-2.60"), LASH, D("0.05"))
    assert isinstance(lash_shim(D("2.80"), D("-2.55"), LASH, D("0.05")), Lash)


def test_screw():
    turn = screw_turn(q("0.10 mm"), D("1.5"), q("1 mm"))
    assert turn.unit == "turn"
    assert round(turn.in_unit("deg"), 10) == 24
    # From the shipped valve lash: a quarter turn of a 1 mm screw, rocker 1 to 1, is 9.8 thou.
    assert round(screw_turn(q("9.84 thou"), 1, q("1 mm")).value, 3) == D("0.250")
    for ratio, pitch in ((0, "1 mm"), (-1, "1 mm"), (1, "0 mm"), (1, "-1 mm")):
        with pytest.raises(BadStock, match=r"^rocker ratio and pitch are above nought: look at the two figures$"):
            screw_turn(q("1 mm"), ratio, q(pitch))


def test_cold_lash():
    assert cold_lash(q("0.20 mm"), q("0.05 mm")) == q("0.25 mm")
    assert cold_lash(q("8 thou"), q("0.002 in")) == q("10 thou")
