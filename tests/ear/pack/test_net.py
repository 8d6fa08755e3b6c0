import json
from pathlib import Path

import pytest

from benchvoice.ear.pack.directory import Packed
from benchvoice.ear.pack.kaldi import KaldiWriter, MatrixForm
from benchvoice.ear.pack.net import read_net, write_nnet3

from .nets import write_net


@pytest.fixture
def folder(shipped: Path, tmp_path: Path) -> Path:
    return write_net(tmp_path / "net", Packed.read(shipped).topology)


def change_layer(folder: Path, number: int, **changes: object) -> None:
    described = json.loads((folder / "net.json").read_text())
    described["layers"][number].update(changes)
    (folder / "net.json").write_text(json.dumps(described))


def test_contexts_and_steps_are_counted_in_input_frames(folder: Path) -> None:
    net = read_net(folder)
    assert net.subsampling == 3
    assert (net.layers[-1].left, net.layers[-1].right) == (1 + 3, 1 + 6)
    assert [layer.step for layer in net.layers] == [1, 3, 3, 3, 3, 3, 3]


def test_the_config_names_every_layer_and_offsets_in_input_frames(folder: Path) -> None:
    out = KaldiWriter()
    write_nnet3(out, read_net(folder), MatrixForm.TWO_BYTES)
    text = out.getvalue().split(b"<NumComponents>")[0].decode("latin-1")
    assert "component-node name=a component=a input=Append(Offset(norm, -1), norm, Offset(norm, 1))" in text
    assert "component-node name=b component=b input=Append(Offset(n, -3), n, Offset(n, 6))" in text
    assert "component-node name=s component=s input=Sum(b, Scale(0.5, n))" in text
    assert "output-node name=output input=out objective=linear" in text


def test_a_matrix_that_does_not_fit_names_its_layer(folder: Path) -> None:
    change_layer(folder, 4, splice=[0, 1])
    with pytest.raises(ValueError, match="layer b"):
        read_net(folder)


def test_an_unknown_type_is_refused(folder: Path) -> None:
    change_layer(folder, 2, type="magic")
    with pytest.raises(ValueError, match="layer r: the type magic"):
        read_net(folder)
