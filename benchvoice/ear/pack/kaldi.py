"""Writing Kaldi's binary object streams: tokens, numbers, vectors and matrices.

The forms are those of Kaldi's `io-funcs`, `kaldi-vector` and `compressed-matrix` sources, little-endian throughout. A
number carries a byte that says its size; a token is its text and one space.
"""

from __future__ import annotations

import struct
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]


class MatrixForm(StrEnum):
    """How a matrix is kept in the file; Kaldi reads all three as plain floats."""

    FLOAT = "float"
    """Four bytes a value, exact."""
    TWO_BYTES = "two bytes"
    """Sixteen bits a value between the matrix's least and greatest: error at most 1/131,070 of its span."""
    ONE_BYTE = "one byte"
    """Eight bits a value, finer where a column's values are crowded (between its quartiles)."""


class KaldiWriter:
    """Collects one Kaldi binary object; `getvalue` gives its bytes, with the mark of a binary file in front."""

    def __init__(self) -> None:
        self._parts: list[bytes] = [b"\0B"]

    def getvalue(self) -> bytes:
        return b"".join(self._parts)

    def raw(self, data: bytes) -> None:
        self._parts.append(data)

    def token(self, name: str) -> None:
        self._parts.append(name.encode("ascii") + b" ")

    def int32(self, *values: int) -> None:
        for value in values:
            self._parts.append(struct.pack("<bi", 4, value))

    def float32(self, value: float) -> None:
        self._parts.append(struct.pack("<bf", 4, value))

    def float64(self, value: float) -> None:
        self._parts.append(struct.pack("<bd", 8, value))

    def boolean(self, value: bool) -> None:
        self._parts.append(b"T" if value else b"F")

    def int_vector(self, values: list[int]) -> None:
        """A vector of int32: one size byte for its elements, then a bare count."""
        self._parts.append(struct.pack("<bi", 4, len(values)) + np.asarray(values, "<i4").tobytes())

    def vector(self, values: Floats) -> None:
        self.token("FV")
        self.int32(len(values))
        self._parts.append(np.ascontiguousarray(values, "<f4").tobytes())

    def matrix(self, values: Floats, form: MatrixForm = MatrixForm.FLOAT) -> None:
        rows, columns = values.shape
        if form is MatrixForm.FLOAT:
            self.token("FM")
            self.int32(rows, columns)
            self._parts.append(np.ascontiguousarray(values, "<f4").tobytes())
            return
        least, span = _span(values)
        self.token("CM2" if form is MatrixForm.TWO_BYTES else "CM")
        self._parts.append(struct.pack("<ffii", least, span, rows, columns))
        if form is MatrixForm.TWO_BYTES:
            self._parts.append(_as_uint16(values, least, span).tobytes())
        else:
            self._parts.extend(_one_byte_columns(values, least, span))


def _span(values: Floats) -> tuple[float, float]:
    """Least value and span as Kaldi's header keeps them; a flat matrix gets a span of its own, for it is divided by."""
    least = float(values.min())
    return least, float(values.max()) - least or 1.0 + abs(least)


def _as_uint16(values: Floats, least: float, span: float) -> NDArray[np.uint16]:
    return np.asarray(np.clip(np.rint((values - least) / span * 65535.0), 0, 65535), "<u2")


def _one_byte_columns(values: Floats, least: float, span: float) -> list[bytes]:
    """Kaldi's `kOneByteWithColHeaders`: four percentiles a column, then the bytes column by column.

    Codes 0..64 run from the least value to the lower quartile, 64..192 to the upper quartile, 192..255 to the greatest.
    """
    ordered = np.sort(values, axis=0)
    rows = len(ordered)
    ranks = [0, rows // 4, 3 * rows // 4, rows - 1]
    marks = _as_uint16(ordered[ranks], least, span).astype(np.int64)
    marks = np.minimum(marks, np.arange(65532, 65536)[:, None])  # the four must rise, or a code would have no width
    for k in range(1, 4):
        marks[k] = np.maximum(marks[k], marks[k - 1] + 1)
    marks = marks.astype("<u2")
    edges = least + span * marks.astype(np.float64) / 65535.0
    codes = np.empty(values.shape, np.uint8)
    for column in range(values.shape[1]):
        codes[:, column] = np.rint(np.interp(values[:, column], edges[:, column], [0.0, 64.0, 192.0, 255.0]))
    return [np.ascontiguousarray(marks.T).tobytes(), np.ascontiguousarray(codes.T).tobytes()]
