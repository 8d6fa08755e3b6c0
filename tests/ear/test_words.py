"""Words that a procedure brings: said from the dictionary or their spelling, and really heard."""

import shutil
from pathlib import Path

import pytest

from benchvoice.ear import words as w
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.layout import ModelError
from benchvoice.ear.model import load_model
from benchvoice.ear.pack import PackError
from benchvoice.ear.words import missing, model_with, pronounce

WORDS_OF_THE_JOB = (Path(__file__).parent / "bench_words.txt").read_text(encoding="utf-8").split()


def test_nothing_of_the_job_is_missing() -> None:
    assert missing(WORDS_OF_THE_JOB) == []


def test_missing_words_come_once_in_order() -> None:
    assert missing(["one", "wobblegong", "two", "zibbet", "wobblegong"]) == ["wobblegong", "zibbet"]


def test_the_dictionary_comes_before_the_spelling_with_a_british_form_beside(shipped: Path) -> None:
    found = pronounce(["kerosene", "wobblegong", "hydrometer", "4711", ""], shipped / w.DICTIONARY)
    assert found["kerosene"][0] == ("K", "EH", "R", "AH", "S", "IY", "N")
    assert found["hydrometer"][0][-1] == "ER"
    assert found["hydrometer"][-1][-1] == "AH"
    assert list(found) == ["kerosene", "wobblegong", "hydrometer"]


def test_a_torn_dictionary_is_said(tmp_path: Path) -> None:
    (tmp_path / w.DICTIONARY).write_bytes(b"not xz")
    with pytest.raises(ModelError, match="dictionary"):
        pronounce(["kerosene"], tmp_path / w.DICTIONARY)


def test_no_new_words_need_no_new_model(shipped: Path, tmp_path: Path) -> None:
    assert model_with(["one", "two"], base=shipped, cache=tmp_path).path == shipped
    assert list(tmp_path.iterdir()) == []


def test_new_words_are_heard_and_the_old_ones_still(shipped: Path, tmp_path: Path, speak) -> None:
    new = ["wobblegong", "zibbet", "trundlecap"]
    extended = model_with([*new, "two", "M12"], base=shipped, cache=tmp_path)
    assert extended.added == tuple(new)
    assert extended.unsayable == ("M12",)
    model = load_model(extended.path)
    grammar = grammar_for(model, [*new, "two", "seven", "done"])
    for word in (*new, "two", "done"):
        for voice in ("en-us", "en-gb+f2"):
            assert decode(model, speak(word, voice), grammar).known == (word,)


def test_a_told_pronunciation_is_used(shipped: Path, tmp_path: Path, speak) -> None:
    """A word spelt unlike it sounds: heard only as told."""
    told = {"cholmondeley": [("CH", "AH", "M", "L", "IY")]}
    model = load_model(model_with([], base=shipped, given=told, cache=tmp_path).path)
    assert decode(model, speak("chumley"), grammar_for(model, ["cholmondeley", "two", "nine"])).text == "cholmondeley"


def test_a_sound_that_is_none_is_refused(shipped: Path, tmp_path: Path) -> None:
    with pytest.raises(PackError, match="QX in wobble"):
        model_with([], base=shipped, given={"wobble": [("W", "QX")]}, cache=tmp_path)


def test_the_same_words_are_found_again_whatever_their_order(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = model_with(["zibbet", "wobblegong"], base=shipped, cache=tmp_path)

    def never(*_: object) -> None:
        raise AssertionError("built again")

    monkeypatch.setattr(w, "_build", never)
    assert model_with(["wobblegong", "zibbet", "wobblegong"], base=shipped, cache=tmp_path).path == first.path


def test_a_damaged_rebuilt_model_is_made_again(shipped: Path, tmp_path: Path) -> None:
    path = model_with(["zibbet"], base=shipped, cache=tmp_path).path
    (path / "graph/words.txt").write_text("torn")
    assert model_with(["zibbet"], base=shipped, cache=tmp_path).path == path
    assert "zibbet" in load_model(path).words


def test_old_rebuilt_models_go_and_drafts_leave_nothing(
    shipped: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(w, "KEPT", 2)
    paths = [model_with([word], base=shipped, cache=tmp_path).path for word in ("zibbet", "zobbet", "zubbet")]
    assert sorted(tmp_path.iterdir()) == sorted(paths[1:])


def test_a_cache_that_cannot_be_written_is_one_sentence(shipped: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(ModelError, match="can be written to"):
        model_with(["zibbet"], base=shipped, cache=tmp_path / "file")


def test_a_model_of_another_packer_stays_as_it_is(shipped: Path, tmp_path: Path) -> None:
    foreign = Path(shutil.copytree(shipped, tmp_path / "foreign"))
    (foreign / "packed.json").unlink()
    extended = model_with(["zibbet", "one"], base=foreign, cache=tmp_path / "cache")
    assert (extended.path, extended.unsayable) == (foreign, ("zibbet",))
