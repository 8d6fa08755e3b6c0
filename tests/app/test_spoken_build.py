"""A minute of a spoken build through real devices in a virtual room, and builds heard from sound files."""

import os
import sys
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.app.build import build
from benchvoice.app.options import BuildOptions
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.model import load_model
from benchvoice.ear.words import model_with
from benchvoice.log import read_clip, read_grammar, read_log
from benchvoice.procedure.load import load
from benchvoice.procedure.words import spoken_words
from benchvoice.room import RATE
from benchvoice.room.mixing import with_pauses
from benchvoice.room.resampling import resample
from benchvoice.session.entries import Heard, Reading, Said, Unclear
from benchvoice.testing.room import missing, virtual_room
from benchvoice.voice import Voice

PERSON = Voice(name="en-us+Andy", rate=150)

PROCEDURE = """\
schema: 1
title: Spoken minute
work: inch
groups:
  cover: {what: cover bolts, positions: [one, two, three, four], order: in turn}
steps:
  - step: clean
    tell: Wipe both faces.
  - step: gap
    measure:
      what: gap
      unit: thou
      places: {main: [one, two, three]}
      limits: [1.5, 6.0]
  - step: cover
    tighten: {group: cover, stages: [{torque: 20 N_m}]}
"""
WORDS = ("ann", "done", "two point five thou", "four point two thou", "three point six thou", "all four done")
FIGURES = ["2.5", "4.2", "3.6"]


@pytest.fixture
def procedure(tmp_path: Path) -> Path:
    file = tmp_path / "minute.yaml"
    file.write_text(PROCEDURE, encoding="utf-8")
    return file


def spoken(words: str) -> np.ndarray:
    sound = PERSON.say_to_buffer(words)
    return resample(sound.samples, sound.rate, RATE)


def readings(folder: Path) -> list[str]:
    return [str(line.entry.value) for line in read_log(folder).lines if isinstance(line.entry, Reading)]


def test_a_sound_file_is_heard_and_kept(procedure: Path, tmp_path: Path) -> None:
    wav, out = tmp_path / "person.wav", tmp_path / "build"
    quiet = np.random.default_rng(5)
    # A yes after each: where a doubtful word was said back it confirms it, elsewhere it is no answer and does nothing.
    person = [words for each in WORDS for words in (each, "yes")]
    sound = np.concatenate([with_pauses(spoken(words), RATE, 0.4, 1.6) for words in person])
    sound = sound + quiet.integers(-20, 21, len(sound)).astype(np.int16)
    soundfile.write(wav, sound, RATE)
    assert build(BuildOptions(procedure=procedure, wav=wav, out=out, people=("ann",))) == 0
    assert readings(out) == FIGURES
    model = load_model(model_with([*spoken_words(load(procedure)), "ann"]).path)
    kept = [line.entry for line in read_log(out).lines if isinstance(line.entry, Heard | Unclear)]
    assert kept
    for entry in kept:
        assert entry.sound is not None
        grammar = grammar_for(model, read_grammar(out, entry.sound.grammar))
        again = decode(model, read_clip(out, entry.sound.clip), grammar)
        assert [word.word for word in again.words] == [word.word for word in entry.words]
        assert entry.sound.model == model.hash


def test_silence_is_heard_as_nothing(procedure: Path, tmp_path: Path) -> None:
    wav, out = tmp_path / "silence.wav", tmp_path / "build"
    soundfile.write(wav, np.zeros(20 * RATE, np.int16), RATE)
    build(BuildOptions(procedure=procedure, wav=wav, out=out, people=("ann",)))
    assert not [line for line in read_log(out).lines if isinstance(line.entry, Heard | Unclear)]


@pytest.mark.room
def test_a_minute_through_real_devices(procedure: Path, tmp_path: Path) -> None:
    lacking = missing()
    if lacking and os.environ.get("CI") == "true":
        pytest.fail(lacking)
    if lacking:
        pytest.skip(lacking)
    out = tmp_path / "build"
    command = [sys.executable, "-m", "benchvoice.app.main", "build", str(procedure)]
    with virtual_room(echo_ms=60) as room:
        process = room.start([*command, "--out", str(out), "--person", "ann"])
        said, said_back = 0, False
        room.wait_for_prompt()
        for _ in range(12):  # what is said back is confirmed, what was not understood said again, as people do
            if said == len(WORDS):
                break
            words = "yes" if said_back else WORDS[said]
            room.say(spoken(words), RATE)
            room.wait_for_prompt()
            before, said = said, _taken(out)
            said_back = said == before and not said_back and _last_said(out).endswith("Yes or no?")
        process.terminate()
        process.wait(timeout=10)
    assert readings(out) == FIGURES
    assert said == len(WORDS)


def _last_said(folder: Path) -> str:
    """The last prompt that the log holds."""
    return next((line.entry.text for line in reversed(read_log(folder).lines) if isinstance(line.entry, Said)), "")


def _taken(folder: Path) -> int:
    """How many of the words the build has taken: who is on, done, three readings, the bolts."""
    kinds = [line.entry.kind for line in read_log(folder).lines]
    steps = kinds.count("step_closed")
    return min(1, kinds.count("person")) + min(1, steps) + kinds.count("reading") + (1 if "tightened" in kinds else 0)
