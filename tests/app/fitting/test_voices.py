"""What is kept of a voice: durable, once, whole; and which ear is in force."""

import numpy as np
import pytest

from benchvoice.app.fitting import voices
from benchvoice.app.fitting.voices import (
    LIST,
    clips_of,
    keep_clip,
    made_from,
    put_in_force,
    sound_of,
    voice_folder,
    voice_model,
    voice_names,
)
from benchvoice.errors import InputError, MachineError


@pytest.fixture(autouse=True)
def data(monkeypatch, tmp_path):
    monkeypatch.setattr(voices, "user_data_path", lambda *_, **__: tmp_path)


def sound(seed):
    return np.random.default_rng(seed).integers(-900, 900, 1600).astype(np.int16)


def test_clips_are_kept_once_with_their_words_and_sound():
    ann = voice_folder("Ann")
    assert clips_of(ann) == []
    assert keep_clip(ann, sound(1), "two point five", "read")
    assert keep_clip(ann, sound(2), "fifteen", "build x, line 7: confirmed")
    assert not keep_clip(ann, sound(1), "two point five", "read")
    one, two = clips_of(ann)
    assert (one.text, one.reviewed, two.text, two.reviewed) == ("two point five", False, "fifteen", True)
    assert np.array_equal(sound_of(ann, one), sound(1))


def test_a_line_that_was_cut_off_is_no_clip():
    ann = voice_folder("ann")
    keep_clip(ann, sound(1), "done", "read")
    with (ann / LIST).open("a") as file:
        file.write("clips/000002.flac\tabc")
    assert [clip.text for clip in clips_of(ann)] == ["done"]
    assert keep_clip(ann, sound(2), "next", "read")
    assert [clip.text for clip in clips_of(ann)] == ["done", "next"]


def test_about_one_in_four_is_held_back_and_always_the_same():
    ann = voice_folder("ann")
    for seed in range(60):
        keep_clip(ann, sound(seed), "done", "read")
    held = [clip.file for clip in clips_of(ann) if clip.held_back]
    assert 5 <= len(held) <= 25
    assert held == [clip.file for clip in clips_of(ann) if clip.held_back]


@pytest.mark.parametrize("name", ["", "../ann", "a/b", "ann\n", "."])
def test_names_that_could_lead_elsewhere_are_refused(name):
    if name.strip() != name and name.strip():
        assert voice_folder(name).name == "ann"
        return
    with pytest.raises(InputError, match="can't name a voice"):
        voice_folder(name)


def test_the_ear_in_force_is_found_and_named():
    ann = voice_folder("ann")
    with pytest.raises(InputError, match=r"No ear is fitted to ann, only to nobody: run benchvoice fit ann\."):
        voice_model("ann")
    put_in_force(ann, ann / "models/0123456789ab", "f" * 64)
    assert voice_model("ann") == ann / "models/0123456789ab"
    assert made_from("ann") == "f" * 64
    assert voice_names() == ["ann"]
    with pytest.raises(InputError, match="only to ann"):
        voice_model("bob")


def test_a_damaged_file_is_told():
    ann = voice_folder("ann")
    ann.mkdir(parents=True)
    (ann / "voice.json").write_text("{")
    with pytest.raises(MachineError, match="can't be read"):
        voice_model("ann")
    assert made_from("ann") is None
