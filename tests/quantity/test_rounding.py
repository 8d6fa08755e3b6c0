from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.rounding import (
    BadRounding,
    Tie,
    agree,
    magnitude,
    mapped_resolution,
    round_converted,
    round_digits,
    round_inwards,
    round_places,
    round_to,
)
from benchvoice.quantity.units import UNITS, convert, kind_of, units_of
from benchvoice.quantity.values import parse_quantity

D = Decimal
VALUES = st.decimals(allow_nan=False, allow_infinity=False, places=5, min_value=-1000, max_value=1000)
STEPS = st.sampled_from([D("0.001"), D("0.005"), D("0.02"), D("0.5"), D(1), D(25)])


# Published: ISO 80000-1:2009 Annex B (examples recalled).
@pytest.mark.parametrize(
    ("value", "step", "tie", "wanted"),
    [
        ("12.223", "0.1", "A", "12.2"),
        ("12.251", "0.1", "A", "12.3"),
        ("12.275", "0.1", "A", "12.3"),
        ("1222.3", "10", "A", "1220"),
        ("1225.1", "10", "A", "1230"),
        ("1227.5", "10", "A", "1230"),
        ("12.25", "0.1", "A", "12.2"),
        ("12.35", "0.1", "A", "12.4"),
        ("1225.0", "10", "A", "1220"),
        ("1235.0", "10", "A", "1240"),
        ("12.25", "0.1", "B", "12.3"),
        ("12.35", "0.1", "B", "12.4"),
        ("1225.0", "10", "B", "1230"),
        # Computed: as decimals, where a binary float errs.
        ("2.675", "0.01", "A", "2.68"),
        ("2.675", "0.01", "B", "2.68"),
        ("1.005", "0.01", "A", "1.00"),
        ("0.5", "1", "A", "0"),
        ("-12.25", "0.1", "A", "-12.2"),
        ("-12.25", "0.1", "B", "-12.2"),  # the greater of two is the one nearer to nought
        # Published: ASME A112.18.1/CSA B125.1 annex A (seen in a public copy).
        ("1.655000", "0.01", "A", "1.66"),
        ("1.625000", "0.01", "A", "1.62"),
    ],
)
def test_round_to_a_range(value, step, tie, wanted):
    assert str(round_to(D(value), D(step), Tie(tie))) == wanted


def test_rounding_once_is_not_rounding_twice():
    assert round_to(D("12.251"), D("0.1")) == D("12.3")
    assert round_to(round_to(D("12.251"), D("0.01")), D("0.1")) == D("12.2")


def test_result_has_the_decimals_of_the_step():
    assert str(round_to(D("1.4"), D("0.500"))) == "1.500"
    assert str(round_to(1234, D("1E+2"))) == "1200"
    assert str(round_to(Fraction(-1, 3), D("0.1"))) == "-0.3"
    assert str(round_to(D("-0.01"), D("0.1"))) == "0.0"


def test_result_is_exact_however_long():
    long = D("12345678901234567890123456789012345.5")
    assert str(round_to(long, D("0.1"))) == "12345678901234567890123456789012345.5"


@pytest.mark.parametrize("step", ["0", "-0.1"])
def test_a_range_is_above_nought(step):
    with pytest.raises(BadRounding, match="is not above nought"):
        round_to(D(1), D(step))
    with pytest.raises(BadRounding, match="is not above nought"):
        round_inwards(D(1), D(2), D(step))


@given(VALUES, STEPS, st.sampled_from(Tie))
def test_nearest_multiple(value, step, tie):
    rounded = Fraction(round_to(value, step, tie))
    assert rounded % Fraction(step) == 0
    assert abs(rounded - Fraction(value)) <= Fraction(step) / 2


@given(VALUES, VALUES, STEPS)
def test_inwards_never_widens(one, two, step):
    low, high = sorted((one, two))
    inner_low, inner_high = round_inwards(low, high, step)
    assert low <= inner_low < low + step
    assert high - step < inner_high <= high


# Published: method B of SI 10 (recalled); 37 to 43 N m printed as 28 to 31 ft lb in a workshop manual.
@pytest.mark.parametrize(
    ("low", "high", "to", "step", "wanted"),
    [
        ("10.7 mm", "11.3 mm", "in", "0.001", ("0.422", "0.444")),
        ("1.934 in", "1.966 in", "mm", "0.01", ("49.13", "49.93")),
        ("37 N_m", "43 N_m", "ft_lb", "1", ("28", "31")),
        ("0.0010 in", "0.0025 in", "mm", "0.001", ("0.026", "0.063")),
    ],
)
def test_limits_are_rounded_inwards(low, high, to, step, wanted):
    ends = [parse_quantity(end).in_unit(to) for end in (low, high)]
    assert tuple(map(str, round_inwards(*ends, D(step)))) == wanted


@pytest.mark.parametrize(
    ("value", "places", "wanted"), [("2.345", 2, "2.34"), ("2.355", 2, "2.36"), ("1250", -2, "1200"), ("0", 3, "0.000")]
)
def test_round_places(value, places, wanted):
    assert str(round_places(D(value), places)) == wanted


