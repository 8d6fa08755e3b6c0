"""Sizes hold at 20 degC (ISO 1:2016, published). Expansion: handbook ranges, common practice."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.thermal import (
    EXPANSION,
    REFERENCE,
    BadHeat,
    UnknownMaterial,
    at_reference,
    clearance_at,
    expansion_of,
    growth,
    heat_to,
    reading_error,
)
from benchvoice.quantity.values import parse_quantity as q

D = Decimal
STEEL = D("0.0000115")
ALUMINIUM = D("0.000023")


def test_reference():
    assert q("20 degC") == REFERENCE
    assert REFERENCE.in_unit("degF") == 68


# Handbook ranges, millionths per kelvin.
@pytest.mark.parametrize(
    ("material", "least", "most"),
    [
        ("steel", 11, "12.5"),
        ("stainless steel", 15, 17),
        ("cast iron", 10, 11),
        ("aluminium", 22, 24),
        ("bronze", 17, 19),
        ("brass", 18, 20),
        ("copper", "16.5", "17.5"),
        ("titanium", "8.4", 9),
        ("magnesium", 25, 27),
    ],
)
def test_expansion_is_within_the_handbook_range(material, least, most):
    assert D(least) <= expansion_of(material) * 1_000_000 <= D(most)


def test_every_material_is_tested():
    assert len(EXPANSION) == 9


def test_unknown_material():
    with pytest.raises(
        UnknownMaterial, match="'wood' has no expansion here: give a figure per kelvin, or steel, stain"
    ):
        expansion_of("wood")


def test_aluminium_by_its_other_name():
    assert expansion_of("aluminum") == expansion_of("aluminium")


@pytest.mark.parametrize(
    ("length", "alpha", "cold", "warm", "wanted"),
    [
        ("100 mm", STEEL, "20 degC", "30 degC", "0.0115 mm"),
        ("100 mm", ALUMINIUM, "20 degC", "95 degC", "0.1725 mm"),
        ("25 mm", STEEL, "35 degC", "20 degC", "-0.0043125 mm"),
        ("10 in", STEEL, "68 degF", "86 degF", "0.00115 in"),
    ],
)
def test_growth(length, alpha, cold, warm, wanted):
    assert growth(q(length), alpha, q(cold), q(warm)) == q(wanted)


def test_size_at_twenty_degrees():
    assert at_reference(q("100.000 mm"), STEEL, q("20 degC")).value == 100
    found = at_reference(q("95.412 mm"), ALUMINIUM, q("31 degC"))
    assert found.unit == "mm"
    assert abs(found.value - D("95.38787")) < D("0.000005")


@given(st.decimals(places=3, min_value=1, max_value=500), st.decimals(places=1, min_value=-20, max_value=120))
def test_size_at_twenty_degrees_grows_back(size, temperature):
    warm = q(f"{temperature} degC")
    cold = at_reference(q(f"{size} mm"), STEEL, warm)
    back = Fraction(cold.value) + Fraction(growth(cold, STEEL, REFERENCE, warm).value)
    assert abs(back - Fraction(size)) < Fraction(1, 10**15)


def test_a_part_that_would_vanish():
    with pytest.raises(
        BadHeat, match="nothing is left of a part at -273 degC with 1 per kelvin: look at the two figures"
    ):
        at_reference(q("1 mm"), D(1), q("-273 degC"))
    with pytest.raises(BadHeat):
        at_reference(q("1 mm"), D("0.1"), q("10 degC"))


def test_reading_error():
    steel, warm_aluminium = (STEEL, q("30 degC")), (ALUMINIUM, q("30 degC"))
    assert reading_error(q("80 mm"), warm_aluminium, steel) == q("0.0092 mm")
    assert reading_error(q("80 mm"), steel, steel).value == 0
    assert reading_error(q("120 mm"), (D("0.0000105"), q("38 degC")), (STEEL, q("22 degC"))) == q("0.01992 mm")
    assert reading_error(q("80 mm"), (STEEL, q("20 degC")), (STEEL, q("30 degC"))) == q("-0.0092 mm")


def test_clearance_of_warm_parts():
    found = clearance_at(q("86.000 mm"), D("0.0000105"), q("85.960 mm"), ALUMINIUM, q("120 degC"))
    assert found == q("-0.067408 mm")
    assert clearance_at(q("1 in"), STEEL, q("25.3 mm"), STEEL, q("20 degC")).in_unit("mm") == pytest.approx(0.1)


# From the shipped reduction gear: a 0.015 press on 30 mm, opened 0.025 by a rise of 70 degrees.
def test_heat_to():
    assert round(heat_to(q("0.060 mm"), q("0.050 mm"), q("70 mm"), STEEL, q("20 degC")).value, 1) == D("156.6")
    gear = heat_to(q("15 um"), q("0.0102 mm"), q("30 mm"), D("0.000012"), q("68 degF"))
    assert gear == q("90 degC")


@pytest.mark.parametrize(("alpha", "diameter"), [("0", "30 mm"), ("-0.1", "30 mm"), ("0.1", "0 mm"), ("0.1", "-1 mm")])
def test_what_never_grows(alpha, diameter):
    with pytest.raises(BadHeat, match="never grows: give both above nought"):
        heat_to(q("1 mm"), q("1 mm"), q(diameter), D(alpha), q("20 degC"))


def test_a_small_shrink_fit():
    assert heat_to(q("0.001 in"), q("0 in"), q("0.5 in"), D("0.00002"), q("20 degC")) == q("120 degC")
