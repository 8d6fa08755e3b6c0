"""Export a checkpoint for packing: python export.py OUT_FOLDER MODEL.pt [MODEL.pt …] [--keep MEAN.pt].

Several are averaged; --keep writes the mean as a checkpoint of its own, in half precision but for the statistics.
"""

import argparse
from pathlib import Path

import numpy as np
import torch
from net import Net, export
from phones import PDFS


def main() -> None:
    parser = argparse.ArgumentParser(description="Export a checkpoint, or the mean of several, for packing.")
    parser.add_argument("out", type=Path)
    parser.add_argument("models", type=Path, nargs="+")
    parser.add_argument("--keep", type=Path, help="write the mean here as a checkpoint")
    args = parser.parse_args()
    held = [torch.load(p, map_location="cpu", weights_only=False) for p in args.models]
    config = held[0]["config"]
    mean = {}
    for key, value in held[0]["model"].items():
        floating = value.dtype.is_floating_point
        mean[key] = torch.stack([h["model"][key].float() for h in held]).mean(0) if floating else value
    if args.keep:
        halves = {k: v.half() if v.dtype.is_floating_point and "running" not in k else v for k, v in mean.items()}
        torch.save({**held[-1], "model": halves}, args.keep)
    net = Net(config)
    net.load_state_dict(mean)
    note = f"{config}, averaged from {len(held)} checkpoint(s) after {', '.join(str(h['step']) for h in held)} steps"
    print(export(net, args.out, np.ones(PDFS) / PDFS, note), "parameters with the heads' pdfs alone;", note)


if __name__ == "__main__":
    main()
