"""Marks: spelled out, read aloud, and compared."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.spelling import PHONETIC, same_mark, say_mark, spelling_words, spelt

MARKS = st.text(alphabet=string.ascii_uppercase + string.digits + "-./", min_size=1, max_size=12)


@pytest.mark.parametrize(
    ("words", "mark"),
    [
        ("two zero", "20"),
        ("twenty", "20"),
        ("twenty one", "21"),
        ("one zero", "10"),
        ("one oh", "10"),
        ("a hundred", "100"),
        ("tango four", "T4"),
        ("t four", "T4"),
        ("T4", "T4"),
        ("t 4", "T4"),
        ("20-a", "20-A"),
        ("double oh seven", "007"),
        ("triple nine", "999"),
        ("double tango", "TT"),
        ("x ray nine dash two", "X9-2"),
        ("x-ray nine", "X9"),
        ("four b", "4B"),
        ("a one", "A1"),
        ("alpha one", "A1"),
        ("oscar one", "O1"),
        ("whisky zed", "WZ"),
        ("one point five", "1.5"),
        ("six slash four", "6/4"),
        ("Two, zero.", "20"),
        ("one twenty five", "125"),
    ],
)
def test_spelled(words, mark):
    assert spelt(words) == mark


@pytest.mark.parametrize(
    "words", ["", "plain", "two zero stamped", "double", "double stamped", "double twenty", "mark is four"]
)
def test_what_is_no_mark(words):
    assert spelt(words) is None


def test_said_letter_by_letter():
    assert say_mark("T4") == "tango four"
    assert say_mark("20") == "two zero"
    assert say_mark("t4 b", phonetic=False) == "t four b"
    assert say_mark("4#") == "four #"
    assert say_mark("A-1/2.5+") == "alfa dash one slash two point five plus"


@given(MARKS, st.booleans())
def test_what_is_read_aloud_spells_the_same_mark(mark, phonetic):
    assert spelt(say_mark(mark, phonetic)) == mark


@given(st.lists(st.sampled_from(sorted(spelling_words())), min_size=1, max_size=6).map(" ".join))
def test_any_spelling_words_give_a_mark_in_capitals_or_nothing(text):
    mark = spelt(text)
    assert mark is None or (mark == mark.upper() and " " not in mark)


def test_the_phonetic_alphabet_is_whole():
    assert "".join(PHONETIC) == string.ascii_uppercase
    assert all(word[0] == letter.lower() for letter, word in PHONETIC.items())


def test_marks_are_equal_but_for_spaces_dashes_and_case():
    assert same_mark("20-a", "20A")
    assert same_mark(" t 4", "T4")
    assert not same_mark("20", "10")
    assert not same_mark("O1", "01")
