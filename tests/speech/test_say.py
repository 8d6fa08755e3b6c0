"""Values in words, each form once, and the parts of the round trip that readings do not cover."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.errors import InputError
from benchvoice.quantity.units import UNITS
from benchvoice.speech import say
from benchvoice.speech.durations import parse_duration


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("0", "zero"),
        ("7", "seven"),
        ("15", "fifteen"),
        ("60", "sixty"),
        ("65", "sixty five"),
        ("100", "one hundred"),
        ("105", "one hundred and five"),
        ("1050", "one thousand and fifty"),
        ("2118", "two thousand one hundred and eighteen"),
        ("120000", "one hundred and twenty thousand"),
        ("1000001", "one million and one"),
        ("-2", "minus two"),
        ("-0.002", "minus zero point zero zero two"),
        ("0.05", "zero point zero five"),
        ("9.540", "nine point five four zero"),
        ("14.0", "fourteen point zero"),
        ("1E+2", "one hundred"),
        ("2.5", "two point five"),
        ("-0", "zero"),
    ],
)
def test_numbers(value, words):
    assert say.say_number(Decimal(value)) == words


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("2.5", "two and a half"),
        ("2.50", "two point five zero"),
        ("0.5", "a half"),
        ("0.25", "a quarter"),
        ("0.75", "three quarters"),
        ("-3.75", "minus three and three quarters"),
        ("10.25", "ten and a quarter"),
        ("2.55", "two point five five"),
        ("3", "three"),
    ],
)
def test_fractions(value, words):
    assert say.say_number(Decimal(value), fractions=True) == words


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        ("1.5", "thou", "one and a half thou"),
        ("0.5", "thou", "half a thou"),
        ("0.25", "thou", "a quarter of a thou"),
        ("0.75", "turn", "three quarters of a turn"),
        ("-0.5", "turn", "minus half a turn"),
        ("0.5", "h", "half an hour"),
        ("1.8", "bar", "one point eight bar"),
        ("0.5", "bar", "zero point five bar"),
        ("60", "N_m", "sixty newton metres"),
        ("1", "N_m", "one newton metre"),
        ("1.0", "N_m", "one point zero newton metres"),
        ("14", "ft_lb", "fourteen foot pounds"),
        ("30", "psi", "thirty p s i"),
        ("1", "ft", "one foot"),
        ("2", "ft", "two feet"),
        ("1", "in", "one inch"),
        ("0.0045", "in", "zero point zero zero four five inches"),
        ("82", "degC", "eighty two degrees celsius"),
        ("2", "tenth", "two tenths of a thou"),
        ("12", "tenth", "one point two thou"),
        ("10", "tenth", "one point zero thou"),
        ("9", "tenth", "nine tenths of a thou"),
        ("0.5", "oz", "zero point five ounces"),
        ("8.5", "1", "eight point five"),
    ],
)
def test_quantities(value, unit, words):
    assert say.say_quantity(Decimal(value), unit) == words


def test_fractions_can_be_asked_for_or_refused():
    assert say.say_quantity(Decimal("2.5"), "thou", fractions=False) == "two point five thou"
    assert say.say_quantity(Decimal(25), "tenth") == "two and a half thou"
    assert say.say_quantity(Decimal(25), "tenth", fractions=False) == "two point five thou"
    assert say.say_quantity(Decimal("2.5"), "N_m", fractions=True) == "two and a half newton metres"
    assert say.say_quantity(Decimal("-2.5"), "N_m", fractions=True) == "minus two and a half newton metres"
    assert say.say_quantity(Decimal("0.5"), "oz", fractions=True) == "half an ounce"
    assert say.say_quantity(Decimal("0.25"), "in", fractions=True) == "a quarter of an inch"
    assert say.say_quantity(Decimal("0.5"), "mm", fractions=True) == "half a millimetre"


def test_a_unit_without_words_is_refused_with_a_remedy():
    with pytest.raises(InputError, match="'furlong' can't be spoken: use one of in, thou"):
        say.say_quantity(Decimal(2), "furlong")
    with pytest.raises(InputError, match="'furlong' can't be spoken"):
        say.say_quantity(Decimal("0.5"), "furlong", fractions=True)


def test_every_unit_that_has_words_is_on_the_closed_list():
    assert set(say.UNIT_WORDS) <= set(UNITS)
    assert set(say.UNIT_WORDS) >= say.FRACTION_UNITS


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("1.998", "one point nine nine eight"),  # TD-017, common practice
        ("15", "one five"),
        ("60", "six zero"),
        ("0.0045", "point zero zero four five"),  # TD-018, first half
        ("-0.5", "minus point five"),
        ("-12", "minus one two"),
        ("0", "zero"),
        ("0.00", "point zero zero"),
        ("105", "one zero five"),
    ],
)
def test_digits(value, words):
    assert say.say_digits(Decimal(value)) == words


def test_digits_of_a_string_keep_their_noughts():
    assert say.say_digits("050") == "zero five zero"
    assert say.say_digits(Decimal("1E+2")) == "one zero zero"
    assert say.say_digits(7) == "seven"
    assert say.say_digits("+1.5") == "one point five"


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        ("0.0045", "in", "point zero zero four five, four and a half thou"),  # TD-018, common practice
        ("0.030", "in", "point zero three zero, thirty thou"),
        ("1.998", "in", "one point nine nine eight inches"),
        ("15", "N_m", "one five newton metres"),
        ("1", "N_m", "one newton metre"),
        ("1", "in", "one inch"),
        ("0", "in", "zero inches"),
        ("8.5", "1", "eight point five"),
        ("-0.002", "in", "minus point zero zero two, minus two thou"),
    ],
)
def test_read_back(value, unit, words):
    assert say.say_read_back(Decimal(value), unit) == words


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        ("1.5", "3.0", None, "one and a half to three"),  # the plan's own conversation
        ("1.5", "3.0", "thou", "one and a half to three thou"),
        ("10", "95", "N_m", "ten to ninety five newton metres"),
        (None, "3", "thou", "three thou at most"),
        ("2", None, "thou", "two thou at least"),
        ("2", None, None, "two at least"),
        ("100", "100.0", "N_m", "one hundred newton metres"),
        ("0.10", "0.25", "mm", "zero point one to zero point two five millimetres"),
        ("8", "9", "1", "eight to nine"),
        (None, None, "mm", "no limits"),
        ("-0.5", "0.5", "thou", "minus a half to a half thou"),
    ],
)
def test_limits(low, high, unit, words):
    ends = [None if end is None else Decimal(end) for end in (low, high)]
    assert say.say_limits(ends[0], ends[1], unit) == words


def test_limits_in_figures_where_asked_for():
    assert say.say_limits(Decimal("1.5"), Decimal(3), "thou", fractions=False) == "one point five to three thou"
    assert say.say_limits(Decimal("1.5"), Decimal(3), "mm", fractions=True) == "one and a half to three millimetres"


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "zero seconds"),
        (1, "one second"),
        (45, "forty five seconds"),
        (90, "ninety seconds"),
        (60, "one minute"),
        (120, "two minutes"),
        (150, "two and a half minutes"),
        (480, "eight minutes"),
        (485, "eight minutes and five seconds"),
        (3600, "one hour"),
        (4500, "one hour and fifteen minutes"),
        (4800, "one hour and twenty minutes"),
        (7325, "two hours and two minutes and five seconds"),
        (86400, "twenty four hours"),
        (-60, "minus one minute"),
        (Decimal("59.9"), "fifty nine seconds"),
    ],
)
def test_durations(seconds, words):
    assert say.say_duration(seconds) == words


@given(seconds=st.integers(1, 10**6))
def test_a_duration_that_is_said_parses_back(seconds):
    assert parse_duration(say.say_duration(seconds)) == seconds


def test_places():
    axes = ("bore", "depth", "direction")
    assert say.say_place(("three",), ("main",)) == "main three"
    assert say.say_place(("one", "top", "across"), axes) == "bore one, top, across"
    assert say.say_place(("one", "middle", "across"), axes, before=("one", "top", "across")) == "middle, across"
    assert say.say_place(("two", "top", "along"), axes, before=("one", "top", "along")) == "bore two, top, along"
    assert say.say_place(("one", "top", "along"), axes, before=("one", "top", "along")) == "bore one, top, along"
    assert say.say_place(("one", "top"), axes[:2], before=("one",)) == "bore one, top"
    assert say.say_place(("4B",), ("bolt",)) == "bolt four b"
    assert say.say_place(("one", "top")) == "one, top"
    assert say.say_place(()) == ""


@pytest.mark.parametrize(
    ("name", "words"),
    [("1L", "one left"), ("3R", "three right"), ("4B", "four b"), ("12", "twelve"), ("fan_end", "fan end")],
)
def test_positions(name, words):
    assert say.say_position(name) == words


def test_counts_and_lists():
    assert say.say_count(7) == "seven"
    assert say.say_count(7, of=10) == "seven of ten"
    assert say.say_list([]) == ""
    assert say.say_list(["one"]) == "one"
    assert say.say_list(["one", "two"]) == "one and two"
    assert say.say_list(["one", "two", "five"], "or") == "one, two or five"
    assert say.say_list(["a", "b", "c"], joined=" and ") == "a and b and c"


@pytest.mark.parametrize(
    ("value", "unit", "said"),
    [
        ("2.6666666667", "thou", "2.67"),
        ("0.0233333333", "mm", "0.023"),
        ("2.91333333333", "in", "2.91333"),
        ("361.2646419251", "cc", "361.265"),
        ("0.9999999999", "mm", "1"),
        ("19.9999999999", "mm", "20"),
        ("2.50", "thou", "2.50"),
        ("0.035", "mm", "0.035"),
    ],
)
def test_computed_values_are_said_shortly(value, unit, said):
    assert str(say.to_say(Decimal(value), unit)) == said
