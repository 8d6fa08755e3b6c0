import subprocess
import sys
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.units import (
    UNITS,
    UnknownUnit,
    WrongKind,
    convert,
    info_of,
    kind_of,
    to_decimal,
    units_of,
)

# Published: NIST SP 811 (2008) App. B.8 and NIST Handbook 44 App. C; international yard and pound (1959); exact.
FACTORS = [
    ("in", "mm", "25.4"),
    ("ft", "m", "0.3048"),
    ("yd", "m", "0.9144"),
    ("thou", "mm", "0.0254"),
    ("tenth", "mm", "0.00254"),
    ("uin", "um", "0.0254"),
    ("um", "mm", "0.001"),
    ("cm", "mm", "10"),
    ("in2", "mm2", "645.16"),
    ("cm2", "mm2", "100"),
    ("in3", "cc", "16.387064"),
    ("L", "cc", "1000"),
    ("mm3", "cc", "0.001"),
    ("gal_US", "L", "3.785411784"),
    ("qt_US", "L", "0.946352946"),
    ("pt_US", "L", "0.473176473"),
    ("fl_oz_US", "cc", "29.5735295625"),
    ("gal_imp", "L", "4.54609"),
    ("qt_imp", "L", "1.1365225"),
    ("pt_imp", "L", "0.56826125"),
    ("lb", "kg", "0.45359237"),
    ("oz", "g", "28.349523125"),
    ("t", "kg", "1000"),
    ("mg", "g", "0.001"),
    ("lbf", "N", "4.4482216152605"),
    ("ozf", "lbf", "0.0625"),
    ("m3", "L", "1000"),
    ("ft3", "in3", "1728"),
    ("m2", "cm2", "10000"),
    ("gal_min_US", "L_min", "3.785411784"),
    ("in3_rev", "cc_rev", "16.387064"),
    ("kgf", "N", "9.80665"),
    ("kN", "N", "1000"),
    ("ft_lb", "N_m", "1.3558179483314004"),
    ("in_lb", "N_m", "0.1129848290276167"),
    ("in_oz", "N_m", "0.00706155181422604375"),
    ("kgf_m", "N_m", "9.80665"),
    ("kgf_cm", "N_m", "0.0980665"),
    ("kN_m", "N_m", "1000"),
    ("N_cm", "N_m", "0.01"),
    ("ft_lb", "in_lb", "12"),
    ("bar", "kPa", "100"),
    ("mbar", "Pa", "100"),
    ("MPa", "kPa", "1000"),
    ("GPa", "MPa", "1000"),
    ("Mpsi", "psi", "1000000"),
    ("ksi", "psi", "1000"),
    ("kgf_cm2", "kPa", "98.0665"),
    ("kgf_mm2", "MPa", "9.80665"),
    ("atm", "kPa", "101.325"),
    ("inHg", "kPa", "3.386388640341"),
    ("mmHg", "Pa", "133.322387415"),
    ("inH2O", "Pa", "249.08891"),
    ("turn", "deg", "360"),
    ("h", "min", "60"),
    ("day", "h", "24"),
    ("min", "s", "60"),
    ("hp", "W", "745.69987158227022"),
    ("PS", "W", "735.49875"),
    ("kW", "W", "1000"),
    ("ft_min", "m_s", "0.00508"),
    ("ft_s", "m_s", "0.3048"),
    ("km_h", "m_s", None),
    ("mph", "km_h", "1.609344"),
    ("mm_s", "m_s", "0.001"),
    ("delta_degC", "delta_K", "1"),
    ("percent", "1", "0.01"),
    ("g_cc", "kg_m3", "1000"),
    ("mile", "m", "1609.344"),
    ("fl_oz_imp", "cc", "28.4130625"),
    ("mmH2O", "Pa", "9.80665"),
    ("deg", "arcmin", "60"),
    ("arcmin", "arcsec", "60"),
    ("cSt", "mm2_s", "1"),
    ("kWh", "J", "3600000"),
]


@pytest.mark.parametrize(("unit", "to", "factor"), [row for row in FACTORS if row[2] is not None])
def test_definition_is_exact(unit, to, factor):
    assert convert(1, unit, to) == Fraction(factor)


@pytest.mark.parametrize(
    ("unit", "to", "factor"),
    [
        ("km_h", "m_s", Fraction(5, 18)),
        ("psi", "Pa", Fraction("4.4482216152605") / Fraction("0.0254") ** 2),
        ("delta_degF", "delta_degC", Fraction(5, 9)),
        ("lbf_per_in", "N_per_mm", Fraction("4.4482216152605") / Fraction("25.4")),
    ],
)
def test_definition_that_never_ends_is_exact_too(unit, to, factor):
    assert convert(1, unit, to) == factor


