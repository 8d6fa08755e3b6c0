"""Prompts are read in turn; what is no reading of them is asked for again; a folder's clips are taken with its list."""

import numpy as np
import pytest
import soundfile

from benchvoice.app.fitting.prompts import PROMPTS, vocabulary
from benchvoice.app.fitting.reading import read_aloud, take_folder
from benchvoice.app.fitting.voices import clips_of
from benchvoice.ear.model import find_model, load_model
from benchvoice.errors import InputError
from benchvoice.room import VirtualRoom
from benchvoice.room.mixing import with_pauses
from benchvoice.room.resampling import resample
from benchvoice.voice import Voice

PERSON = Voice(name="en-us+Andy", rate=150)


@pytest.fixture(scope="module")
def model():
    return load_model(find_model())


def spoken(words):
    sound = PERSON.say_to_buffer(words)
    return with_pauses(resample(sound.samples, sound.rate, 16_000), 16_000, 0.4, 1.5)


def test_every_word_to_be_read_is_one_that_the_ear_has(model):
    assert [word for word in vocabulary() if word not in model.words] == []
    assert len(PROMPTS) == len(set(PROMPTS))


def test_prompts_are_read_kept_and_not_asked_again(model, tmp_path):
    prompts, told = ("two point five", "hold on", "fifteen"), []
    said = [spoken(words) for words in ("two point five", "seventy nine front", "hold on")]
    assert read_aloud(VirtualRoom(iter(said)), model, tmp_path, prompts, told.append) == 2
    assert [clip.text for clip in clips_of(tmp_path)] == ["two point five", "hold on"]
    assert told == ["1 of 3: two point five", "2 of 3: hold on", "Again: 2 of 3: hold on", "3 of 3: fifteen"]
    told.clear()
    assert read_aloud(VirtualRoom(iter([spoken("fifteen")])), model, tmp_path, prompts, told.append) == 1
    assert told == ["3 of 3: fifteen"]


def test_a_prompt_is_left_out_after_three_tries(model, tmp_path):
    told, other = [], spoken("seventy nine front")
    assert read_aloud(VirtualRoom(iter([other] * 3)), model, tmp_path, ("hold on",), told.append) == 0
    assert told[-1] == "Left out: hold on"
    assert clips_of(tmp_path) == []


def write(folder, name, text):
    soundfile.write(folder / name, np.random.default_rng(len(name)).integers(-99, 99, 8000).astype(np.int16), 16_000)
    with (folder / "list.tsv").open("a") as file:
        file.write(f"{name}\t{text}\n")


def test_a_folder_with_a_list_is_taken_once(tmp_path):
    source, ann = tmp_path / "source", tmp_path / "ann"
    source.mkdir()
    (source / "list.tsv").write_text("file\ttext\n")
    write(source, "a.wav", "Two  point five")
    write(source, "bb.wav", "done")
    assert take_folder(source, ann) == 2
    assert take_folder(source, ann) == 0
    assert [(clip.text, clip.source) for clip in clips_of(ann)] == [("two point five", "folder"), ("done", "folder")]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        (None, r"list\.tsv can't be read: put a table there with the columns file and text\."),
        ("file\ttext\nx.wav\t\n", r"list\.tsv:2: a file and its words are needed\."),
        ("name\twords\nx.wav\tdone\n", r"list\.tsv:2: a file and its words are needed\."),
        ("file\ttext\nx.wav\tdone\n", r"x\.wav isn't there"),
    ],
)
def test_what_is_wrong_with_a_folder_is_told(lines, told, tmp_path):
    if lines is not None:
        (tmp_path / "list.tsv").write_text(lines)
    with pytest.raises(InputError, match=told):
        take_folder(tmp_path, tmp_path / "ann")
