"""Spoken durations; DW numbers are published check values (arithmetic)."""


import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.durations import UNITS, parse_duration
from benchvoice.speech.vocabulary import duration_words


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("ten minutes", "600"),  # DW-001
        ("a minute and a half", "90"),  # DW-002
        ("quarter of an hour", "900"),  # DW-003
        ("half an hour", "1800"),  # DW-004
        ("an hour and a quarter", "4500"),  # DW-005
        ("two and a half minutes", "150"),  # DW-006
        ("one minute thirty", "90"),  # DW-009
        ("an hour and twenty minutes", "4800"),  # DW-010
        ("two hours five minutes ten seconds", "7510"),
        ("five minutes and thirty seconds", "330"),
        ("two hours ten", "7800"),
        ("hour and a half", "5400"),
        ("half a minute", "30"),
        ("three quarters of an hour", "2700"),
        ("two minutes and a half", "150"),
        ("point five seconds", "0.5"),
        ("a third of a minute", "20"),
        ("two days", "172800"),
        ("a week", "604800"),
        ("8 min", "480"),
        ("1.5 h", "5400"),
        ("six hours", "21600"),
        ("an hour", "3600"),
        ("two point five minutes", "150"),
        ("half of an hour", "1800"),
        ("a day and a half", "129600"),
        ("twenty minutes and ten seconds", "1210"),
        ("zero minutes", "0"),
        ("one two point five seconds", "12.5"),
        ("minute and a half", "90"),
        ("two minutes and three quarters", "165"),
        ("an hour and a half a minute", "3630"),
        ("a day and a half an hour", "88200"),
        ("an hour and a quarter of a minute", "3615"),
    ],
)
def test_durations(text, seconds):
    assert str(parse_duration(text)) == seconds


@pytest.mark.parametrize(
    "text",
    ["", "ten", "minutes", "fifteen thirty seconds", "a minute and a half hour", "two minutes two minutes", "soon",
     "ten minutes ago", "two minutes three hours", "one minute ninety", "about ten minutes", "a seventh of a minute",
     "one five minutes", "two minutes and ten", "a third of a second", "half",
     "one minute sixty", "two hours sixty", "ten seconds five", "half an hour and a quarter"],
)  # fmt: skip
def test_what_is_no_duration(text):
    assert parse_duration(text) is None


@given(st.lists(st.sampled_from(sorted(duration_words() | set(UNITS))), max_size=7).map(" ".join))
def test_any_words_give_a_length_of_time_or_nothing(text):
    seconds = parse_duration(text)
    assert seconds is None or (seconds >= 0 and seconds.is_finite())
