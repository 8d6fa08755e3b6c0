"""Why a line doesn't count, and which sound belongs to it."""

from decimal import Decimal

import pytest

from benchvoice.session import entries as e
from benchvoice.sheet.items import book, clip_of, void_reasons
from tests.sheet.builds import Script, facts, procedure

SOUND = e.Sound(clip="clips/000003.flac", clip_sha256="0", grammar="g", model="m")
READING = e.Reading(
    step="end_float", what="end float", value=Decimal(6), unit="thou", said="six", low=Decimal(6), high=Decimal(6),
    clip="clips/000001.flac",
)  # fmt: skip


@pytest.mark.parametrize(
    ("entry", "clip"),
    [
        (READING, "clips/000001.flac"),
        (e.Remembered(text="", clip="clips/000002.flac"), "clips/000002.flac"),
        (e.Heard(text="done", understood="done", sound=SOUND), "clips/000003.flac"),
        (e.Unclear(text="", reason="no words", sound=SOUND), "clips/000003.flac"),
        (e.Unclear(text="", reason="no words"), None),
        (e.Said(text="Six."), None),
    ],
)
def test_the_sound_of_an_entry(entry: e.Entry, clip: str | None) -> None:
    assert clip_of(entry) == clip


@pytest.mark.parametrize(
    ("voider", "reason"),
    [
        (
            e.NoLongerCounts(entries=(1,), what="x", reason="shell moved"),
            "doesn't count any more: shell moved (line 2)",
        ),
        (e.Retracted(entries=(1,), what="six thou"), "taken back (line 2)"),
        (e.Corrected(entry=1, step="s", was="6", now="5"), "corrected: misheard or misspoken, now 5 (line 2)"),
        (e.Remeasured(step="s", entries=(1,), reason="new halves"), "measured again: new halves (line 2)"),
    ],
)
def test_each_way_of_not_counting_has_its_own_words(voider: e.Entry, reason: str) -> None:
    script = Script()
    script.add(READING, voider)
    assert void_reasons(facts(script)) == {1: reason}


def test_what_was_heard_keeps_its_letters_and_what_is_told_begins_large() -> None:
    script = Script()
    script.add(e.Heard(text="six thou", understood="reading"), READING)
    pages = book(procedure(), facts(script))
    assert [item.text for item in pages.items(pages.facts.rows())] == ["six thou", "End float: 6 thou (first)"]


def test_names_that_an_amendment_removed_are_said_in_words() -> None:
    pages = book(procedure(), facts(Script()))
    assert (pages.title("old_step"), pages.title("bead"), pages.title(None)) == ("old step", "sealant", "")
    assert (pages.group("old_bolts"), pages.group("flywheel")) == ("old bolts", "flywheel bolts")
