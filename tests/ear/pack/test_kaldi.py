"""Kaldi's binary forms, against readings written from its sources and by hand."""

import struct

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from benchvoice.ear.pack.kaldi import Floats, KaldiWriter, MatrixForm

MATRICES = arrays(
    np.float32,
    st.tuples(st.integers(5, 12), st.integers(1, 7)),
    elements=st.floats(-100, 100, width=32, allow_subnormal=False),
)


def written(matrix: Floats, form: MatrixForm) -> bytes:
    out = KaldiWriter()
    out.matrix(matrix, form)
    return out.getvalue().removeprefix(b"\0B")


def test_numbers_carry_their_size() -> None:
    out = KaldiWriter()
    out.token("<Dim>")
    out.int32(40, -1)
    out.float32(0.5)
    out.float64(0.5)
    out.boolean(True)
    out.int_vector([3, 4])
    expected = b"\0B<Dim> " + b"\4\x28\0\0\0" + b"\4\xff\xff\xff\xff" + b"\4\0\0\0\x3f" + b"\x08\0\0\0\0\0\0\xe0\x3f"
    assert out.getvalue() == expected + b"T" + b"\4\2\0\0\0\3\0\0\0\4\0\0\0"


def test_a_plain_matrix_is_row_after_row() -> None:
    data = written(np.array([[1, 2], [3, 4], [5, 6]], np.float32), MatrixForm.FLOAT)
    assert data == b"FM \4\3\0\0\0\4\2\0\0\0" + struct.pack("<6f", 1, 2, 3, 4, 5, 6)


@given(MATRICES)
def test_two_bytes_keep_a_matrix_to_half_a_step(matrix: Floats) -> None:
    data = written(matrix, MatrixForm.TWO_BYTES)
    assert data.startswith(b"CM2 ")
    least, span, rows, columns = struct.unpack_from("<ffii", data, 4)
    assert (rows, columns) == matrix.shape
    codes = np.frombuffer(data, "<u2", offset=20).reshape(matrix.shape)
    read = least + span * codes / 65535.0  # CompressedMatrix::CopyToMat, kTwoByte
    np.testing.assert_allclose(read, matrix, atol=span / 65535.0 * 0.51 + 1e-5)


def one_byte(data: bytes) -> Floats:
    """CompressedMatrix::CopyToMat for kOneByteWithColHeaders, from Kaldi's compressed-matrix.cc."""
    least, span, rows, columns = struct.unpack_from("<ffii", data, 3)
    marks = np.frombuffer(data, "<u2", columns * 4, 19).reshape(columns, 4)
    edges = least + span * marks * 1.52590218966964e-05
    codes = np.frombuffer(data, np.uint8, rows * columns, 19 + columns * 8).reshape(columns, rows).astype(float)
    read = np.empty((rows, columns), np.float32)
    for k, (p0, p25, p75, p100) in enumerate(edges):
        c = codes[k]
        low, middle, high = (
            p0 + (p25 - p0) * c / 64,
            p25 + (p75 - p25) * (c - 64) / 128,
            p75 + (p100 - p75) * (c - 192) / 63,
        )
        read[:, k] = np.where(c <= 64, low, np.where(c <= 192, middle, high))
    return read


@given(MATRICES)
@settings(max_examples=60)
def test_one_byte_keeps_each_column_to_a_step_of_its_own(matrix: Floats) -> None:
    data = written(matrix, MatrixForm.ONE_BYTE)
    assert data.startswith(b"CM ")
    column_span = matrix.max(axis=0) - matrix.min(axis=0)
    whole = matrix.max() - matrix.min()
    # half a code of the widest quarter, and the marks themselves to a few 1/65535 of the whole
    allowed = column_span / 63 * 0.51 + max(whole, 1.0) * 5 / 65535 + 1e-4
    assert np.all(np.abs(one_byte(data) - matrix) <= np.maximum(allowed, 1e-4))


def test_a_flat_matrix_is_kept() -> None:
    flat = np.full((6, 3), 2.5, np.float32)
    np.testing.assert_allclose(one_byte(written(flat, MatrixForm.ONE_BYTE)), flat, atol=1e-3)


@pytest.mark.parametrize("form", list(MatrixForm))
def test_every_form_can_be_told_by_its_token(form: MatrixForm) -> None:
    tokens = {MatrixForm.FLOAT: b"FM ", MatrixForm.TWO_BYTES: b"CM2 ", MatrixForm.ONE_BYTE: b"CM "}
    assert written(np.eye(6, dtype=np.float32), form).startswith(tokens[form])
