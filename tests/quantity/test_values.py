from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.errors import InputError
from benchvoice.quantity.units import UNITS, UnknownUnit, WrongKind
from benchvoice.quantity.values import BadQuantity, Quantity, parse_quantity, quantity


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("25 N_m", "25", "N_m"),
        ("8 min", "8", "min"),
        ("90deg", "90", "deg"),
        ("0.1", "0.1", "1"),
        ("-2.50 thou", "-2.50", "thou"),
        ("+0.05 mm", "0.05", "mm"),
        ("3/8 in", "0.375", "in"),
        ("-1/64in", "-0.015625", "in"),
        ("  7 g ", "7", "g"),
        ("123456789012345.123456789012345 mm", "123456789012345.123456789012345", "mm"),
    ],
)
def test_parse(text, value, unit):
    found = parse_quantity(text)
    assert (str(found.value), found.unit) == (value, unit)


@pytest.mark.parametrize(
    "text",
    ["", "mm", "1e3 mm", "1,000 mm", ".5 mm", "5. mm", "1 2 mm", "5  mm", "٣ mm", "0x10 mm", "NaN", "inf mm",
     "1_000 mm", "1 1/2 in", "5 mm/s", "--5 mm", "1234567890123456 mm", "1/2/3 in", "0.1234567890123456 mm",
     "12345/3 in", "5 N·m"],
)  # fmt: skip
def test_what_is_not_a_quantity_is_refused(text):
    with pytest.raises(BadQuantity) as fault:
        parse_quantity(text)
    assert str(fault.value) == f"{text!r} is not a number with a unit: write it like '25 N_m', '1.5 thou' or '0.1'"


@pytest.mark.parametrize("text", ["1/3 in", "5/0 in", "0/0"])
def test_fractions_without_an_end_are_refused(text):
    with pytest.raises(BadQuantity, match=r"has no end as a decimal: write it as a decimal, rounded as you mean it"):
        parse_quantity(text)


def test_unknown_unit_is_named():
    with pytest.raises(UnknownUnit, match="'furlong' is not a unit"):
        parse_quantity("5 furlong")
    with pytest.raises(UnknownUnit):
        Quantity(value=Decimal(1), unit="Nm")


@given(
    st.decimals(allow_nan=False, allow_infinity=False, places=4, min_value=-(10**9), max_value=10**9),
    st.sampled_from(sorted(UNITS)),
)
def test_what_is_printed_reads_back_with_its_decimals(value, unit):
    written = Quantity(value=value, unit=unit)
    found = parse_quantity(str(written))
    assert (f"{found.value:f}", found.unit) == (f"{value:f}", unit)


def test_trailing_zeros_are_kept():
    assert str(parse_quantity("1.50 mm")) == "1.50 mm"
    assert str(parse_quantity("0.10")) == "0.10"


def test_in_unit():
    assert parse_quantity("1 in").in_unit("mm") == Fraction("25.4")
    with pytest.raises(WrongKind):
        parse_quantity("1 in").in_unit("g")


def test_computed_quantity_is_exact_or_rounded_at_twenty_places():
    assert quantity(Fraction(1, 8), "mm").value == Decimal("0.125")
    assert str(quantity(Fraction(1, 3), "mm").value) == "0." + "3" * 20


def test_quantities_are_compared_as_they_were_said_and_frozen():
    assert parse_quantity("1.5 mm") == Quantity(value=Decimal("1.5"), unit="mm")
    with pytest.raises(AttributeError):
        parse_quantity("1.5 mm").value = Decimal(2)  # type: ignore[misc]


@given(st.text(max_size=30))
def test_any_text_gives_a_quantity_or_an_input_error(text):
    try:
        unit = parse_quantity(text).unit
    except InputError:
        return
    assert unit in UNITS
