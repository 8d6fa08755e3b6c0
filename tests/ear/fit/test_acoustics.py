"""The net is read back as it was written, and changed in nothing but what is moved."""

import numpy as np
import pytest

from benchvoice.ear.fit.acoustics import SCALE, Piece, _pieces, _Stream, read_acoustics
from benchvoice.ear.layout import ModelError
from benchvoice.ear.pack.directory import Packed
from benchvoice.ear.pack.kaldi import KaldiWriter, MatrixForm
from benchvoice.ear.pack.net import read_net, write_nnet3
from tests.ear.pack.nets import write_net


@pytest.fixture
def net(shipped):
    return read_acoustics(shipped / "am/final.mdl")


@pytest.mark.parametrize(
    ("form", "within"), [(MatrixForm.FLOAT, 0.0), (MatrixForm.TWO_BYTES, 1e-4), (MatrixForm.ONE_BYTE, 0.05)]
)
def test_matrices_come_back(form, within):
    values = np.random.default_rng(1).standard_normal((40, 7)).astype(np.float32)
    out = KaldiWriter()
    out.matrix(values, form)
    again = _Stream(out.getvalue(), 2).matrix()
    assert again.shape == values.shape
    assert np.abs(again - values).max() <= within


def test_a_net_that_was_packed_comes_back(shipped, tmp_path):
    packed = read_net(write_net(tmp_path, Packed.read(shipped).topology))
    out = KaldiWriter()
    write_nnet3(out, packed, MatrixForm.FLOAT)
    file = tmp_path / "final.mdl"
    file.write_bytes(out.getvalue())
    again = read_acoustics(file)
    assert [layer.name for layer in again.layers] == [layer.name for layer in packed.layers]
    assert again.output == packed.layers[-1].name
    for one, other in zip(again.layers, packed.layers, strict=True):
        for part in ("weight", "offset"):
            if getattr(other, part) is not None:
                assert np.array_equal(getattr(one, part), getattr(other, part))


def test_what_is_not_moved_stays_to_the_byte(net):
    assert net.moved({}) == net.data
    same = {name: (net.layer(name).weight, net.layer(name).offset) for name in net.movable}
    assert net.moved(same) == net.data


def test_what_is_moved_is_read_back(net, tmp_path):
    name = net.movable[-1]
    layer = net.layer(name)
    assert layer.kind == SCALE
    (tmp_path / "final.mdl").write_bytes(net.moved({name: (layer.weight * 2, layer.offset + 1)}))
    again = read_acoustics(tmp_path / "final.mdl")
    assert np.array_equal(again.layer(name).weight, layer.weight * 2)
    assert np.array_equal(again.layer(name).offset, layer.offset + 1)
    for other in net.movable[:-1]:
        assert np.array_equal(again.layer(other).weight, net.layer(other).weight)


@pytest.mark.parametrize(
    ("text", "pieces", "sums"),
    [
        ("a", (Piece("a"),), False),
        ("Append(Offset(a, -3), a)", (Piece("a", -3), Piece("a")), False),
        ("Sum(a, Scale(0.66, b))", (Piece("a"), Piece("b", 0, 0.66)), True),
        ("Sum(Sum(a, b), Scale(0.5, c))", (Piece("a"), Piece("b"), Piece("c", 0, 0.5)), True),
    ],
)
def test_inputs_of_layers(text, pieces, sums):
    assert _pieces(text) == (pieces, sums)


@pytest.mark.parametrize("data", [b"", b"\0B<TransitionModel> nothing", b"<Nnet3> \nnonsense x\n\n<NumComponents> "])
def test_what_is_no_net_is_refused_in_a_sentence(data, tmp_path):
    (tmp_path / "final.mdl").write_bytes(data)
    with pytest.raises(ModelError, match=r"can't be fitted .*; fit a model that benchvoice packed\."):
        read_acoustics(tmp_path / "final.mdl")


def test_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(ModelError, match="can't be read"):
        read_acoustics(tmp_path / "final.mdl")
