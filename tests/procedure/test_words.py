"""The words that people must be able to say, and those that the ear lacks."""

from collections.abc import Iterable
from pathlib import Path

import pytest

from benchvoice.procedure.checks import check
from benchvoice.procedure.load import load, load_text, read_document
from benchvoice.procedure.words import spoken_words, words_of

SHIPPED = sorted((Path(__file__).parents[2] / "procedures").glob("*.yaml"))
TEXT = """\
schema: 1
title: Bracket
work: metric
particulars:
  size: {ask: Which size?, choices: [standard, thirty over]}
groups:
  lid: {what: lid bolts, positions: [1L, 2R]}
words: {gudgeon: G AH JH AH N}
steps:
  - {step: size, choose: {ask: size}}
  - step: feel
    check: {ask: How?, pass: free, further: {tight spot: Where?}, fail: locked, places: {push_rod: [one]}}
  - step: stamp
    mark: {read: the stamp, words: plain, else: {ask: Which?, back_to: {wrong part: stamp, gudgeon: size}}}
  - step: bead
    wait: {what: close it, open_time: 8 min, starts_at: bead on}
  - step: rags
    tell: Unspoken words of the assistant.
    count: {in: {rags: 2}, out: {rags: 2}}
    ban: {what: lifting, broken_by: [i lifted it]}
  - step: lid
    tighten: {group: lid, stages: [{torque: 9 N_m}]}
"""


def test_a_phrase_as_it_is_said() -> None:
    assert words_of("1L") == ("one", "left")
    assert words_of("12R") == ("one", "two", "right")
    assert words_of("4B") == ("four", "b")
    assert words_of("O-ring, it's on") == ("o", "ring", "it's", "on")


def test_every_answer_is_there_and_nothing_that_is_only_spoken_to_people() -> None:
    wanted = (
        "standard thirty over one left two right free tight spot locked push rod plain wrong part gudgeon "
        "bead on rags i lifted it"
    )
    assert set(spoken_words(load_text(TEXT, "f"))) == set(wanted.split())


def test_words_that_the_ear_lacks_are_advice() -> None:
    asked: list[str] = []

    def lacks(words: Iterable[str]) -> list[str]:
        asked.extend(words)
        return [word for word in asked if word in ("bead", "gudgeon")]

    document = read_document(TEXT.encode(), "f")
    found = check(document.procedure, document.source, lacks)
    assert "gudgeon" not in asked  # the document says itself how it sounds
    assert found.faults == ()
    assert [str(each) for each in found.advice] == [
        "f:16: steps.bead.wait.starts_at: the ear has no word bead; use another, or say under words how it sounds"
    ]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_shipped_words_are_plain(path: Path) -> None:
    assert all(word.isascii() and word.replace("'", "").isalpha() for word in spoken_words(load(path)))
