"""What a folder must hold before vosk's C code may see it: there a missing or torn file can end the whole process.

Two layouts are known to vosk: files in `am/`, `conf/` and `graph/`, or all of them side by side (older models). A model
either composes its graph with a grammar while it runs (HCLr.fst and Gr.fst) or has one fixed graph (HCLG.fst).
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from pathlib import Path

from benchvoice.errors import MachineError

_FST_MAGIC = struct.pack("<i", 2125659606)
_MODEL_HEADS = (b"\0B<TransitionModel>", b"<TransitionModel>")


class ModelError(MachineError):
    """A speech model that is missing, broken or can't be used here."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where a model keeps what is read from Python, and whether it takes a grammar while it runs."""

    words: Path
    runtime_grammar: bool
    packed: bool
    """Made by benchvoice: its sums can be checked and words added."""


def examine(folder: Path) -> Layout:
    """The layout of a model folder. ModelError, naming the first file that is missing or can't be right."""
    if not folder.is_dir():
        raise ModelError(f"There is no speech model at {folder}; name a folder that holds a vosk model.")
    older = not (folder / "am").is_dir()
    net, features, graph = ("final.mdl", "mfcc.conf", "") if older else ("am/final.mdl", "conf/mfcc.conf", "graph/")
    boundaries = "word_boundary.int" if older else "graph/phones/word_boundary.int"
    fixed = (folder / f"{graph}HCLG.fst").is_file()
    graphs = [f"{graph}HCLG.fst"] if fixed else [f"{graph}HCLr.fst", f"{graph}Gr.fst"]
    tables = [f"{graph}words.txt", boundaries] + ([] if fixed else [f"{graph}disambig_tid.int"])
    for name in [net, features, *([] if older else ["conf/model.conf"]), *graphs, *tables]:
        _refuse_missing(folder, name)
    _refuse_wrong_start(folder / net, _MODEL_HEADS)
    for name in graphs:
        _refuse_wrong_start(folder / name, (_FST_MAGIC,))
    return Layout(folder / f"{graph}words.txt", not fixed, (folder / "packed.json").is_file())


def read_words(table: Path) -> frozenset[str]:
    """The words of a model, from the table of its graph: lines of a word and its number."""
    try:
        lines = table.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as fault:
        raise ModelError(
            f"The speech model's table of words {table} can't be read ({fault}); put the model there again."
        ) from fault
    words = frozenset(line.split()[0] for line in lines if line.strip())
    return frozenset(word for word in words if not (word.startswith(("<", "#")) or word in ("!SIL", "[sil]")))


def _refuse_missing(folder: Path, name: str) -> None:
    path = folder / name
    try:
        empty = path.stat().st_size == 0
    except OSError as fault:
        raise ModelError(
            f"The speech model {folder} is incomplete: {name} can't be read; put the whole model there again."
        ) from fault
    if empty:
        raise ModelError(f"The speech model {folder} is broken: {name} is empty; put the whole model there again.")


def _refuse_wrong_start(path: Path, starts: tuple[bytes, ...]) -> None:
    try:
        with path.open("rb") as file:
            begin = file.read(max(map(len, starts)))
    except OSError as fault:
        raise ModelError(
            f"The speech model's file {path} can't be read ({fault.strerror}); mend its permissions."
        ) from fault
    if not begin.startswith(starts):
        raise ModelError(f"The speech model's file {path} isn't what its name says; put the whole model there again.")