@pytest.mark.parametrize(
    ("unit", "to", "printed"),
    [
        ("deg", "rad", "0.01745329251994329577"),
        ("rpm", "rad_s", "0.10471975511965977462"),
        ("turn", "rad", "6.2831853071795864769"),
    ],
)
def test_radian_is_right_to_twenty_digits(unit, to, printed):
    assert abs(convert(1, unit, to) - Fraction(printed)) < Fraction(1, 10**19)


@pytest.mark.parametrize(
    ("value", "unit", "to", "wanted"),
    [
        (-40, "degC", "degF", -40),
        (20, "degC", "degF", 68),  # the reference temperature of ISO 1
        (0, "K", "degC", Fraction("-273.15")),
        (77, "degF", "degC", 25),
        (180, "delta_degF", "delta_K", 100),
        (10, "delta_degC", "delta_degF", 18),
    ],
)
def test_temperature_and_its_difference(value, unit, to, wanted):
    assert convert(value, unit, to) == wanted


@given(
    st.sampled_from([(unit, to) for unit in UNITS for to in units_of(kind_of(unit))]),
    st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**6), max_value=10**6),
)
def test_there_and_back_changes_nothing(units, value):
    unit, to = units
    assert convert(convert(value, unit, to), to, unit) == Fraction(value)


@given(st.sampled_from([(unit, to) for unit in UNITS for to in UNITS if kind_of(unit) != kind_of(to)]))
def test_different_kinds_never_meet(units):
    with pytest.raises(WrongKind, match="give a unit of"):
        convert(1, *units)


def test_silent_conversions_of_pint_are_faults():
    for unit, to in (("N_m", "lbf"), ("rpm", "deg"), ("delta_degC", "degF"), ("degC", "delta_degF"), ("N_m", "W")):
        with pytest.raises(WrongKind):
            convert(2, unit, to)


def test_wrong_kind_says_what_each_is():
    with pytest.raises(WrongKind) as fault:
        convert(2, "N_m", "mm")
    assert str(fault.value) == "N_m is a torque and mm is a length: give a unit of torque, such as N_m"


def test_unknown_unit_names_the_nearest():
    with pytest.raises(UnknownUnit) as fault:
        kind_of("N_n")
    assert str(fault.value) == "'N_n' is not a unit: did you mean 'N_m'?"
    with pytest.raises(UnknownUnit) as fault:
        kind_of("furlong")
    assert str(fault.value) == "'furlong' is not a unit: use one such as mm, thou, N_m, ft_lb, bar, g, deg or min"


def test_units_said_as_text_are_refused_not_guessed():
    for text in ("", "Nm", "IN", "inch", "mil", "degree"):
        with pytest.raises(UnknownUnit):
            convert(1, text, "mm")


def test_every_unit_has_a_kind_symbol_and_name():
    assert len(UNITS) == 108
    for unit, info in UNITS.items():
        assert info.kind
        assert info.name
        assert info.symbol or unit == "1"
    assert info_of("N_m").symbol == "N·m"
    assert info_of("tenth").name == "tenth of a thou"
    assert units_of("speed") == ("rpm", "rad_s")


def test_units_cannot_be_added_while_running():
    with pytest.raises(TypeError):
        UNITS["furlong"] = UNITS["m"]  # type: ignore[index]


def test_pint_is_not_imported_before_the_first_conversion():
    code = (
        "import sys; from benchvoice.quantity import units; from benchvoice.quantity.values import parse_quantity; "
        "parse_quantity('25 N_m'); assert 'pint' not in sys.modules; units.convert(1, 'mm', 'mm'); "
        "assert 'pint' not in sys.modules; units.convert(1, 'in', 'mm'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


@pytest.mark.parametrize(
    ("value", "places", "wanted"),
    [
        (Fraction(3, 2), None, "1.5"),
        (Fraction(1, 3), None, "0.3333333333"),
        (Fraction(2, 3), None, "0.6666666667"),
        (Fraction(-2, 3), 4, "-0.6667"),
        (Fraction(1, 3), 0, "0"),
        (Fraction(5, 2), 0, "2"),
        (Fraction(7, 2), 0, "4"),
        (Fraction(1, 1024), None, "0.0009765625"),
        (Fraction(1, 2**14), None, "0.00006103515625"),
        (Fraction(1, 2**14), 10, "0.0000610352"),
        (Fraction(1, 5**3), None, "0.008"),
        (1500, None, "1500"),
        (1550, -2, "1.6E+3"),
        (0, None, "0"),
        (Decimal("2.50"), None, "2.5"),
    ],
)
def test_to_decimal(value, places, wanted):
    assert str(to_decimal(value, places)) == wanted


@given(st.fractions(max_denominator=10**6))
def test_to_decimal_is_within_half_of_the_last_place(value):
    assert abs(Fraction(to_decimal(value, 4)) - value) <= Fraction(1, 20000)


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**20), max_value=10**20))
def test_what_is_said_goes_through_to_decimal_unchanged(value):
    assert to_decimal(value) == value
