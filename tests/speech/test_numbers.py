"""Every reading of words as a number."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.counting import count_words, digit_words
from benchvoice.speech.numbers import Form, Supplied, decimal_places, numbers, terminates
from benchvoice.speech.say import say_number
from benchvoice.speech.tokens import words_of
from benchvoice.speech.vocabulary import number_words


def found(text):
    return numbers(words_of(text))


def values(text):
    return [str(number.value) for number in found(text)]


@pytest.mark.parametrize(
    ("text", "value", "step"),
    [
        ("zero", 0, 1),
        ("oh", 0, 1),
        ("nought", 0, 1),
        ("nil", 0, 1),
        ("nine", 9, 1),
        ("fifteen", 15, 1),
        ("sixty", 60, 1),
        ("sixty five", 65, 1),
        ("a hundred", 100, 100),
        ("two hundred", 200, 100),
        ("two hundred and five", 205, 1),
        ("two hundred five", 205, 1),
        ("two hundred fifty", 250, 1),
        ("fifteen hundred", 1500, 100),
        ("twenty one hundred", 2100, 100),
        ("twelve hundred and fifty", 1250, 1),
        ("a thousand", 1000, 1000),
        ("a thousand and fifty", 1050, 1),
        ("two thousand five hundred", 2500, 100),
        ("two thousand one hundred and eighteen", 2118, 1),
        ("one hundred and twenty thousand", 120000, 1000),
    ],
)
def test_counts(text, value, step):
    (number,) = found(text)
    assert (number.value, number.step, number.form, number.places) == (value, step, Form.COUNT, 0)


def test_a_hundred_without_its_number_may_have_lost_it():
    (number,) = found("hundred and five")
    assert (number.value, number.supplied) == (105, {Supplied.ARTICLE})
    assert found("a hundred and five")[0].supplied == set()
    assert found("hundred and a half")[0].supplied == {Supplied.ARTICLE}


@pytest.mark.parametrize(
    ("text", "groups", "hundred"),
    [
        ("one nine nine eight", ("1", "9", "9", "8"), False),
        ("oh two five", ("0", "2", "5"), False),
        ("double oh five", ("00", "5"), False),
        ("triple nine", ("999",), False),
        ("two fifty", ("2", "50"), True),
        ("one twenty five", ("1", "25"), True),
        ("ninety five four", ("95", "4"), True),
        ("nineteen ninety eight", ("19", "98"), True),
        ("twenty oh five", ("20", "0", "5"), True),
        ("four o", ("4", "0"), False),
    ],
)
def test_figures(text, groups, hundred):
    (number,) = found(text)
    assert (number.groups, number.form) == (groups, Form.FIGURES)
    assert number.figures == "".join(groups)
    assert (Supplied.HUNDRED in number.supplied) is hundred


@pytest.mark.parametrize(
    ("text", "value", "places", "supplied"),
    [
        ("nine five point four", "95.4", 1, set()),
        ("ninety five point four oh", "95.40", 2, set()),
        ("point oh two five", "0.025", 3, set()),
        ("point double oh four five", "0.0045", 4, set()),
        ("nought point nought five", "0.05", 2, set()),
        ("ninety five point forty", "95.40", 2, {Supplied.TENS_AFTER_POINT}),
        ("two fifty point five", "250.5", 1, {Supplied.HUNDRED}),
        ("four hundred and eleven point five", "411.5", 1, set()),
        ("zero point zero", "0", 1, set()),
    ],
)
def test_points(text, value, places, supplied):
    (number,) = found(text)
    assert (number.value, number.places, number.form) == (Fraction(value), places, Form.POINT)
    assert number.step == Fraction(1, 10**places)
    assert number.supplied == supplied


@pytest.mark.parametrize(
    ("text", "value", "step"),
    [
        ("half", "1/2", "1/2"),
        ("a half", "1/2", "1/2"),
        ("quarter", "1/4", "1/4"),
        ("three quarters", "3/4", "1/4"),
        ("three quarter", "3/4", "1/4"),
        ("three eighths", "3/8", "1/8"),
        ("a sixteenth", "1/16", "1/16"),
        ("an eighth", "1/8", "1/8"),
        ("one thirty second", "1/32", "1/32"),
        ("fifteen thirty seconds", "15/32", "1/32"),
        ("eleven sixty fourths", "11/64", "1/64"),
        ("two thirds", "2/3", "1/3"),
        ("four and a half", "9/2", "1/2"),
        ("two and five eighths", "21/8", "1/8"),
        ("one and three sixty fourths", "67/64", "1/64"),
        ("a hundred and a half", "201/2", "1/2"),
        ("nine one three and a half", "1827/2", "1/2"),
        ("3/8", "3/8", "1/8"),
        ("1 1/2", "3/2", "1/2"),
        ("1 and 1/2", "3/2", "1/2"),
    ],
)
def test_fractions(text, value, step):
    (number,) = found(text)
    assert (number.value, number.step, number.form) == (Fraction(value), Fraction(step), Form.FRACTION)


def test_decimals_of_a_fraction_and_its_denominator():
    (number,) = found("eleven sixty fourths")
    assert (number.places, number.denominator) == (6, 64)
    (number,) = found("two and five eighths")
    assert (number.places, number.denominator) == (3, None)


@pytest.mark.parametrize(
    ("text", "value", "places"), [("25", "25", 0), ("2.25", "2.25", 2), (".5", ".5", 1), ("0.0015", "0.0015", 4)]
)
def test_typed(text, value, places):
    (number,) = found(text)
    assert (number.value, number.places, number.step) == (Fraction(value), places, Fraction(1, 10**places))


def test_typed_figures_with_a_leading_nought_are_figures():
    (number,) = found("025")
    assert (number.form, number.figures) == (Form.FIGURES, "025")
    assert [number.form for number in found("05")] == [Form.FIGURES]
    assert [number.form for number in found("0")] == [Form.COUNT]


@pytest.mark.parametrize(
    "text",
    ["", "point", "two point", "point oh oh", "two point five point one", "thou", "double", "double eleven", "and five",
     "four and", "five thirds", "thirty seconds", "eighths", "a five", "zero and a half", "8/8", "0/2",
     "two and three", "hundred hundred", "eight eighths", "one eighths", "a quarters", "1.5 and a half"],
)  # fmt: skip
def test_what_is_no_number(text):
    assert found(text) == []


def test_tens_and_a_figure_are_one_group():
    assert values("twenty five four") == ["254"]


@given(st.integers(0, 999_999))
def test_every_count_that_is_said_is_one_number(count):
    assert count in [number.value for number in found(count_words(count))]


@given(st.integers(0, 9999), st.integers(0, 4))
def test_every_decimal_that_is_said_is_one_number(figures, places):
    value = Fraction(figures, 10**places)
    text = say_number(Decimal(figures).scaleb(-places))
    assert [number.value for number in found(text)] == [value]


@given(st.text("0123456789", min_size=2, max_size=8))
def test_figures_said_one_by_one_are_kept(figures):
    assert figures in [number.figures for number in found(digit_words(figures))]


@given(st.lists(st.sampled_from(sorted(number_words())), max_size=8).map(" ".join))
def test_any_number_words_give_exact_numbers(text):
    for number in found(text):
        assert number.value >= 0
        assert number.step > 0
        assert (number.value / number.step).denominator == 1


def test_how_a_value_ends():
    places = [decimal_places(Fraction(value)) for value in ("1", "1/2", "1/64", "1/3", "7/20", "100")]
    assert places == [0, 1, 6, 0, 2, 0]
    assert [terminates(Fraction(value)) for value in ("1", "1/8", "1/3", "2/6")] == [True, True, False, False]
