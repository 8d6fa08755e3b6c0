"""`python -m benchvoice.ear.pack pack NET LEXICON OUT`, or `repack MODEL` after its lexicon.txt was changed."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from benchvoice.ear.lexicon import read
from benchvoice.ear.pack.directory import pack, repack
from benchvoice.ear.pack.kaldi import MatrixForm
from benchvoice.errors import BenchvoiceError


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m benchvoice.ear.pack", description="Make vosk model directories.")
    commands = parser.add_subparsers(dest="command", required=True)
    packing = commands.add_parser("pack", help="from a trained net and a lexicon")
    packing.add_argument("net", type=Path)
    packing.add_argument("lexicon", type=Path)
    packing.add_argument("out", type=Path)
    packing.add_argument("--weights", type=MatrixForm, choices=list(MatrixForm), default=MatrixForm.TWO_BYTES)
    repacking = commands.add_parser("repack", help="the graph of a model again, from its lexicon.txt")
    repacking.add_argument("model", type=Path)
    chosen = parser.parse_args(arguments)
    try:
        if chosen.command == "pack":
            pack(chosen.net, chosen.lexicon, chosen.out, form=chosen.weights)
        else:
            repack(chosen.model, read(chosen.model / "lexicon.txt"), chosen.model)
    except (BenchvoiceError, OSError) as fault:
        print(fault, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
