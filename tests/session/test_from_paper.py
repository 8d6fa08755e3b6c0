"""What says where a figure was read off, and what does not."""

import pytest

from benchvoice.ear.words import missing
from benchvoice.session.entries import Paper
from benchvoice.session.from_paper import paper_phrases, read_off


@pytest.mark.parametrize(
    ("text", "paper", "rest"),
    [
        ("from the paper two and a quarter", Paper(what="paper"), "two and a quarter"),
        ("off the sheet, two and a quarter thou", Paper(what="sheet"), "two and a quarter thou"),
        ("main two two and a quarter off my book", Paper(what="book"), "main two two and a quarter"),
        ("off bo's sheet of yesterday nine", Paper(what="sheet", whose="bo", when="yesterday"), "nine"),
        ("nine from the card by ann from last week", Paper(what="card", whose="ann", when="last week"), "nine"),
        ("the list says nine", Paper(what="list"), "nine"),
        ("bo's card says nine", Paper(what="card", whose="bo"), "nine"),
    ],
)
def test_sources(text: str, paper: Paper, rest: str) -> None:
    found = read_off(text)
    assert found is not None
    assert (found.paper, found.rest) == (paper, rest)


@pytest.mark.parametrize(
    "text", ["two and a quarter", "paper", "from the paper", "paper two", "the paper is wet", "take it off the bench"]
)
def test_none(text: str) -> None:
    assert read_off(text) is None


def test_the_ear_has_the_words() -> None:
    assert missing({word for phrase in paper_phrases() for word in phrase.split()}) == []
