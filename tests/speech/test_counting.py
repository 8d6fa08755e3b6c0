"""Counts and figures as words."""

import pytest

from benchvoice.speech.counting import SOUNDS_LIKE, count_words, digit_words


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (0, "zero"),
        (10, "ten"),
        (19, "nineteen"),
        (20, "twenty"),
        (99, "ninety nine"),
        (100, "one hundred"),
        (101, "one hundred and one"),
        (1000, "one thousand"),
        (1100, "one thousand one hundred"),
        (1_000_000, "one million"),
        (2_000_000_005, "two billion and five"),
        (-7, "minus seven"),
    ],
)
def test_counts(count, words):
    assert count_words(count) == words


def test_figures():
    assert digit_words("205") == "two zero five"


def test_teens_and_tens_sound_alike_both_ways():
    assert SOUNDS_LIKE["fifteen"] == "fifty"
    assert SOUNDS_LIKE["ninety"] == "nineteen"
    assert len(SOUNDS_LIKE) == 14
    assert all(SOUNDS_LIKE[other] == word for word, other in SOUNDS_LIKE.items())
    assert "twelve" not in SOUNDS_LIKE
