import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.log import keep_grammar
from benchvoice.voice import Voice
from tests.app.conftest import Command


def spoken(folder: Path, words: str) -> Path:
    """A file in which a voice says the words."""
    sound = Voice(name="en-us+Andy", rate=150).say_to_buffer(words)
    path = folder / f"{words}.wav"
    soundfile.write(path, sound.samples, sound.rate)
    return path


@pytest.fixture
def silence(tmp_path: Path) -> Path:
    path = tmp_path / "silence.wav"
    soundfile.write(path, np.zeros(16_000, np.int16), 16_000)
    return path


def test_commands_are_understood_and_a_line_is_printed_for_each_file_in_order(
    benchvoice: Command, tmp_path: Path, silence: Path
) -> None:
    files = [spoken(tmp_path, "measure again"), silence, spoken(tmp_path, "done")]
    done = benchvoice("hear", *files, "--as", "command", "--json")
    lines = [json.loads(line) for line in done.out.splitlines()]
    assert done.status == 0
    assert [(line["file"], line["understood"]) for line in lines] == [
        (str(files[0]), "measure again"),
        (str(silence), None),
        (str(files[2]), "done"),
    ]
    assert lines[0]["text"] == "measure again"
    assert lines[1]["words"] == []
    assert lines[1]["audio_s"] == 1
    assert all(line["compute_s"] >= 0 for line in lines)
    assert [sorted(word) for word in lines[0]["words"]] == [["confidence", "end", "start", "word"]] * 2


def test_a_reading_is_understood_as_parse_would(benchvoice: Command, tmp_path: Path) -> None:
    file = spoken(tmp_path, "two point eight thou")
    understood = benchvoice("hear", file, "--as", "reading", "--unit", "thou").answer["understood"]
    assert understood["action"] in ("take", "read back")
    assert (understood["value"], understood["unit"], understood["decimals"]) == ("2.8", "thou", 1)


def test_just_these_words_in_any_sequence(benchvoice: Command, tmp_path: Path) -> None:
    file = spoken(tmp_path, "zero one two")
    assert benchvoice("hear", file, "--words", "zero,one,two,three").answer["text"] == "zero one two"


def test_a_grammar_that_a_build_kept(benchvoice: Command, tmp_path: Path) -> None:
    kept = tmp_path / "build" / keep_grammar(tmp_path / "build", ["first undersize", "standard"])
    file = spoken(tmp_path, "first undersize")
    assert benchvoice("hear", file, "--grammar", kept).answer["understood"] == "first undersize"


def test_a_file_that_is_no_sound_is_told_and_the_others_are_heard(
    benchvoice: Command, tmp_path: Path, silence: Path
) -> None:
    text = tmp_path / "notes.wav"
    text.write_text("main two")
    done = benchvoice("hear", text, silence, "--as", "command")
    assert done.status == 1
    assert done.err.startswith(f"{text} isn't a sound file")
    assert json.loads(done.out)["file"] == str(silence)


@pytest.mark.parametrize("options", [(), ("--as", "command", "--words", "one")])
def test_what_to_listen_for_is_said_once(benchvoice: Command, silence: Path, options: tuple[str, ...]) -> None:
    done = benchvoice("hear", silence, *options)
    assert done.status == 2
    assert done.err.startswith("Say what to listen for: one of --as, --words or --grammar.")


def test_words_that_the_model_lacks_altogether(benchvoice: Command, silence: Path) -> None:
    done = benchvoice("hear", silence, "--words", "flonkhurst")
    assert (done.status, done.out) == (1, "")
    assert "knows none of the words to listen for: flonkhurst" in done.err
