import shutil
from pathlib import Path

import pytest

from benchvoice.ear.layout import ModelError, examine, read_words

REQUIRED = (
    "am/final.mdl",
    "conf/mfcc.conf",
    "conf/model.conf",
    "graph/HCLr.fst",
    "graph/Gr.fst",
    "graph/words.txt",
    "graph/disambig_tid.int",
    "graph/phones/word_boundary.int",
)


@pytest.fixture
def model_copy(shipped: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(shipped, tmp_path / "model"))


def test_the_shipped_model_takes_grammars_and_words(shipped: Path) -> None:
    layout = examine(shipped)
    assert layout.runtime_grammar
    assert layout.packed


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(ModelError, match="no speech model at"):
        examine(tmp_path / "none")
    with pytest.raises(ModelError, match="incomplete"):
        examine(tmp_path)


@pytest.mark.parametrize("name", REQUIRED)
@pytest.mark.parametrize("damage", ["missing", "empty"])
def test_each_required_file_is_named(model_copy: Path, name: str, damage: str) -> None:
    if damage == "missing":
        (model_copy / name).unlink()
    else:
        (model_copy / name).write_bytes(b"")
    with pytest.raises(ModelError, match=name):
        examine(model_copy)


@pytest.mark.parametrize("name", ["am/final.mdl", "graph/HCLr.fst", "graph/Gr.fst"])
def test_a_file_that_is_something_else_is_named(model_copy: Path, name: str) -> None:
    (model_copy / name).write_bytes(b"version https://git-lfs.github.com/spec/v1\n")
    with pytest.raises(ModelError, match=name):
        examine(model_copy)


def test_a_fixed_graph_is_told_by_its_name(model_copy: Path) -> None:
    (model_copy / "graph/HCLr.fst").rename(model_copy / "graph/HCLG.fst")
    (model_copy / "graph/Gr.fst").unlink()
    assert not examine(model_copy).runtime_grammar


def test_the_older_flat_layout(shipped: Path, tmp_path: Path) -> None:
    for name in REQUIRED:
        shutil.copyfile(shipped / name, tmp_path / Path(name).name)
    layout = examine(tmp_path)
    assert layout.words == tmp_path / "words.txt"
    assert not layout.packed


def test_words_leave_the_marks_out(tmp_path: Path) -> None:
    (tmp_path / "words.txt").write_text("<eps> 0\n!SIL 1\none 2\n[unk] 3\n#0 4\n<s> 5\n\n")
    assert read_words(tmp_path / "words.txt") == {"one", "[unk]"}


def test_words_that_are_no_text_are_said(tmp_path: Path) -> None:
    (tmp_path / "words.txt").write_bytes(b"\xff\xfe\0")
    with pytest.raises(ModelError, match=r"words\.txt"):
        read_words(tmp_path / "words.txt")
