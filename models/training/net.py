"""The acoustic net: a factored time-delay net of plain layers that Kaldi's formats can hold.

40 cepstra in, one output every third frame, ReLU, batch norm without affine, bypass sums. A second
head gives CTC outputs; it helps training only and is left out of the export.
"""

import json
from pathlib import Path

import numpy as np
import torch
from phones import PDFS, UNITS, first_pdf, rest_pdf
from torch import Tensor, nn
from torch.nn import functional

BLOCKS = [[1, 1], [1, 1], [1, 1], [1, 1], [2, 0], [2, 0], [3, 0], [3, 0], [3, 0]]
CONFIGS = {
    "tiny": {"front": 64, "width": 96, "neck": 32, "head": 64, "blocks": BLOCKS[:3]},
    "small": {"front": 192, "width": 304, "neck": 64, "head": 128, "blocks": BLOCKS},
    "base": {"front": 384, "width": 608, "neck": 128, "head": 256, "blocks": BLOCKS},
    "wide": {"front": 448, "width": 768, "neck": 160, "head": 320, "blocks": BLOCKS},
}
"""blocks: how many output frames a block looks back and ahead; their sums give the context."""


class Norm(nn.BatchNorm1d):
    """Batch norm without affine."""

    def __init__(self, channels: int) -> None:
        super().__init__(channels, affine=False, eps=1e-3, momentum=0.05)

    def scale_offset(self) -> tuple[Tensor, Tensor]:
        scale = 1.0 / torch.sqrt(self.running_var + self.eps)
        return scale, -self.running_mean * scale


class Block(nn.Module):
    """Bottleneck over [-back, 0], affine over [0, ahead], ReLU, norm, and the input added on."""

    def __init__(self, width: int, neck: int, back: int, ahead: int, dropout: float) -> None:
        super().__init__()
        self.back, self.ahead = back, ahead
        self.narrow = nn.Conv1d(width, neck, 2 if back else 1, dilation=max(back, 1), bias=False)
        self.widen = nn.Conv1d(neck, width, 2 if ahead else 1, dilation=max(ahead, 1))
        self.norm = Norm(width)
        self.dropout = dropout

    def forward(self, x: Tensor) -> Tensor:
        y = self.norm(functional.relu(self.widen(self.narrow(x))))
        if self.dropout and self.training:
            # whole channels of a row, as in Kaldi's "continuous dropout": nothing is left at run time
            y = y * (1 + self.dropout * (2 * torch.rand(y.shape[0], y.shape[1], 1, device=y.device, dtype=y.dtype) - 1))
        return y + x[:, :, self.back : x.shape[2] - self.ahead]


class Net(nn.Module):
    def __init__(self, config: str, dropout: float = 0.2) -> None:
        super().__init__()
        c = CONFIGS[config]
        self.config = config
        front, width, neck, head = c["front"], c["width"], c["neck"], c["head"]
        self.norm = Norm(40)
        self.front, self.front_norm = nn.Conv1d(40, front, 5), Norm(front)
        self.stride = nn.Conv1d(front, neck, 3, stride=3, bias=False)
        self.lift, self.lift_norm = nn.Conv1d(neck, width, 1), Norm(width)
        self.blocks = nn.ModuleList(Block(width, neck, back, ahead, dropout) for back, ahead in c["blocks"])
        self.head, self.head_norm = nn.Conv1d(width, head, 1), Norm(head)
        self.out = nn.Conv1d(head, PDFS, 1)
        self.ctc = nn.Conv1d(head, len(UNITS), 1)
        self.left = 3 + 3 * sum(b[0] for b in c["blocks"])
        self.right = 3 + 3 * sum(b[1] for b in c["blocks"])

    def forward(self, cepstra: Tensor) -> tuple[Tensor, Tensor]:
        """cepstra [B, T, 40] -> pdf scores [B, ceil(T/3), PDFS] and CTC scores [B, ceil(T/3), units]."""
        out = (cepstra.shape[1] + 2) // 3
        x = self.norm(cepstra.transpose(1, 2))
        x = functional.pad(x, (self.left, self.right + 3 * out - cepstra.shape[1]), mode="replicate")
        x = self.front_norm(functional.relu(self.front(x)))
        x = self.lift_norm(functional.relu(self.lift(self.stride(x))))
        for block in self.blocks:
            x = block(x)
        x = self.head_norm(functional.relu(self.head(x)))[:, :, :out]
        return self.out(x).transpose(1, 2).float(), self.ctc(x).transpose(1, 2).float()


