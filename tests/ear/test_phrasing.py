import pytest

from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.lexicon import read
from benchvoice.ear.model import Model
from benchvoice.ear.phrasing import CLASSES, EXAMPLES, examples

READING = """
zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen
nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred point and a half quarter three quarters thou to
for under over minus correction
""".split()  # noqa: SIM905


def test_only_words_that_stand_alone_are_used() -> None:
    assert examples(["one", "two", "point five"]) == [f"{a} {b}" for a in ("one", "two") for b in ("one", "two")]
    assert "one point five" in examples(["one", "point", "five"])
    assert examples(["done", "go back"]) == []


def test_they_come_in_the_same_order_whatever_the_grammars() -> None:
    assert examples(READING) == examples(reversed(READING))


def test_no_line_needs_more_than_two_classes() -> None:
    assert max(sum(word in CLASSES for word in line.split()) for line in EXAMPLES.splitlines()) == 2


def test_every_word_is_one_that_the_shipped_model_has(shipped) -> None:
    words = {word for line in EXAMPLES.split("\n") for word in line.split() if word not in CLASSES}
    known = read(shipped / "lexicon.txt")
    assert {word for word in words.union(*CLASSES.values()) if word not in known} == set()


@pytest.mark.parametrize(
    "said",
    [
        "three and a half",
        "two point eight",
        "four and a half thou",
        "minus two",
        "correction two point five",
        "two thou over",
    ],
)
def test_a_grammar_of_single_words_hears_numbers_whole(model: Model, speak, said: str) -> None:
    """Without the examples these came out as "three under half", "to point eight" and the like."""
    grammar = grammar_for(model, READING)
    assert [decode(model, speak(said, voice), grammar).text for voice in ("en-us", "en-gb+f3")] == [said, said]
