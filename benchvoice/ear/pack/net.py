"""A trained net as a folder of plain arrays, and its form as Kaldi's nnet3.

The folder (what training exports):

- `net.json`: `input_dim`, and `layers` in order. Each layer reads the one before, or `input` (a layer's name;
  "input": the features). Types: `affine` (weights `w`, `b`; `splice`: which frames of its own input it sees;
  `stride`: it keeps every so many), `relu`, `logsoftmax`, `scale_offset` and `batchnorm` (weights `scale`, `offset`),
  `sum` (`of`: names of layers; `scales` if not all 1). Weights are named in the layer and lie in `weights.npz`; a
  matrix is out x (in * splice), the frames of the splice one after the other.
- `units.txt`: one unit a line. `topology.json`: see `phones.Topology.from_json`.

Vosk repeats the first and last frame of features at the edges, and gives one output for every third frame.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from benchvoice.ear.pack.kaldi import Floats, KaldiWriter, MatrixForm
from benchvoice.ear.pack.phones import Topology

_SMALL = 2000
"""Matrices of no more values than this are always kept exactly: they are cheap, and often scale everything."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: what it reads, how many values it gives, its step in input frames, and its context in them."""

    name: str
    kind: str
    reads: tuple[str, ...]
    dim: int
    step: int
    left: int
    right: int
    splice: tuple[int, ...] = (0,)
    scales: tuple[float, ...] = (1.0,)
    weight: Floats | None = None
    offset: Floats | None = None


@dataclass(frozen=True, slots=True)
class Net:
    topology: Topology
    input_dim: int
    layers: tuple[Layer, ...]

    @property
    def subsampling(self) -> int:
        """Input frames to one output."""
        return self.layers[-1].step


def read_net(folder: Path) -> Net:
    """The net in a folder. ValueError or KeyError, naming the layer, where it doesn't hang together."""
    described = json.loads((folder / "net.json").read_text(encoding="utf-8"))
    units = (folder / "units.txt").read_text(encoding="utf-8").split()
    topology = Topology.from_json(units, json.loads((folder / "topology.json").read_text(encoding="utf-8")))
    with np.load(folder / "weights.npz") as stored:
        weights = {name: stored[name].astype(np.float32) for name in stored.files}
    input_dim = int(described.get("input_dim", 40))
    layers = {"input": Layer("input", "input", (), input_dim, 1, 0, 0)}
    previous = "input"
    for number, spec in enumerate(described["layers"]):
        name = spec.get("name", f"layer{number}")
        layers[name] = _layer(name, spec, previous, layers, weights)
        previous = name
    del layers["input"]
    return Net(topology, input_dim, tuple(layers.values()))


def _layer(
    name: str, spec: dict[str, Any], previous: str, layers: dict[str, Layer], weights: dict[str, Floats]
) -> Layer:
    kind = {"batchnorm": "scale_offset"}.get(spec["type"], spec["type"])
    if kind == "sum":
        sources = [layers[other] for other in spec["of"]]
        scales = tuple(float(scale) for scale in spec.get("scales", [1.0] * len(sources)))
        step, left, right = (max(getattr(source, key) for source in sources) for key in ("step", "left", "right"))
        return Layer(name, kind, tuple(spec["of"]), sources[0].dim, step, left, right, scales=scales)
    source = layers[spec.get("input", previous)]
    reads = (source.name,)
    if kind == "affine":
        weight, offset = weights[spec["w"]], weights[spec["b"]]
        splice = tuple(int(shift) for shift in spec.get("splice", [0]))
        if weight.shape[1] != source.dim * len(splice):
            raise ValueError(
                f"layer {name}: {weight.shape[1]} weights a row where {source.dim} x {len(splice)} are needed"
            )
        left, right = source.left - min(0, *splice) * source.step, source.right + max(0, *splice) * source.step
        step = source.step * int(spec.get("stride", 1))
        return Layer(name, kind, reads, len(weight), step, left, right, splice, weight=weight, offset=offset)
    if kind == "scale_offset":
        weight, offset = weights[spec["scale"]], weights[spec["offset"]]
        return Layer(
            name, kind, reads, source.dim, source.step, source.left, source.right, weight=weight, offset=offset
        )
    if kind in ("relu", "logsoftmax"):
        return Layer(name, kind, reads, source.dim, source.step, source.left, source.right)
    raise ValueError(f"layer {name}: the type {kind} isn't known")


