"""Export a checkpoint for packing: python export.py OUT_FOLDER MODEL.pt [MODEL.pt …] (several are averaged)."""

import sys
from pathlib import Path

import numpy as np
import torch
from net import Net, export
from phones import PDFS


def main() -> None:
    out, *paths = (Path(a) for a in sys.argv[1:])
    held = [torch.load(p, map_location="cpu", weights_only=False) for p in paths]
    config = held[0]["config"]
    mean = {}
    for key, value in held[0]["model"].items():
        floating = value.dtype.is_floating_point
        mean[key] = torch.stack([h["model"][key].float() for h in held]).mean(0) if floating else value
    net = Net(config)
    net.load_state_dict(mean)
    note = f"{config}, averaged from {len(held)} checkpoint(s) after {', '.join(str(h['step']) for h in held)} steps"
    print(export(net, out, np.ones(PDFS) / PDFS, note), "parameters with the heads' pdfs alone;", note)


if __name__ == "__main__":
    main()
