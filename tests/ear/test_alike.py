"""How far apart words sound: a distance, and the pairs that it finds."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.ear.alike import CLOSE, alike, apart, distance, exchange, sounds_of
from benchvoice.ear.lexicon import parse, read

VOWELS = ["AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"]
CONSONANTS = [*"BDFGKLMNPRSTVWYZ", "CH", "DH", "HH", "JH", "NG", "SH", "TH", "ZH"]
SOUNDS = [*VOWELS, *CONSONANTS]
ROWS = st.lists(st.sampled_from(SOUNDS), max_size=7)


@pytest.fixture(scope="module")
def lexicon(shipped):
    return read(shipped / "lexicon.txt")


@given(ROWS, ROWS)
def test_it_is_a_distance(one, other):
    assert apart(one, other) == pytest.approx(apart(other, one))
    assert apart(one, one) == 0
    assert apart(one, other) > 0 or one == other


@given(ROWS, ROWS, st.sampled_from([0.0, 0.3, 0.5, 0.7, CLOSE, 1.0, 1.4, 2.0]))
def test_what_is_further_than_asked_is_infinite_and_nothing_else(one, other, within):
    far = apart(one, other)
    assert apart(one, other, within) == (far if far <= within else inf)


@given(ROWS, ROWS, st.sampled_from(SOUNDS))
def test_what_both_have_is_no_difference(one, other, sound):
    assert apart([sound, *one], [sound, *other]) <= apart(one, other) + 1e-9


@given(st.sampled_from(SOUNDS), st.sampled_from(SOUNDS))
def test_no_exchange_costs_more_than_a_whole_sound(one, other):
    assert 0 <= exchange(one, other) <= 1
    assert (exchange(one, other) == 0) == (one == other)


def test_voice_is_less_than_place_and_place_less_than_all():
    assert exchange("P", "B") < exchange("P", "T") < exchange("P", "N")


@pytest.mark.parametrize(
    ("one", "other"), [("four", "for"), ("m", "n"), ("b", "d"), ("bent", "dent"), ("tight", "light"), ("worn", "warm")]
)
def test_pairs_that_are_easily_confused(one, other, lexicon):
    assert distance(one, other, lexicon) <= CLOSE


@pytest.mark.parametrize(
    ("one", "other"), [("inner", "outer"), ("good", "bad"), ("free", "tight spot"), ("new", "used"), ("top", "bottom")]
)
def test_pairs_that_are_not(one, other, lexicon):
    assert distance(one, other, lexicon) > CLOSE


def test_what_both_phrases_begin_or_end_with_makes_no_difference(lexicon):
    assert distance("tight on the pin", "light on the pin", lexicon) == distance("tight", "light", lexicon)
    assert distance("front", "front", lexicon) == 0


def test_the_nearest_pronunciation_counts():
    lexicon = parse("either IY DH ER\neither AY DH ER\nether IY TH ER\n")
    assert sounds_of("either", lexicon) == [("IY", "DH", "ER"), ("AY", "DH", "ER")]
    assert distance("either", "ether", lexicon) == pytest.approx(0.3)


def test_what_cannot_be_pronounced_is_not_judged(lexicon):
    assert distance("done", "xyzzyq", lexicon) is None
    assert alike(["xyzzyq", "done"], lexicon) == []


def test_pairs_come_nearest_first_once_each_and_against_others_only_for_their_own(lexicon):
    found = alike(["worn", "warm", "free", "worn"], lexicon, among=["warn", "three", "free"])
    assert (found[0].one, found[0].other) == ("worn", "warn")
    assert ("worn", "warm") in [(pair.one, pair.other) for pair in found]
    assert not [pair for pair in found if pair.one in ("warn", "three")]
