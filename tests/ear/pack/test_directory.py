import shutil
from pathlib import Path

import numpy as np
import pytest

from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.lexicon import merged, parse, read
from benchvoice.ear.model import load_model
from benchvoice.ear.pack import Costs, MatrixForm, PackError, pack, repack
from benchvoice.ear.pack.__main__ import main
from benchvoice.ear.pack.directory import Packed, packed_files, sums

from .nets import write_net


def copy_of(model: Path, folder: Path) -> Path:
    return Path(shutil.copytree(model, folder))


def test_the_shipped_graph_is_what_its_lexicon_makes(shipped: Path, tmp_path: Path) -> None:
    """Deterministic, and in step with lexicon.txt: after a change run `python -m benchvoice.ear.pack repack`."""
    repack(shipped, read(shipped / "lexicon.txt"), tmp_path / "again")
    assert sums(tmp_path / "again") == (shipped / "SHA256SUMS").read_text()
    assert packed_files(tmp_path / "again") == packed_files(shipped)


def test_a_net_becomes_a_model_that_vosk_runs(shipped: Path, tmp_path: Path) -> None:
    net = write_net(tmp_path / "net", Packed.read(shipped).topology)
    noise = np.random.default_rng(1).integers(-3000, 3000, 16_000).astype(np.int16)
    for form in MatrixForm:
        out = tmp_path / form.name
        pack(net, shipped / "lexicon.txt", out, costs=Costs(word=2.0), form=form)
        model = load_model(out)
        assert Packed.read(out).costs == Costs(word=2.0)
        decoded = decode(model, noise, grammar_for(model, ["one", "two"]))
        assert decoded.audio_s == 1.0


def test_packing_twice_gives_the_same_bytes(shipped: Path, tmp_path: Path) -> None:
    net = write_net(tmp_path / "net", Packed.read(shipped).topology)
    for name in ("one", "two"):
        pack(net, shipped / "lexicon.txt", tmp_path / name)
    assert sums(tmp_path / "one") == sums(tmp_path / "two")


def test_repacking_in_place_takes_a_changed_lexicon(shipped: Path, tmp_path: Path) -> None:
    model = copy_of(shipped, tmp_path / "model")
    with (model / "lexicon.txt").open("a", encoding="utf-8") as file:
        file.write("wibble W IH B AH L\n")
    assert main(["repack", str(model)]) == 0
    assert "wibble" in load_model(model).words


def test_a_sound_that_the_net_lacks_is_refused_by_name(shipped: Path, tmp_path: Path) -> None:
    lexicon = merged(read(shipped / "lexicon.txt"), parse("wibble W QQ B AH L"))
    with pytest.raises(PackError, match="QQ in wibble"):
        repack(shipped, lexicon, tmp_path / "out")


def test_an_empty_lexicon_is_refused(shipped: Path, tmp_path: Path) -> None:
    with pytest.raises(PackError, match="no words"):
        repack(shipped, {}, tmp_path / "out")


@pytest.mark.parametrize("damage", ["", "{", '{"format": 99}', "[]"])
def test_a_model_without_a_good_recipe_takes_no_words(shipped: Path, tmp_path: Path, damage: str) -> None:
    model = copy_of(shipped, tmp_path / "model")
    (model / "packed.json").write_text(damage)
    with pytest.raises(PackError, match=r"packed\.json"):
        repack(model, parse("one W AH N"), tmp_path / "out")


def test_a_broken_net_is_one_sentence(shipped: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    net = write_net(tmp_path / "net", Packed.read(shipped).topology)
    (net / "net.json").write_text('{"layers": [{"type": "affine", "w": "gone", "b": "gone"}]}')
    assert main(["pack", str(net), str(shipped / "lexicon.txt"), str(tmp_path / "out")]) == 1
    assert capsys.readouterr().err.count("\n") == 1
