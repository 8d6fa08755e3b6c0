"""The net in numpy: it agrees with vosk's own, a batch with its rows alone, and the way back with small steps."""

import json
import math
import shutil

import numpy as np
import pytest

from benchvoice.ear.fit import network
from benchvoice.ear.fit.acoustics import read_acoustics
from benchvoice.ear.fit.features import cepstra, refuse_other_features
from benchvoice.ear.fit.network import Pass, Span, output_count
from benchvoice.ear.layout import ModelError
from benchvoice.ear.library import import_vosk
from benchvoice.ear.pack.directory import Packed, _write_words
from benchvoice.ear.pack.kaldi import KaldiWriter
from benchvoice.ear.pack.phones import PhoneTable, Topology, write_transition_model

RANDOM = np.random.default_rng(5)


@pytest.fixture(scope="module")
def net(shipped):
    return read_acoustics(shipped / "am/final.mdl")


def features(frames):
    return (RANDOM.standard_normal((frames, 40)) * 5).astype(np.float32)


def listening_to_one_output(shipped, net, unit, folder):
    """A model in which every sound has the same output: any way through scores the sum of that output."""
    packed = Packed.read(shipped)
    own = packed.topology
    topology = Topology(own.units, own.silence, dict.fromkeys(own.units, (unit, unit)))
    shutil.copytree(shipped / "conf", folder / "conf")
    options = (folder / "conf/model.conf").read_text().replace("--lattice-beam=4.0", "--lattice-beam=0.01")
    (folder / "conf/model.conf").write_text(options.replace("--max-active=3000", "--max-active=500"))
    (folder / "am").mkdir()
    out = KaldiWriter()
    write_transition_model(out, PhoneTable(topology))
    nnet = net.data[net.data.index(b"<Nnet3> ") :]
    (folder / "am/final.mdl").write_bytes(out.getvalue() + nnet)
    Packed(topology, type(packed.costs)(loop=0.0, silence=0.0)).write(folder)
    _write_words(folder, Packed(topology, type(packed.costs)(loop=0.0, silence=0.0)), {"w": (("AA", "B"),)})
    return import_vosk().Model(str(folder))


def vosks_score(model, samples):
    vosk = import_vosk()
    recogniser = vosk.KaldiRecognizer(model, 16_000, '["w"]')
    recogniser.SetMaxAlternatives(1)
    data = samples.tobytes()
    for at in range(0, len(data), 5000):
        recogniser.AcceptWaveform(data[at : at + 5000])
    best = json.loads(recogniser.FinalResult())["alternatives"][0]
    return best["confidence"] + 0.9 * math.log(4)  # the cost of saying nothing in a grammar of one word


def test_it_agrees_with_vosk(shipped, net, tmp_path):
    """A frame's score differs between the outputs by less than 0.001: a common offset is the decoder's own."""
    time = np.arange(20_000) / 16_000
    tone = sum(1500 * np.sin(2 * np.pi * f * time * (1 + 0.3 * time)) for f in (170, 500, 1400, 2600))
    samples = (tone * (0.3 + np.sin(7 * time) ** 2) + 40 * RANDOM.standard_normal(len(time))).astype(np.int16)
    outputs = Pass(net, [cepstra(samples)]).outputs[0].astype(np.float64)
    differences = []
    for unit in (0, 7, 40, 80):
        folder = tmp_path / str(unit)
        folder.mkdir()
        got = vosks_score(listening_to_one_output(shipped, net, unit, folder), samples)
        differences.append((got - outputs[:, unit].sum()) / len(outputs))
    assert max(differences) - min(differences) < 1e-3
    assert abs(differences[0]) < 5e-3


@pytest.mark.parametrize(("frames", "outputs"), [(1, 1), (3, 1), (4, 2), (100, 34)])
def test_one_output_for_three_frames(net, frames, outputs):
    assert output_count(frames) == outputs
    assert Pass(net, [features(frames)]).outputs.shape[1] == outputs


def test_a_row_of_a_batch_is_as_alone(net):
    long, short = features(100), features(71)
    both, alone = Pass(net, [long, short]), Pass(net, [short])
    assert both.counts == [34, 24]
    assert np.allclose(both.outputs[1, :24], alone.outputs[0], atol=1e-4)


class Doubled:
    """numpy whose single precision is double: the difference of two sums is then worth something."""

    float32 = np.float64

    def __getattr__(self, name):
        return getattr(np, name)


@pytest.mark.parametrize("which", [0, 5, -1])
def test_the_way_back_is_the_slope(net, which, monkeypatch):
    monkeypatch.setattr(network, "np", Doubled())
    random = np.random.default_rng(7)
    name, x = net.movable[which], [features(40).astype(np.float64)]
    layer = net.layer(name)
    computed = Pass(net, x)
    gradient = random.standard_normal(computed.outputs.shape)
    back = computed.back(gradient, [name])[name]
    assert back[0].dtype == np.float64
    for part, k in ((part, k) for part in (0, 1) for k in random.choice(len(layer.weight), 8, replace=False)):
        step = np.zeros(len(layer.weight))
        step[k] = 1e-6 * float(np.abs((layer.weight, layer.offset)[part]).mean())
        ends = []
        for sign in (1, -1):
            moved = [layer.weight, layer.offset]
            moved[part] = moved[part] + sign * step
            ends.append(float((Pass(net, x, {name: tuple(moved)}).outputs * gradient).sum()))
        least = 1e-4 * float(np.abs(back[part]).mean())
        assert back[part][k] == pytest.approx((ends[0] - ends[1]) / 2 / step[k], rel=1e-3, abs=least)


def test_spans_hold_one_another():
    span = Span(0, 99, 3).with_(-6, 96, 3)
    assert (span.first, span.last, span.step, span.count) == (-6, 99, 3, 36)
    assert Span(0, 99, 3).with_(-1, 98, 3).step == 1
    assert Span(0, 9, 3).slice_of(Span(-3, 9, 1), -3) == slice(0, 10, 3)


def test_a_model_with_other_features_is_refused(shipped, tmp_path):
    refuse_other_features(shipped)
    (tmp_path / "conf").mkdir()
    (tmp_path / "conf/mfcc.conf").write_text("--num-ceps=13\n")
    with pytest.raises(ModelError, match="features that can't be fitted"):
        refuse_other_features(tmp_path)


def test_a_sound_shorter_than_a_frame_has_no_features():
    assert cepstra(np.zeros(399, np.int16)).shape == (0, 40)
    assert cepstra(np.zeros(400, np.int16)).shape == (1, 40)
