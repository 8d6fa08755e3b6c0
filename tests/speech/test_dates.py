"""Spoken dates of labels."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.dates import MONTHS, SpokenDate, date_words, parse_date, say_date

END_OF_MARCH = (SpokenDate(date(2027, 3, 31), True),)


@pytest.mark.parametrize(
    "text",
    [
        "march twenty twenty seven",
        "end of march twenty seven",
        "the end of march twenty twenty seven",
        "March 2027",
        "oh three twenty seven",
        "zero three two seven",
        "three twenty seven",
        "03/27",
        "2027-03",
        "march two thousand and twenty seven",
        "it says march twenty seven",
        "use by march twenty seven",
    ],
)
def test_a_month_is_good_to_its_end(text: str) -> None:
    assert parse_date(text) == END_OF_MARCH


@pytest.mark.parametrize(
    "text",
    [
        "the thirty first of march twenty twenty seven",
        "thirty first march twenty twenty seven",
        "march thirty first twenty twenty seven",
        "march thirty one twenty twenty seven",
        "march thirty first, twenty twenty seven",
        "the thirty-first of march twenty-seven",
        "thirty one march twenty seven",
        "31st march 2027",
        "31.03.2027",
        "2027-03-31",
    ],
)
def test_a_day_is_kept(text: str) -> None:
    assert parse_date(text) == (SpokenDate(date(2027, 3, 31), False),)


@pytest.mark.parametrize(
    "text", ["march fifth twenty twenty seven", "march five twenty twenty seven", "five march 27", "5th march 27"]
)
def test_a_day_of_one_figure_is_kept(text: str) -> None:
    assert parse_date(text) == (SpokenDate(date(2027, 3, 5), False),)


def test_a_year_of_two_figures_is_of_this_century() -> None:
    assert parse_date("march twenty") == (SpokenDate(date(2020, 3, 31), True),)


def test_figures_with_several_meanings_are_not_guessed() -> None:
    assert len(parse_date("eleven twelve twenty seven")) > 1
    assert len(parse_date("10/11/2027")) == 2
    assert len(parse_date("thirty one oh three twenty seven")) == 2


@pytest.mark.parametrize("text", ["", "march", "twenty twenty seven", "h four one seven", "the lid", "march april 27",
                                  "thirtieth of february twenty twenty seven", "thirteen twenty", "hello",
                                  "hello march twenty seven", "oh oh five march twenty twenty seven",
                                  "march nineteen ninety nine"])
def test_what_is_no_date(text: str) -> None:
    assert parse_date(text) == ()


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_what_is_said_is_heard(day: date) -> None:
    assert parse_date(say_date(day)) == (SpokenDate(day, False),)
    last = [found.day for found in parse_date(say_date(day, whole_month=True))]
    assert [(each.year, each.month) for each in last] == [(day.year, day.month)]


@given(st.text(max_size=30))
def test_any_text_is_a_date_or_none(text: str) -> None:
    assert all(found.day.year >= 2000 for found in parse_date(text))


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (date(2027, 5, 5), "the fifth of may twenty twenty seven"),
        (date(2009, 5, 31), "the thirty first of may twenty oh nine"),
        (date(2010, 5, 1), "the first of may twenty ten"),
        (date(2000, 5, 1), "the first of may two thousand"),
    ],
)
def test_a_day_in_words(day: date, words: str) -> None:
    assert say_date(day) == words


def test_a_month_in_words() -> None:
    assert say_date(date(2027, 3, 31), whole_month=True) == "end of march twenty twenty seven"


def test_the_words_are_words() -> None:
    assert {"the", "end", "of", "twenty", "first", "thirtieth"} <= date_words()
    assert set(MONTHS) <= date_words()
    assert all(word.isalpha() for word in date_words())