def test_round_places_to_the_greater():
    assert round_places(D("2.345"), 2, Tie.GREATER) == D("2.35")


@pytest.mark.parametrize(
    ("value", "digits", "wanted"),
    [("0.0045678", 2, "0.0046"), ("365", 2, "360"), ("365", 1, "400"), ("-1.995", 3, "-2.00"), ("0", 3, "0")],
)
def test_round_digits(value, digits, wanted):
    assert str(round_digits(D(value), digits)) == wanted


@pytest.mark.parametrize(
    ("value", "power"),
    [
        ("1", 0),
        ("9.99", 0),
        ("10", 1),
        ("999.9", 2),
        ("1000", 3),
        ("0.1", -1),
        ("0.001", -3),
        ("0.00999", -3),
        ("-25", 1),
    ],
)
def test_magnitude(value, power):
    assert magnitude(D(value)) == power


@given(VALUES.filter(bool))
def test_magnitude_brackets_the_value(value):
    power = magnitude(value)
    assert Fraction(10) ** power <= abs(Fraction(value)) < Fraction(10) ** (power + 1)


def test_nought_has_no_magnitude():
    with pytest.raises(BadRounding, match=r"^nought has no first significant digit$"):
        magnitude(0)


# Published: NIST SP 811 (2008) B.7.2, 36 ft is 11.0 m; the rest computed by its rule.
@pytest.mark.parametrize(
    ("value", "to", "digits", "wanted", "kept"),
    [
        ("36 ft", "m", 2, "11.0", 3),
        ("14 ft_lb", "N_m", 2, "19", 2),
        ("65 N_m", "ft_lb", 2, "47.9", 3),
        ("0.030 in", "mm", 2, "0.76", 2),
        ("95.4 mm", "in", 3, "3.756", 4),
        ("32 psi", "kPa", 2, "221", 3),
        ("-32 psi", "kPa", 2, "-221", 3),
        ("0 psi", "kPa", 2, "0.0", 2),
        ("0 degC", "degF", 2, "32.0", 2),
    ],
)
def test_a_converted_value_keeps_the_digits_it_deserves(value, to, digits, wanted, kept):
    rounded, count = round_converted(parse_quantity(value), to, digits)
    assert (str(rounded.value), rounded.unit, count) == (wanted, to, kept)


# Common practice, no source.
@pytest.mark.parametrize(
    ("resolution", "to", "wanted"),
    [
        ("0.001 in", "mm", "0.01"),
        ("0.0001 in", "mm", "0.001"),
        ("0.01 mm", "in", "0.0001"),
        ("1 ft_lb", "N_m", "1"),
        ("1 N_m", "ft_lb", "0.1"),
        ("0.1 bar", "psi", "1"),
        ("0.5 degC", "degF", "0.1"),  # a difference: no 32 degrees in it
    ],
)
def test_resolution_in_another_unit(resolution, to, wanted):
    assert mapped_resolution(parse_quantity(resolution), to) == D(wanted)


@given(st.sampled_from([u for u in UNITS if kind_of(u) == "length"]), st.sampled_from(units_of("length")))
def test_resolution_is_never_coarser_than_the_converted_one(unit, to):
    exact = convert(D("0.01"), unit, to)
    mapped = Fraction(mapped_resolution(parse_quantity(f"0.01 {unit}"), to))
    assert mapped <= exact < mapped * 10


# Published: workshop manuals (pairs as printed, read in public copies); the last is made up.
@pytest.mark.parametrize(
    ("first", "place", "second", "other_place", "same"),
    [
        ("60 N_m", "1", "44 ft_lb", "1", True),
        ("11 N_m", "1", "95 in_lb", "1", True),  # from the inch-pound side alone
        ("95 in_lb", "1", "11 N_m", "1", True),
        ("28 N_m", "1", "250 in_lb", "10", True),
        ("0.5 mm", "0.1", "0.020 in", "0.001", True),
        ("37 N_m", "1", "28 ft_lb", "1", False),
        ("14 ft_lb", "1", "91 N_m", "1", False),
    ],
)
def test_two_printed_values(first, place, second, other_place, same):
    assert agree(parse_quantity(first), D(place), parse_quantity(second), D(other_place)) is same


def test_to_the_greater_is_to_the_nearest_but_for_ties():
    assert round_to(D("12.21"), D("0.1"), Tie.GREATER) == D("12.2")
    assert round_to(D("12.29"), D("0.1"), Tie.GREATER) == D("12.3")
    assert round_to(D("-12.21"), D("0.1"), Tie.GREATER) == D("-12.2")


def test_the_first_digit_counts_above_ten_and_below_a_tenth():
    # 0.9 thou is 0.02286 mm: the first digit falls from 9 to 2, so one more is kept.
    assert round_converted(parse_quantity("0.0009 in"), "mm", 1)[1] == 2
    assert round_converted(parse_quantity("1990 mm"), "in", 3) == (parse_quantity("78.3 in"), 3)
    assert round_converted(parse_quantity("25.4 mm"), "in", 3) == (parse_quantity("1.000 in"), 4)
