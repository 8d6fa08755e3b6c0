"""OpenFst's files, read back field by field."""

import struct
from typing import Any

import numpy as np
import pytest

from benchvoice.ear.pack import fst as f


def machine(arcs: list[tuple[int, int, int, float, int]], finals: list[float]) -> f.Fst:
    """From (source, input, output, cost, next) rows."""
    sources = np.array([row[0] for row in arcs], np.int64)
    return f.Fst(0, np.array(finals, np.float32), sources, np.array([row[1:] for row in arcs], f.ARC))


INF = float("inf")
SMALL = machine([(0, 3, 2, 0.5, 1), (0, 1, 0, 0.0, 1), (1, 2, 1, 1.5, 0)], [INF, 0.25])


def read_const(data: bytes, at: int = 0) -> tuple[str, int, int, Any, Any, int]:
    """kind, properties, start, states, arcs and the offset behind a `const` file (const-fst.h)."""
    magic, size = struct.unpack_from("<ii", data, at)
    assert magic == f.FST_MAGIC
    kind, at = data[at + 8 : at + 8 + size].decode(), at + 8 + size
    (size,) = struct.unpack_from("<i", data, at)
    assert data[at + 4 : at + 4 + size] == b"standard"
    at += 4 + size
    _, _, bits, start, states, arcs = struct.unpack_from("<iiQqqq", data, at)
    at += 40
    table = np.frombuffer(data, f.STATE, states, at)
    at += table.nbytes
    rows = np.frombuffer(data, f.ARC, arcs, at)
    return kind, bits, start, table, rows, at + rows.nbytes


def test_const_holds_states_and_their_arcs() -> None:
    ordered = f.sorted_by(SMALL, "output")
    data = f.const_bytes(ordered)
    kind, bits, start, states, arcs, end = read_const(data)
    assert (kind, start, end) == ("const", 0, len(data))
    assert states["final"].tolist() == [INF, 0.25]
    assert states["first"].tolist() == [0, 2]
    assert states["arcs"].tolist() == [2, 1]
    assert states["output_eps"].tolist() == [1, 0]
    assert arcs["output"].tolist() == [0, 2, 1]
    assert bits & f.OUTPUT_SORTED


@pytest.mark.parametrize("label", ["input", "output"])
def test_sorting_keeps_the_arcs_and_orders_each_state(label: Any) -> None:
    ordered = f.sorted_by(SMALL, label)
    assert sorted(ordered.arcs.tolist()) == sorted(SMALL.arcs.tolist())
    assert np.all(np.diff(ordered.sources) >= 0)
    bit = f.INPUT_SORTED if label == "input" else f.OUTPUT_SORTED
    assert f.properties(ordered) & bit


def test_properties_are_true_of_the_machine() -> None:
    bits = f.properties(SMALL)
    for expected in (f.NOT_ACCEPTOR, f.NO_EPSILONS, f.NO_INPUT_EPSILONS, f.OUTPUT_EPSILONS, f.WEIGHTED):
        assert bits & expected
    assert bits & f.OUTPUT_NOT_SORTED
    assert bits & f.INPUT_DETERMINISTIC


def test_an_unweighted_acceptor_says_so() -> None:
    bits = f.properties(machine([(0, 1, 1, 0.0, 0)], [0.0]))
    assert bits & f.ACCEPTOR
    assert bits & f.UNWEIGHTED


def test_lookahead_adds_what_every_state_can_reach() -> None:
    ordered = f.sorted_by(SMALL, "output")
    reach: list[f.Intervals] = [((1, 4),), ((1, 2), (3, 4))]
    data = f.lookahead_bytes(ordered, reach, 3)
    (size,) = struct.unpack_from("<i", data, 4)
    assert data[8 : 8 + size] == b"olabel_lookahead"
    at = 8 + size + 4 + len("standard") + 40
    assert struct.unpack_from("<i", data, at) == (f.ADD_ON_MAGIC,)
    *_, end = read_const(data, at + 4)
    assert struct.unpack_from("<???", data, end) == (True, False, True)
    assert struct.unpack_from("<??iq", data, end + 3) == (False, False, 3, 2)
    first = struct.unpack_from("<qiii", data, end + 17)
    second = struct.unpack_from("<qiiiii", data, end + 37)
    assert first == (1, 1, 4, 3)
    assert second == (2, 1, 2, 3, 4, 2)
    assert len(data) == end + 37 + 28
