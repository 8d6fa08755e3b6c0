"""The little pattern language of commands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.phrases import (
    Match,
    Phrase,
    listed_form,
    match,
    one_of,
    phrases,
    plain_words,
    sentences,
    vocabulary,
    whole_number,
)


def table():
    return [
        *phrases("done", "done", "[that's] done"),
        *phrases("next", "(next|go on) [step]"),
        *phrases("again", "again", "say [(it|that)] again"),
        *phrases("skip", "skip [it] because <reason:words>"),
        *phrases("correction", "correction <reading>"),
        *phrases("forgot", "[i] forgot [the|a] <what:words>"),
        *phrases("count", "<count> done"),
        *phrases("take over", "<name> is taking over"),
        *phrases("all but", "all but <place> [done]"),
        *phrases("timer", "<duration> on the bead"),
        *phrases("anything", "note <text:words>"),
        *phrases("note that", "note that"),
    ]


def slots():
    return {"name": one_of(["Ann", "Bo"]), "place": one_of(["seven", "number four"])}



@pytest.mark.parametrize(
    ("text", "name", "values"),
    [
        ("done", "done", {}),
        ("That's done.", "done", {}),
        ("next step", "next", {}),
        ("go on", "next", {}),
        ("say again", "again", {}),
        ("say that again", "again", {}),
        ("skip because the socket won't fit", "skip", {"reason": "the socket wont fit"}),
        ("skip it because it is worn", "skip", {"reason": "it is worn"}),
        ("correction four and a half thou", "correction", {"reading": "four and a half thou"}),
        ("i forgot the washers", "forgot", {"what": "washers"}),
        ("forgot washers", "forgot", {"what": "washers"}),
        ("seven done", "count", {"count": 7}),
        ("7 done", "count", {"count": 7}),
        ("bo is taking over", "take over", {"name": "Bo"}),
        ("all but number four", "all but", {"place": "number four"}),
        ("all but seven done", "all but", {"place": "seven"}),
        ("two minutes on the bead", "timer", {"duration": 120}),
        ("note that", "note that", {}),
        ("note the mark", "anything", {"text": "the mark"}),
    ],
)
def test_whole_utterances(text, name, values):
    found = match(table(), text, slots())
    assert found is not None
    assert (found.name, dict(found.values)) == (name, values)


@pytest.mark.parametrize(
    "text",
    ["", "done now", "not done", "is it done", "next next", "skip", "correction", "mo is taking over", "some done"],
)
def test_a_command_is_never_a_word_inside_a_sentence(text):
    assert match(table(), text, slots()) is None


def test_the_pattern_with_most_words_of_its_own_wins_then_the_first():
    table = [Phrase("free", "<a:words>"), Phrase("half", "back <a:words>"), Phrase("own", "back to one")]
    assert match(table, "back to one") == Match("own", {}, "back to one")
    assert match(table, "back to two").name == "half"
    assert match(table, "on").name == "free"
    assert match([Phrase("first", "<a:words>"), Phrase("second", "<b:words>")], "x").name == "first"


def test_a_slot_gives_way_to_the_words_after_it():
    found = match([Phrase("way", "go <a:words> to <b:words>")], "go one to two to three")
    assert dict(found.values) == {"a": "one to two", "b": "three"}


@pytest.mark.parametrize(
    ("pattern", "fault"),
    [
        ("[step", "'[' is not closed"),
        ("(a|b", "'(' is not closed"),
        ("a]", "']' closes nothing"),
        ("[a)", "'[' is not closed"),
        ("a (b [c) d]", "'[' is not closed"),
        ("<Reading>", "'<' and '>' belong to a slot such as <reading> or <what:words>"),
        ("a <b", "'<' and '>' belong to a slot such as <reading> or <what:words>"),
    ],
)
def test_a_pattern_that_cannot_be_read_says_where(pattern, fault):
    with pytest.raises(ValueError, match="pattern") as caught:
        Phrase("x", pattern)
    assert str(caught.value) == f"pattern {pattern!r}: {fault}"


def test_a_slot_of_unknown_kind_is_a_fault_of_the_table():
    with pytest.raises(ValueError, match="no slot of kind 'colour'"):
        match([Phrase("paint", "paint it <colour>")], "paint it red")


def test_alternatives_at_the_top():
    assert match([Phrase("stop", "stop|wait")], "wait") is not None


def test_vocabulary_is_the_patterns_own_words():
    assert vocabulary(phrases("x", "skip [it] because <reason:words>", "(stop|wait)")) == {
        "skip", "it", "because", "stop", "wait",
    }  # fmt: skip


def test_sentences():
    assert sentences(phrases("x", "say [(it|that)] again", "<count> done")) == [
        "say it again",
        "say that again",
        "say again",
        "<count> done",
    ]
    assert len(sentences([Phrase("x", "(a|b) (c|d) (e|f)")], most=3)) == 3


def test_the_listed_form_leaves_out_what_may_be_left_out():
    assert listed_form("[i] forgot [the|a] <what:words>") == "forgot <words>"
    assert listed_form("(next|go on) [step]") == "next"


def test_sentences_of_a_pattern_match_it():
    for phrase in table():
        for sentence in sentences([phrase]):
            if "<" not in sentence:
                assert match([phrase], sentence, slots()) is not None


def test_whole_numbers():
    assert [whole_number(text) for text in ("ten", "2", "a hundred and five", "two five", "1.5", "ten thou", "")] == [
        10, 2, 105, None, None, None, None,
    ]  # fmt: skip


def test_plain_words():
    assert plain_words("Don’t stop, (please)!") == ("dont", "stop", "please")


@given(st.lists(st.sampled_from(sorted(vocabulary(table()) | {"seven", "bo", "thou"})), max_size=6).map(" ".join))
def test_any_words_match_one_command_or_none(text):
    found = match(table(), text, slots())
    assert found is None or any(phrase.name == found.name for phrase in table())
