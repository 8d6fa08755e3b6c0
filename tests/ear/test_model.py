"""Loading: by name and path, every kind of damage a sentence, and never the end of the process."""

import shutil
from pathlib import Path

import pytest

from benchvoice.ear import integrity
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.layout import ModelError
from benchvoice.ear.lexicon import OTHER, read
from benchvoice.ear.model import Model, find_model, load_model, model_folders, model_names
from benchvoice.ear.pack.directory import Packed
from benchvoice.ear.pack.fst import const_bytes
from benchvoice.ear.pack.graph import build_graph
from benchvoice.ear.pack.phones import PhoneTable
from benchvoice.errors import MachineError


@pytest.fixture
def model_copy(shipped: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(shipped, tmp_path / "some-model"))


@pytest.fixture
def foreign(model_copy: Path) -> Path:
    """The shipped model as if somebody else had packed it."""
    for name in ("packed.json", "SHA256SUMS", "lexicon.txt", "confidence.json"):
        (model_copy / name).unlink()
    return model_copy


def test_the_shipped_model_loads(model: Model) -> None:
    assert model.name == "bench-en"
    assert {"thou", "newton", OTHER} <= model.words
    assert model.runtime_grammar
    assert model.rejects
    assert not model.free_speech


def test_the_hash_names_the_model(model: Model, model_copy: Path) -> None:
    assert load_model(model_copy).hash == model.hash
    assert len(model.hash) == 64


def test_models_are_found_by_name_and_by_path(shipped: Path, model_copy: Path) -> None:
    assert find_model("bench-en") == shipped
    assert find_model(shipped) == shipped
    assert find_model("some-model", [model_copy.parent]) == model_copy
    assert model_names([model_copy.parent]) == ["some-model"]
    assert "bench-en" in model_names()


def test_a_name_that_nobody_has_lists_those_there_are(model_copy: Path) -> None:
    with pytest.raises(ModelError, match="some-model"):
        find_model("other", [model_copy.parent])
    with pytest.raises(ModelError, match="none"):
        find_model("other", [])
    with pytest.raises(ModelError, match="no speech model at"):
        find_model("./nowhere/at/all")


def test_the_users_own_models_come_first() -> None:
    assert len(model_folders()) == 3
    assert model_folders()[0].name == "models"


@pytest.mark.parametrize(
    "name", ["am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst", "graph/words.txt", "conf/model.conf", "lexicon.txt"]
)
@pytest.mark.parametrize("keep", [0.5, 0.999])
def test_a_truncated_file_is_named(model_copy: Path, name: str, keep: float) -> None:
    data = (model_copy / name).read_bytes()
    (model_copy / name).write_bytes(data[: int(len(data) * keep)])
    with pytest.raises(MachineError, match=name):
        load_model(model_copy)


def test_one_changed_bit_is_found(model_copy: Path) -> None:
    data = bytearray((model_copy / "am/final.mdl").read_bytes())
    data[3_000_000] ^= 1
    (model_copy / "am/final.mdl").write_bytes(data)
    with pytest.raises(ModelError, match=r"am/final\.mdl is not as it was packed"):
        load_model(model_copy)


@pytest.mark.parametrize("damage", ["gone", "garbled", "a stray file", "no longer text"])
def test_sums_that_do_not_fit_are_said(model_copy: Path, damage: str) -> None:
    if damage == "gone":
        (model_copy / "SHA256SUMS").unlink()
    elif damage == "garbled":
        (model_copy / "SHA256SUMS").write_text("nothing of the kind\n")
    elif damage == "no longer text":
        (model_copy / "SHA256SUMS").write_bytes(b"\xff\xff")
    else:
        (model_copy / "graph/HCLG.fst").write_bytes((model_copy / "graph/Gr.fst").read_bytes())
    with pytest.raises(ModelError):
        load_model(model_copy)


def test_broken_thresholds_are_said(model_copy: Path) -> None:
    for text in ("[]", "{", '{"accept": 2}', '{"strange": 1}', '{"accept": "high"}', '{"accept_mean": 2}'):
        (model_copy / "confidence.json").write_text(text)
        with pytest.raises(ModelError, match="thresholds"):
            load_model(model_copy)


def test_another_packers_model_is_tried_out_once(
    foreign: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = load_model(foreign, tmp_path / "cache")
    tries: list[Path] = []
    monkeypatch.setattr(integrity, "_decode_elsewhere", tries.append)
    again = load_model(foreign, tmp_path / "cache")
    assert again.hash == first.hash
    assert tries == []
    (foreign / "conf/model.conf").write_text((foreign / "conf/model.conf").read_text() + "\n")
    assert load_model(foreign, tmp_path / "cache").hash != first.hash
    assert tries == [foreign]


@pytest.mark.parametrize("name", ["am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst", "graph/words.txt"])
def test_a_truncated_model_of_another_packer_crashes_nothing(foreign: Path, tmp_path: Path, name: str) -> None:
    data = (foreign / name).read_bytes()
    half = len(data) // 2
    if name == "graph/words.txt":  # in the middle of a line: one cut at a line's end is a whole table of fewer words
        half = data.rindex(b" ", 0, half)
    (foreign / name).write_bytes(data[:half])
    with pytest.raises(ModelError, match="can't be loaded by vosk"):
        load_model(foreign, tmp_path / "cache")


def test_options_that_vosk_does_not_know_crash_nothing(foreign: Path, tmp_path: Path) -> None:
    (foreign / "conf/model.conf").write_text("--no-such-option=1\n")
    with pytest.raises(ModelError, match="can't be loaded by vosk"):
        load_model(foreign, tmp_path / "cache")


def test_a_model_with_a_fixed_graph_sorts_out_what_was_not_asked(
    foreign: Path, shipped: Path, tmp_path: Path, speak
) -> None:
    packed, words = Packed.read(shipped), ("one", "two", "three", "four", "five", "nine")
    lexicon = {word: sounds for word, sounds in read(shipped / "lexicon.txt").items() if word in words}
    graph = build_graph(PhoneTable(packed.topology), lexicon, packed.costs)
    (foreign / "graph/HCLG.fst").write_bytes(const_bytes(graph.fst))
    (foreign / "graph/words.txt").write_text("".join(f"{word} {n}\n" for n, word in enumerate(graph.words)))
    for name in ("HCLr.fst", "Gr.fst"):
        (foreign / "graph" / name).unlink()
    fixed = load_model(foreign, tmp_path / "cache")
    assert not fixed.runtime_grammar
    sound = speak("five")
    assert decode(fixed, sound, grammar_for(fixed, ["five", "nine"])).text == "five"
    assert decode(fixed, sound, grammar_for(fixed, ["one"])).text == OTHER


def test_a_path_with_spaces_and_letters_of_all_kinds(model_copy: Path, tmp_path: Path) -> None:
    odd = tmp_path / "modèles de Zoë"
    model_copy.rename(odd)
    assert load_model(odd).name == "modèles de Zoë"
