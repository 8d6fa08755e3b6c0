"""A tiny net of random weights over the shipped model's sounds, as a folder of arrays."""

import json
from pathlib import Path

import numpy as np

from benchvoice.ear.pack.phones import Topology


def write_net(folder: Path, topology: Topology, *, seed: int = 0) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    random = np.random.default_rng(seed)
    outputs = 1 + max(max(pair) for pair in topology.outputs.values())
    weights = {
        "norm.s": np.ones(40),
        "norm.o": np.zeros(40),
        "a.w": random.normal(0, 0.1, (32, 120)),
        "a.b": np.zeros(32),
        "n.s": np.ones(32),
        "n.o": np.zeros(32),
        "b.w": random.normal(0, 0.1, (32, 96)),
        "b.b": np.zeros(32),
        "out.w": random.normal(0, 0.1, (outputs, 32)),
        "out.b": np.zeros(outputs),
    }
    np.savez(folder / "weights.npz", **{name: value.astype(np.float32) for name, value in weights.items()})
    layers = [
        {"type": "scale_offset", "name": "norm", "scale": "norm.s", "offset": "norm.o"},
        {"type": "affine", "name": "a", "w": "a.w", "b": "a.b", "splice": [-1, 0, 1], "stride": 3},
        {"type": "relu", "name": "r"},
        {"type": "batchnorm", "name": "n", "scale": "n.s", "offset": "n.o"},
        {"type": "affine", "name": "b", "w": "b.w", "b": "b.b", "splice": [-1, 0, 2]},
        {"type": "sum", "name": "s", "of": ["b", "n"], "scales": [1.0, 0.5]},
        {"type": "affine", "name": "out", "w": "out.w", "b": "out.b"},
    ]
    (folder / "net.json").write_text(json.dumps({"input_dim": 40, "layers": layers}), encoding="utf-8")
    (folder / "units.txt").write_text("\n".join(topology.units) + "\n", encoding="utf-8")
    (folder / "topology.json").write_text(json.dumps(topology.to_json()), encoding="utf-8")
    return folder
