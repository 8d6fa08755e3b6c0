"""Preload: handbook formula, ISO 16047 and VDI 2230 (recalled), each value with half its last digit."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.preload import (
    Friction,
    PreloadError,
    nut_factor,
    preload_at_yield,
    preload_by_friction,
    preload_from,
    torque_for,
    torque_iso_16047,
    torque_vdi_2230,
)
from benchvoice.tighten.threads import metric, parse_thread


@pytest.mark.parametrize(
    ("factor", "diameter", "preload", "torque"),  # computed
    [
        ("0.20", "10", 25275, "50.550"),
        ("0.15", "8", 15900, "19.080"),
        ("0.20", "12", 36675, "88.020"),
        ("0.12", "14", 70000, "117.600"),
    ],
)
def test_torque_by_nut_factor(factor: str, diameter: str, preload: int, torque: str) -> None:
    assert torque_for(preload, Decimal(factor), Decimal(diameter)) == Fraction(torque)
    assert preload_from(Decimal(torque), Decimal(factor), Decimal(diameter)) == preload


@pytest.mark.parametrize(
    ("factor", "diameter", "torque", "preload"),  # computed
    [("0.20", "10", 48, "24000.0"), ("0.15", "8", 25, "20833.3"), ("0.16", "12", 80, "41666.7")],
)
def test_preload_by_nut_factor(factor: str, diameter: str, torque: int, preload: str) -> None:
    assert abs(preload_from(torque, Decimal(factor), Decimal(diameter)) - Fraction(preload)) <= Fraction("0.05")


def friction(thread: str, head: str, outer: str, inner: str) -> Friction:
    return Friction(thread=Decimal(thread), head=Decimal(head), outer=Decimal(outer), inner=Decimal(inner))


@pytest.mark.parametrize(
    ("size", "preload", "rub", "iso", "vdi", "factor"),
    [  # published forms (recalled), ISO 16047:2005 and VDI 2230-1:2003
        ("M10", 29600, friction("0.12", "0.12", "16", "11"), "49.54", "49.67", "0.1674"),
        ("M8", 18600, friction("0.12", "0.12", "13", "9"), "25.23", "25.30", "0.1696"),
        ("M12", 43000, friction("0.14", "0.14", "18", "13.5"), "97.12", "97.38", "0.1882"),
        ("M10", 29600, friction("0.10", "0.10", "16", "11"), "42.46", "42.58", "0.1435"),
        ("M10 x 1.25", 30000, friction("0.08", "0.12", "16", "11"), "42.99", "43.09", "0.1433"),
    ],
)
def test_torque_by_friction(size: str, preload: int, rub: Friction, iso: str, vdi: str, factor: str) -> None:
    thread = parse_thread(size)
    parts = torque_iso_16047(preload, thread, rub)
    assert abs(parts.total - Fraction(iso)) <= Fraction("0.005")
    assert abs(torque_vdi_2230(preload, thread, rub).total - Fraction(vdi)) <= Fraction("0.005")
    assert abs(nut_factor(thread, rub) - Fraction(factor)) <= Fraction("0.00005")
    assert preload_by_friction(parts.total, thread, rub) == preload
    assert torque_for(preload, nut_factor(thread, rub), thread.diameter) == parts.total


def test_where_a_torque_goes() -> None:
    parts = torque_iso_16047(29600, parse_thread("M10"), friction("0.12", "0.12", "16", "11"))
    assert parts.stretching + parts.in_thread + parts.under_head == parts.total
    assert Fraction("0.14") < parts.stretching_share < Fraction("0.15")
    smooth = torque_iso_16047(1000, parse_thread("M10"), friction("0", "0", "16", "11"))
    assert smooth.stretching_share == 1
    assert abs(smooth.total - Fraction("0.2387324146")) < Fraction("0.0000000001")


@pytest.mark.parametrize(
    ("size", "yields", "mu", "kilonewtons"),
    [
        ("M10", 640, "0.12", "29.60"),  # published: table A1 prints 29.6 (recalled)
        ("M12", 640, "0.12", "43.11"),  # published: table A1 prints 43.0 (recalled), the formula gives 43.1
        ("M8", 640, "0.12", "18.63"),  # computed
        ("M10", 940, "0.12", "43.48"),
        ("M10", 640, "0.10", "30.35"),
    ],
)
def test_preload_at_nine_tenths_of_yield(size: str, yields: int, mu: str, kilonewtons: str) -> None:
    found = preload_at_yield(yields, parse_thread(size), Decimal(mu))
    assert abs(found / 1000 - Fraction(kilonewtons)) <= Fraction("0.005")
    assert preload_at_yield(yields, parse_thread(size), Decimal(mu), 1) * 9 / 10 == found


@given(st.integers(1, 40), st.integers(0, 39))
def test_more_friction_leaves_less(high: int, low: int) -> None:
    if low >= high:
        low, high = high - 1, high
    thread = metric(10, Fraction("1.5"))
    slippery, rough = (friction(f"0.{mu:02}", f"0.{mu:02}", "16", "11") for mu in (low, high))
    assert preload_by_friction(50, thread, slippery) > preload_by_friction(50, thread, rough)
    assert preload_at_yield(640, thread, slippery.thread) > preload_at_yield(640, thread, rough.thread)


@pytest.mark.parametrize(
    "make",
    [
        lambda: torque_for(1000, 0, 10),
        lambda: torque_for(1000, Decimal("0.2"), 0),
        lambda: preload_from(10, 0, 10),
        lambda: preload_from(10, Decimal("0.2"), -1),
        lambda: friction("-0.1", "0.1", "16", "11"),
        lambda: friction("0.1", "-0.1", "16", "11"),
        lambda: friction("0.1", "0.1", "11", "16"),
        lambda: friction("0.1", "0.1", "11", "11"),
        lambda: friction("0.1", "0.1", "11", "0"),
        lambda: preload_at_yield(0, parse_thread("M10"), 0),
        lambda: preload_at_yield(640, parse_thread("M10"), Decimal("-0.1")),
        lambda: preload_at_yield(640, parse_thread("M10"), 0, 0),
    ],
)
def test_what_no_joint_has(make: object) -> None:
    with pytest.raises(PreloadError, match=r"correct|give the hole"):
        make()  # type: ignore[operator]


def test_small_figures_are_allowed() -> None:
    assert torque_for(1000, Decimal("0.2"), Decimal("0.5")) == Fraction("0.1")
    assert friction("0.1", "0.1", "0.9", "0.5").bearing == Fraction("0.7")
    assert preload_at_yield(Decimal("0.5"), parse_thread("M10"), 0) * 1280 == preload_at_yield(
        640, parse_thread("M10"), 0
    )


def test_no_friction_is_allowed() -> None:
    assert preload_at_yield(640, parse_thread("M10"), 0) > preload_at_yield(640, parse_thread("M10"), Decimal("0.01"))
