"""A build with somebody's voice is heard by their fitted ear, and its log names that ear."""

import numpy as np
import pytest
import soundfile

from benchvoice.app.build import build
from benchvoice.app.ears import model_folder
from benchvoice.app.fitting import voices
from benchvoice.app.fitting.voices import MODELS, put_in_force, voice_folder
from benchvoice.app.options import BuildOptions
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.fit import moving
from benchvoice.ear.fit.moving import Example
from benchvoice.ear.fit.personal import fit_model
from benchvoice.ear.model import find_model, load_model
from benchvoice.log import read_clip, read_grammar, read_log
from benchvoice.room.mixing import with_pauses
from benchvoice.room.resampling import resample
from benchvoice.session.entries import Heard
from benchvoice.voice import Voice

PROCEDURE = """\
schema: 1
title: A lid
work: inch
steps:
  - step: clean
    tell: Wipe both faces of the flonkhurst.
  - step: lid
    check: {ask: How does it sit?, pass: [flat], fail: [proud]}
"""


@pytest.fixture
def ann(monkeypatch, tmp_path):
    """An ear fitted to ann, a step away from the shipped one."""
    monkeypatch.setattr(voices, "user_data_path", lambda *_, **__: tmp_path / "data")
    monkeypatch.setattr(moving, "STEPS", 1)
    model = fit_model(find_model(), [Example(("flat",), spoken("flat"))], ["done"], voice_folder("ann") / MODELS)
    put_in_force(voice_folder("ann"), model, load_model(find_model()).hash)
    return load_model(model)


def spoken(words):
    sound = Voice(name="en-us+Andy", rate=150).say_to_buffer(words)
    return resample(sound.samples, sound.rate, 16_000)


def test_the_log_names_the_fitted_ear_and_its_clips_can_be_heard_again(ann, tmp_path, capsys):
    sound = np.concatenate([with_pauses(spoken(words), 16_000, 0.4, 1.6) for words in ("ann", "yes", "done", "yes")])
    soundfile.write(tmp_path / "person.wav", sound, 16_000)
    (tmp_path / "lid.yaml").write_text(PROCEDURE)
    out = tmp_path / "build"
    build(
        BuildOptions(
            procedure=tmp_path / "lid.yaml", wav=tmp_path / "person.wav", out=out, people=("ann",), voice="ann"
        )
    )
    assert "older model" not in capsys.readouterr().err
    heard = [line.entry for line in read_log(out).lines if isinstance(line.entry, Heard)]
    assert heard
    assert {entry.sound.model for entry in heard} == {ann.hash}
    again = load_model(model_folder(heard[0].sound.model))
    grammar = grammar_for(again, read_grammar(out, heard[0].sound.grammar))
    words = decode(again, read_clip(out, heard[0].sound.clip), grammar).words
    assert [word.word for word in words] == [word.word for word in heard[0].words]


def test_an_ear_that_was_made_from_another_model_is_told(ann, tmp_path, capsys):
    put_in_force(voice_folder("ann"), voices.voice_model("ann"), "0" * 64)
    soundfile.write(tmp_path / "quiet.wav", np.zeros(16_000, np.int16), 16_000)
    (tmp_path / "lid.yaml").write_text(PROCEDURE)
    build(BuildOptions(procedure=tmp_path / "lid.yaml", wav=tmp_path / "quiet.wav", out=tmp_path / "b", voice="ann"))
    assert "The ear of ann was fitted to an older model: run benchvoice fit ann again." in capsys.readouterr().err