class Exporter:
    """Writes a net as plain layers: net.json, weights.npz, units.txt, topology.json."""

    def __init__(self) -> None:
        self.layers: list[dict[str, object]] = []
        self.weights: dict[str, np.ndarray] = {}

    def affine(self, name: str, conv: nn.Conv1d, splice: list[int], stride: int = 1) -> None:
        weight = conv.weight.detach().permute(0, 2, 1)  # [out, frame, in]: inputs in splice order
        bias = np.zeros(conv.out_channels) if conv.bias is None else conv.bias.detach().numpy()
        self.weights[name + ".w"] = weight.reshape(weight.shape[0], -1).numpy().astype(np.float32)
        self.weights[name + ".b"] = bias.astype(np.float32)
        self.layers.append(
            {"type": "affine", "name": name, "w": name + ".w", "b": name + ".b", "splice": splice, "stride": stride}
        )

    def relu(self, name: str) -> None:
        self.layers.append({"type": "relu", "name": name})

    def norm(self, name: str, norm: Norm, kind: str = "batchnorm") -> None:
        scale, offset = (v.numpy().astype(np.float32) for v in norm.scale_offset())
        self.weights[name + ".s"], self.weights[name + ".o"] = scale, offset
        self.layers.append({"type": kind, "name": name, "scale": name + ".s", "offset": name + ".o"})


def export(net: Net, folder: Path, priors: np.ndarray, note: str) -> int:
    """Write the net's pdf head for packing; returns the number of parameters.

    Each layer reads the one before it unless `of` names others; splice offsets count frames of the
    layer's own input rate; a stride of 3 keeps every third frame. Edges repeat the first and last frame.
    """
    net = net.float().cpu().eval()
    e = Exporter()
    e.norm("norm", net.norm, "scale_offset")
    e.affine("c1", net.front, [-2, -1, 0, 1, 2])
    e.relu("r1")
    e.norm("n1", net.front_norm)
    e.affine("c2a", net.stride, [-1, 0, 1], 3)
    e.affine("c2b", net.lift, [0])
    e.relu("r2")
    e.norm("n2", net.lift_norm)
    before = "n2"
    for i, b in enumerate(net.blocks):
        e.affine(f"b{i}a", b.narrow, [-b.back, 0] if b.back else [0])
        e.affine(f"b{i}b", b.widen, [0, b.ahead] if b.ahead else [0])
        e.relu(f"b{i}r")
        e.norm(f"b{i}n", b.norm)
        e.layers.append({"type": "sum", "name": f"b{i}s", "of": [f"b{i}n", before]})
        before = f"b{i}s"
    e.affine("pre", net.head, [0])
    e.relu("rp")
    e.norm("np", net.head_norm)
    e.affine("out", net.out, [0])
    folder.mkdir(parents=True, exist_ok=True)
    parameters = sum(int(w.size) for w in e.weights.values())
    header = {
        "input_dim": 40,
        "subsampling": 3,
        "left_context": net.left,
        "right_context": net.right,
        "parameters": parameters,
        "note": note,
        "comment": export.__doc__,
        "layers": e.layers,
    }
    (folder / "net.json").write_text(json.dumps(header, indent=1))
    np.savez(folder / "weights.npz", **e.weights)
    np.save(folder / "priors.npy", priors.astype(np.float32))
    (folder / "units.txt").write_text("\n".join(UNITS) + "\n")
    pdfs = {u: [first_pdf(i), rest_pdf(i)] for i, u in enumerate(UNITS)}
    topology = {
        "blank": None,
        "sil": "<sil>",
        "pdfs": pdfs,
        "acoustic_scale": 1.0,
        "note": "A phone takes its first pdf for exactly one frame, then any number of frames of the second.",
    }
    (folder / "topology.json").write_text(json.dumps(topology, indent=1))
    return parameters
