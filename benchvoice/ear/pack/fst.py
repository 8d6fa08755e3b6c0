"""Weighted finite-state transducers as arrays, and OpenFst's `const` and `olabel_lookahead` files.

Only what a decoding graph needs: arcs with an input label (a transition-id), an output label (a word), a cost and a
next state. Field orders are those of OpenFst 1.8's `fst.h`, `const-fst.h`, `add-on.h` and `label-reachable.h`.
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

ARC = np.dtype([("input", "<i4"), ("output", "<i4"), ("cost", "<f4"), ("next", "<i4")])
STATE = np.dtype([("final", "<f4"), ("first", "<u4"), ("arcs", "<u4"), ("input_eps", "<u4"), ("output_eps", "<u4")])

Intervals = tuple[tuple[int, int], ...]
"""Sorted, disjoint, half-open ranges of word labels."""

FST_MAGIC = 2125659606
ADD_ON_MAGIC = 446681434
CONST_VERSION = 2  # states and arcs not aligned
LOOKAHEAD_VERSION = 1

EXPANDED = 0x1
ACCEPTOR, NOT_ACCEPTOR = 0x10000, 0x20000
INPUT_DETERMINISTIC, INPUT_NOT_DETERMINISTIC = 0x40000, 0x80000
OUTPUT_DETERMINISTIC, OUTPUT_NOT_DETERMINISTIC = 0x100000, 0x200000
EPSILONS, NO_EPSILONS = 0x400000, 0x800000
INPUT_EPSILONS, NO_INPUT_EPSILONS = 0x1000000, 0x2000000
OUTPUT_EPSILONS, NO_OUTPUT_EPSILONS = 0x4000000, 0x8000000
INPUT_SORTED, INPUT_NOT_SORTED = 0x10000000, 0x20000000
OUTPUT_SORTED, OUTPUT_NOT_SORTED = 0x40000000, 0x80000000
WEIGHTED, UNWEIGHTED = 0x100000000, 0x200000000


@dataclass(frozen=True, slots=True)
class Fst:
    """Arcs beside the states that they leave, and the final cost of every state (infinite: not final)."""

    start: int
    finals: NDArray[np.float32]
    sources: NDArray[np.int64]
    arcs: NDArray[Any]


def sorted_by(fst: Fst, label: Literal["input", "output"]) -> Fst:
    """The same transducer, each state's arcs in the order of one label (then the other, then the next state)."""
    other = "output" if label == "input" else "input"
    order = np.lexsort((fst.arcs["next"], fst.arcs[other], fst.arcs[label], fst.sources))
    return replace(fst, sources=fst.sources[order], arcs=fst.arcs[order])


def properties(fst: Fst) -> int:
    """The property bits that OpenFst trusts without looking: all of them true of this transducer."""
    arcs, sources = fst.arcs, fst.sources
    same_state = sources[1:] == sources[:-1]

    def in_order(label: str) -> bool:
        return not np.any(same_state & (arcs[label][1:] < arcs[label][:-1]))

    def deterministic(label: str) -> bool:
        pairs = sources * (1 << 31) + arcs[label]
        return len(np.unique(pairs)) == len(pairs)

    no_input, no_output = arcs["input"] == 0, arcs["output"] == 0
    weighted = bool(np.any(arcs["cost"] != 0) or np.any(fst.finals[np.isfinite(fst.finals)] != 0))
    choices = [
        (bool(np.all(arcs["input"] == arcs["output"])), ACCEPTOR, NOT_ACCEPTOR),
        (deterministic("input"), INPUT_DETERMINISTIC, INPUT_NOT_DETERMINISTIC),
        (deterministic("output"), OUTPUT_DETERMINISTIC, OUTPUT_NOT_DETERMINISTIC),
        (bool(np.any(no_input & no_output)), EPSILONS, NO_EPSILONS),
        (bool(np.any(no_input)), INPUT_EPSILONS, NO_INPUT_EPSILONS),
        (bool(np.any(no_output)), OUTPUT_EPSILONS, NO_OUTPUT_EPSILONS),
        (in_order("input"), INPUT_SORTED, INPUT_NOT_SORTED),
        (in_order("output"), OUTPUT_SORTED, OUTPUT_NOT_SORTED),
        (weighted, WEIGHTED, UNWEIGHTED),
    ]
    bits = EXPANDED
    for holds, yes, no in choices:
        bits |= yes if holds else no
    return bits


def _text(value: str) -> bytes:
    return struct.pack("<i", len(value)) + value.encode("ascii")


def _header(fst: Fst, kind: str, version: int) -> bytes:
    counts = (fst.start, len(fst.finals), len(fst.arcs))
    return (
        struct.pack("<i", FST_MAGIC)
        + _text(kind)
        + _text("standard")
        + struct.pack("<iiQqqq", version, 0, properties(fst), *counts)
    )


def const_bytes(fst: Fst) -> bytes:
    """A whole `const` file. Arcs must already stand in the order of their states (see `sorted_by`)."""
    count = len(fst.finals)
    states = np.zeros(count, STATE)
    states["final"] = fst.finals
    states["arcs"] = np.bincount(fst.sources, minlength=count)
    states["first"] = np.cumsum(states["arcs"]) - states["arcs"]
    states["input_eps"] = np.bincount(fst.sources[fst.arcs["input"] == 0], minlength=count)
    states["output_eps"] = np.bincount(fst.sources[fst.arcs["output"] == 0], minlength=count)
    return _header(fst, "const", CONST_VERSION) + states.tobytes() + fst.arcs.tobytes()


def lookahead_bytes(fst: Fst, reach: Sequence[Intervals], final_label: int) -> bytes:
    """A whole `olabel_lookahead` file: the transducer with, for every state, the word labels that can come next from
    it.

    `fst` must be sorted by output label, or vosk silently leaves the look-ahead out. `final_label` is one above the
    last word and stands for "a final state can be reached with no word".
    """
    parts = [
        _header(fst, "olabel_lookahead", LOOKAHEAD_VERSION),
        struct.pack("<i", ADD_ON_MAGIC),
        const_bytes(fst),
        struct.pack("<???", True, False, True),  # an add-on: nothing on the input side, one on the output side
        struct.pack("<??iq", False, False, final_label, len(reach)),  # reaches outputs; keeps no table of relabelling
    ]
    packed: dict[Intervals, bytes] = {}
    for intervals in reach:
        if intervals not in packed:
            flat = [edge for pair in intervals for edge in pair]
            size = sum(end - begin for begin, end in intervals)
            packed[intervals] = struct.pack(f"<q{len(flat)}ii", len(intervals), *flat, size)
        parts.append(packed[intervals])
    return b"".join(parts)