def write_nnet3(out: KaldiWriter, net: Net, form: MatrixForm) -> None:
    """Appends Kaldi's AmNnetSimple: the layers as config lines, then their components, then contexts and no priors."""
    out.token("<Nnet3>")
    out.raw(f"\n{_config(net)}\n\n".encode())
    out.token("<NumComponents>")
    out.int32(len(net.layers))
    for layer in net.layers:
        out.token("<ComponentName>")
        out.token(layer.name)
        _write_component(out, layer, form)
    out.token("</Nnet3>")
    out.token("<LeftContext>")
    out.int32(net.layers[-1].left)
    out.token("<RightContext>")
    out.int32(net.layers[-1].right)
    out.token("<Priors>")
    out.vector(np.zeros(0, np.float32))


def _config(net: Net) -> str:
    steps = {"input": 1, **{layer.name: layer.step for layer in net.layers}}
    lines = [f"input-node name=input dim={net.input_dim}"]
    for layer in net.layers:
        if layer.kind == "sum":
            terms = [
                name if scale == 1.0 else f"Scale({scale:g}, {name})"
                for name, scale in zip(layer.reads, layer.scales, strict=True)
            ]
            source = terms[0]
            for term in terms[1:]:
                source = f"Sum({source}, {term})"
        else:
            # offsets count input frames, whatever the layer's own step
            frames = [shift * steps[layer.reads[0]] for shift in layer.splice]
            parts = [layer.reads[0] if frame == 0 else f"Offset({layer.reads[0]}, {frame})" for frame in frames]
            source = parts[0] if len(parts) == 1 else f"Append({', '.join(parts)})"
        lines.append(f"component-node name={layer.name} component={layer.name} input={source}")
    lines.append(f"output-node name=output input={net.layers[-1].name} objective=linear")
    return "\n".join(lines)


def _write_component(out: KaldiWriter, layer: Layer, form: MatrixForm) -> None:
    if layer.kind == "affine" and layer.weight is not None and layer.offset is not None:
        out.token("<FixedAffineComponent>")
        out.token("<LinearParams>")
        out.matrix(layer.weight, form if layer.weight.size > _SMALL else MatrixForm.FLOAT)
        out.token("<BiasParams>")
        out.vector(layer.offset)
        out.token("</FixedAffineComponent>")
    elif layer.kind == "scale_offset" and layer.weight is not None and layer.offset is not None:
        _write_scale_offset(out, layer.weight, layer.offset)
    elif layer.kind == "sum":  # a sum is only a descriptor in nnet3: it needs a component to become a layer
        out.token("<NoOpComponent>")
        out.token("<Dim>")
        out.int32(layer.dim)
        out.token("<BackpropScale>")
        out.float32(1.0)
        out.token("</NoOpComponent>")
    else:
        _write_nonlinear(out, "RectifiedLinearComponent" if layer.kind == "relu" else "LogSoftmaxComponent", layer.dim)


def _write_scale_offset(out: KaldiWriter, scale: Floats, offset: Floats) -> None:
    out.token("<ScaleAndOffsetComponent>")
    out.token("<LearningRate>")
    out.float32(0.001)  # read but never used: there is no training here
    out.token("<Dim>")
    out.int32(len(scale))
    out.token("<Scales>")
    out.vector(scale)
    out.token("<Offsets>")
    out.vector(offset)
    out.token("<UseNaturalGradient>")
    out.boolean(True)
    out.token("<Rank>")
    out.int32(20)
    out.token("</ScaleAndOffsetComponent>")


def _write_nonlinear(out: KaldiWriter, kind: str, dim: int) -> None:
    """A component without weights; the statistics of training that its file form asks for are empty."""
    out.token(f"<{kind}>")
    out.token("<Dim>")
    out.int32(dim)
    for name in ("<ValueAvg>", "<DerivAvg>"):
        out.token(name)
        out.vector(np.zeros(0, np.float32))
    out.token("<Count>")
    out.float64(0.0)
    out.token("<OderivRms>")
    out.vector(np.zeros(0, np.float32))
    for name in ("<OderivCount>", "<NumDimsSelfRepaired>", "<NumDimsProcessed>"):
        out.token(name)
        out.float64(0.0)
    out.token(f"</{kind}>")
