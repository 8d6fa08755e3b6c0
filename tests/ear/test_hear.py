import contextlib
import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.ear.decode import RATE, grammar_for
from benchvoice.ear.hear import NothingSayable, SoundFileError, grammar_of_words, hear, read_sound
from benchvoice.ear.model import Model

DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]


def test_what_is_printed_of_a_file(model: Model, tmp_path: Path, speak) -> None:
    file = tmp_path / "said.wav"
    soundfile.write(file, speak("five two"), RATE, subtype="PCM_16")
    printed, decoded = hear(model, file, grammar_of_words(model, DIGITS))
    assert json.loads(json.dumps(printed)) == printed
    assert list(printed) == ["file", "words", "text", "audio_s", "compute_s", "left_out_s"]
    assert printed["text"] == decoded.text == "five two"
    assert list(printed["words"][0]) == ["word", "confidence", "start", "end"]


@pytest.mark.parametrize(
    ("rate", "kind", "subtype"),
    [(8000, "wav", "PCM_16"), (22_050, "flac", "PCM_24"), (44_100, "wav", "FLOAT"), (48_000, "ogg", "VORBIS")],
)
def test_other_rates_kinds_and_two_channels(
    model: Model, tmp_path: Path, speak, rate: int, kind: str, subtype: str
) -> None:
    import soxr

    sound = soxr.resample(speak("seven nine").astype(np.float32) / 32768, RATE, rate)
    file = tmp_path / f"said.{kind}"
    soundfile.write(file, np.stack([sound, sound * 0.5], axis=1), rate, subtype=subtype)
    printed, _ = hear(model, file, grammar_of_words(model, DIGITS))
    assert printed["text"] == "seven nine"
    assert printed["audio_s"] == pytest.approx(len(sound) / rate, abs=0.01)


def test_a_clip_comes_back_to_the_bit(tmp_path: Path) -> None:
    samples = np.random.default_rng(0).integers(-32768, 32768, 5000).astype(np.int16)
    soundfile.write(tmp_path / "clip.flac", samples, RATE, subtype="PCM_16")
    np.testing.assert_array_equal(read_sound(tmp_path / "clip.flac"), samples)


def test_floats_that_are_no_sound_are_evened_out(tmp_path: Path) -> None:
    odd = np.array([np.nan, np.inf, -np.inf, 3.0, -3.0, 0.5], np.float32)
    soundfile.write(tmp_path / "odd.wav", odd, RATE, subtype="FLOAT")
    assert read_sound(tmp_path / "odd.wav").tolist() == [0, 32767, -32768, 32767, -32768, 16384]


def test_an_empty_file_is_silence(model: Model, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "empty.wav", np.zeros(0, np.int16), RATE)
    printed, _ = hear(model, tmp_path / "empty.wav", grammar_of_words(model, DIGITS))
    assert (printed["words"], printed["text"], printed["audio_s"]) == ([], "", 0.0)


def test_files_that_hold_no_sound_are_named(tmp_path: Path) -> None:
    (tmp_path / "text.wav").write_text("not a sound")
    (tmp_path / "nothing.flac").write_bytes(b"")
    (tmp_path / "folder.wav").mkdir()
    for name, says in [
        ("gone.wav", "isn't there"),
        ("text.wav", "isn't a sound file"),
        ("nothing.flac", "isn't a sound"),
        ("folder.wav", "isn't a sound"),
    ]:
        with pytest.raises(SoundFileError, match=rf"{name} {says}"):
            read_sound(tmp_path / name)


def test_a_torn_file_is_named_or_heard_as_far_as_it_goes(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "whole.flac", np.zeros(RATE, np.int16), RATE)
    data = (tmp_path / "whole.flac").read_bytes()
    (tmp_path / "torn.flac").write_bytes(data[: len(data) // 3])
    with contextlib.suppress(SoundFileError):
        assert len(read_sound(tmp_path / "torn.flac")) <= RATE


def test_words_that_the_model_lacks_are_named(model: Model) -> None:
    assert grammar_of_words(model, ["one", "xyzzyplugh"]).unheard == ("xyzzyplugh",)
    with pytest.raises(NothingSayable, match="xyzzyplugh"):
        grammar_of_words(model, ["xyzzyplugh"])
    with pytest.raises(NothingSayable, match="nothing was named"):
        grammar_of_words(model, [])
    assert grammar_of_words(model, ["Zero", "zero"]) == grammar_for(model, ["zero"])
