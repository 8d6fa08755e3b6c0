"""Pauses inside a number."""


import pytest

from benchvoice.speech.pauses import late_fraction, unfinished


@pytest.mark.parametrize(
    "text", ["two point", "a hundred and", "minus", "double", "a quarter of a", "less than", "from two to"]
)
def test_more_must_follow(text):
    assert unfinished(text)


@pytest.mark.parametrize("text", ["", "two", "two point eight", "a thou", "a hundred", "goes"])
def test_that_may_be_all(text):
    assert not unfinished(text)


@pytest.mark.parametrize(
    ("text", "fraction"),
    [("and a half", "0.5"), ("and a quarter", "0.25"), ("and three quarters", "0.75"), ("And a half.", "0.5"),
     ("and five eighths", "0.625")],
)  # fmt: skip
def test_a_fraction_that_comes_late(text, fraction):
    assert str(late_fraction(text)) == fraction


@pytest.mark.parametrize("text", ["", "and", "a half", "four and a half", "and a third", "and a half thou", "and four"])
def test_what_is_no_late_fraction(text):
    assert late_fraction(text) is None
