"""What was confirmed or corrected in a build is material with its true words; all else is not."""

from datetime import UTC, datetime

import numpy as np
import pytest

from benchvoice.app.build import state_of
from benchvoice.app.clock import ScriptClock
from benchvoice.app.conversation import Conversation, begin_event
from benchvoice.app.fitting import voices
from benchvoice.app.fitting.review import gather_build, reviewed
from benchvoice.app.fitting.voices import clips_of, voice_folder
from benchvoice.ear.lexicon import read
from benchvoice.ear.model import find_model
from benchvoice.log import create_build, drop_clip, keep_grammar, read_log, write_clip
from benchvoice.procedure.load import load_text
from benchvoice.session.entries import Sound
from benchvoice.session.events import Utterance

UNSURE = "I am not sure of the words"
PROCEDURE = """\
schema: 1
title: Gaps
work: inch
steps:
  - step: clean
    tell: Wipe both faces.
  - step: gap
    measure: {what: gap, unit: thou, places: {main: [one, two, three]}, limits: [1.5, 60]}
"""


@pytest.fixture(scope="module")
def lexicon():
    return read(find_model() / "lexicon.txt")


@pytest.fixture
def build(tmp_path, monkeypatch):
    """build(utterance, …) says each, with a clip of its own; a pair says it doubtfully. Gives the build's folder."""
    monkeypatch.setattr(voices, "user_data_path", lambda *_, **__: tmp_path / "data")
    folder = tmp_path / "gaps"

    def say(*words):
        clock = ScriptClock(datetime(2026, 1, 1, tzinfo=UTC))
        with create_build(folder, PROCEDURE.encode()) as opened:
            state = state_of(opened, load_text(PROCEDURE, "procedure.yaml"))
            talk = Conversation(opened, state, clock, lambda _: None)
            talk.handle(begin_event(clock, "procedure.yaml", "0" * 64, None))
            for number, each in enumerate(("ann", *words)):
                text, doubtful = (each, None) if isinstance(each, str) else each
                clip = write_clip(folder, np.full(800, number + 1, np.int16))
                sound = Sound(
                    clip=clip.file, clip_sha256=clip.sha256, grammar=keep_grammar(folder, ["one"]), model="0" * 64
                )
                talk.handle(Utterance(now=clock.now(), text=text, via="voice", sound=sound, doubtful=doubtful))
        return folder

    return say


def found(folder, lexicon, person="ann"):
    return [(each.text, each.why) for each in reviewed(read_log(folder).lines, person, lexicon)]


def test_a_doubtful_command_that_was_confirmed(build, lexicon):
    assert found(build(("done", UNSURE), "yes"), lexicon) == [("done", "confirmed")]


def test_a_reading_that_was_read_back_and_confirmed(build, lexicon):
    folder = build("done", ("fifteen thou", UNSURE), "yes")
    assert found(folder, lexicon) == [("fifteen thou", "confirmed")]


def test_what_was_answered_no_or_not_asked_about_is_no_material(build, lexicon):
    assert found(build(("done", UNSURE), "no", "done", "two point five thou"), lexicon) == []


def test_a_misheard_reading_takes_the_words_that_were_confirmed_after_it(build, lexicon):
    folder = build("done", ("fifteen thou", UNSURE), "no", ("fifty thou", UNSURE), "yes")
    assert found(folder, lexicon) == [("fifty thou", "confirmed"), ("fifty thou", "corrected")]


def test_a_reading_that_was_only_said_otherwise_is_not_taken_for_a_misheard_one(build, lexicon):
    folder = build("done", ("nine thou", UNSURE), "no", ("fifty thou", UNSURE), "yes")
    assert found(folder, lexicon) == [("fifty thou", "confirmed")]


def test_a_correction_to_words_that_sound_like_it(build, lexicon):
    folder = build("done", "fifteen thou", "yes", "correction fifty thou", "yes")
    assert found(folder, lexicon) == [("fifty thou", "corrected"), ("correction fifty thou", "confirmed")]


def test_what_was_taken_back_is_no_material(build, lexicon):
    folder = build("done", ("fifteen thou", UNSURE), "yes", "wrong")
    assert found(folder, lexicon) == []


def test_only_the_words_of_the_person(build, lexicon):
    assert found(build(("done", UNSURE), "yes"), lexicon, "bob") == []


def test_a_build_is_gathered_once_with_its_provenance(build, lexicon):
    folder, ann = build(("done", UNSURE), "yes"), voice_folder("ann")
    assert gather_build(folder, ann, "ann", lexicon).confirmed == 1
    assert gather_build(folder, ann, "ann", lexicon).confirmed == 0
    (clip,) = clips_of(ann)
    assert clip.text == "done"
    assert clip.source.startswith("gaps, line ")
    assert clip.source.endswith(": confirmed")
    assert clip.reviewed


def test_a_dropped_clip_never_enters(build, lexicon):
    folder, ann = build(("done", UNSURE), "yes"), voice_folder("ann")
    (each,) = reviewed(read_log(folder).lines, "ann", lexicon)
    drop_clip(folder, each.clip)
    assert gather_build(folder, ann, "ann", lexicon).gone == 1
    assert clips_of(ann) == []
