"""Words that a moment needs, for a recogniser's grammar."""

import pytest

from benchvoice.quantity.units import UnknownUnit
from benchvoice.speech import vocabulary
from benchvoice.speech.readings import Context
from benchvoice.speech.say import UNIT_WORDS, say_number, say_quantity, say_unit
from tests.speech.steps import context
from tests.speech.test_further_phrases import ROWS


def test_every_number_that_is_said_can_be_heard():
    words = vocabulary.number_words()
    for value in (0, 7, 15, 60, 105, 1050, 2118):
        assert set(say_number(value).split()) <= words


@pytest.mark.parametrize("unit", sorted(set(UNIT_WORDS) - {"1"}))
def test_every_unit_that_is_said_can_be_heard(unit):
    words = vocabulary.number_words() | vocabulary.unit_words(unit)
    assert set(say_quantity(2, unit).split()) <= words
    assert set(say_unit(unit, 1).split()) <= words


def test_units_of_a_kind_only():
    assert "newton" in vocabulary.unit_words("N_m")
    assert "pounds" in vocabulary.unit_words("N_m")
    assert "thou" not in vocabulary.unit_words("N_m")
    assert "degrees" in vocabulary.unit_words("degC") & vocabulary.unit_words("deg")
    assert {"p", "s", "i"} <= vocabulary.unit_words("psi")
    assert vocabulary.unit_words("mm") < vocabulary.unit_words()
    assert vocabulary.unit_words(kind="length") == vocabulary.unit_words("mm")


def test_an_unknown_unit_is_refused():
    with pytest.raises(UnknownUnit):
        vocabulary.unit_words("furlong")


def test_spoken_phrases_of_a_step_are_within_its_words():
    """All our further phrases that are readings in words: nothing sayable may be missing."""
    for phrase, work, step, action, _ in ROWS:
        if action in ("not a value", "ask again") or any(c.isdigit() for c in phrase) or "°" in phrase:
            continue
        here = context(step, work)
        words = vocabulary.reading_words(here) | set((here.what or "").replace(",", "").split()) | {"oval"}
        said = {word for word in phrase.replace(",", "").split() if word not in words}
        foreign = said - vocabulary.unit_words()
        assert not foreign, phrase


def test_bound_words_are_spelt_as_lexicons_spell_them():
    assert {"goes", "won't", "doesn't", "nips", "than"} <= vocabulary.bound_words()
    assert "wont" not in vocabulary.bound_words()


def test_marks_durations_places():
    assert {"tango", "t", "two", "oh", "double", "dash", "twenty"} <= vocabulary.mark_words()
    assert len(vocabulary.nato_words()) == 26
    assert {"minutes", "hour", "half", "quarter"} <= vocabulary.duration_words()
    assert "mins" not in vocabulary.duration_words()
    words = vocabulary.place_vocabulary({"bore": ["one", "two"], "cap": ["1L", "2R"]})
    assert words == {"bore", "cap", "one", "two", "left", "right", "number", "and", "to", "all", "but"}


def test_the_words_of_a_reading_are_those_of_its_parts():
    words = vocabulary.reading_words(context("thou what=clearance", "inch"))
    for part in (
        vocabulary.number_words(),
        vocabulary.unit_words("thou"),
        vocabulary.sign_words(),
        vocabulary.bound_words(),
        vocabulary.correction_words(),
        vocabulary.hedge_words(),
        {"standard"},
    ):
        assert part <= words
    assert not {"newton", "turns", "divisions", "bar"} & words
    assert {"full", "whole", "turn"} <= vocabulary.reading_words(context("deg"))
    assert "divisions" not in vocabulary.reading_words(context("deg"))


def test_every_word_by_itself():
    wanted = "hundred thousand point minus plus double triple oh nought nil a an and of half quarters thirty seconds"
    assert set(wanted.split()) | {"fourths", "tenths", "ten", "thousandths"} <= vocabulary.number_words()
    assert {"about", "roughly", "between", "from", "to", "or", "bit", "little", "slightly", "well"} <= (
        vocabulary.hedge_words()
    )
    assert {"over", "under", "proud", "below", "by", "plus", "minus", "flush", "bang", "on"} <= vocabulary.sign_words()
    assert {"can't", "didn't"} & vocabulary.bound_words() == {"can't", "didn't"}
    assert not {"in", "ft", "mm", "s"} & vocabulary.unit_words(kind="length")


def test_a_step_without_a_unit_hears_the_units_of_what_it_asks_for():
    assert "thou" in vocabulary.reading_words(context("- what=clearance"))
    assert "bar" not in vocabulary.reading_words(context("- what=clearance"))


def test_words_of_dials_and_ratios():
    turned = {"full", "whole", "complete", "turn", "turns", "division", "divisions"}
    assert turned <= vocabulary.reading_words(context("mm div=0.01 what=dial"))
    assert turned <= vocabulary.reading_words(context("mm div=0.01"))
    assert {"four", "to", "one"} <= vocabulary.reading_words(context("- what=ratio"))
    assert {"full", "whole", "complete", "turn", "turns"} <= vocabulary.reading_words(context("deg"))
    assert not {"whole", "complete"} & vocabulary.reading_words(context("bar"))
    assert vocabulary.hedge_words() >= {"to", "bit"}
    assert vocabulary.correction_words() <= vocabulary.reading_words(Context())
    assert {"flush", "proud", "by", "bang"} <= vocabulary.sign_words()
