"""The net in a packed model's `am/final.mdl`, read back as Kaldi wrote it down, and written with other numbers.

Only what `benchvoice.ear.pack.net` writes is read: affine, rectifying, scale-and-offset, log-softmax and no-op
components. What a fit changes, the scales and offsets, is kept in the file as plain floats, so that a changed net is
the same bytes but for those.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from benchvoice.ear.layout import ModelError
from benchvoice.ear.pack.kaldi import Floats

_TERM = re.compile(r"^(?:Scale\(([-\d.e]+), (.*)\)|Offset\(([^,()]+), (-?\d+)\)|([\w.-]+))$")
AFFINE, SCALE, RELU, SOFTMAX, SAME = "affine", "scale and offset", "rectify", "log softmax", "same"
_KINDS = {
    "FixedAffineComponent": AFFINE,
    "ScaleAndOffsetComponent": SCALE,
    "RectifiedLinearComponent": RELU,
    "LogSoftmaxComponent": SOFTMAX,
    "NoOpComponent": SAME,
}


@dataclass(frozen=True, slots=True)
class Piece:
    """What a layer reads of another: its values so many input frames away, times a factor."""

    source: str
    frames: int = 0
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer. Its pieces stand side by side (an affine layer's splice), or are added where `sums`."""

    name: str
    kind: str
    pieces: tuple[Piece, ...]
    sums: bool
    weight: Floats | None = None
    """Affine: out x in. Scale and offset: the scales."""
    offset: Floats | None = None


@dataclass(frozen=True, slots=True)
class Acoustics:
    """A net: its layers in the order in which they can be computed, and the bytes of its file."""

    layers: tuple[Layer, ...]
    output: str
    places: Mapping[str, tuple[int, int]]
    """Where in the file the scales and the offsets of each scale-and-offset layer begin."""
    data: bytes

    @property
    def movable(self) -> tuple[str, ...]:
        """Names of the layers that a fit can move."""
        return tuple(self.places)

    def layer(self, name: str) -> Layer:
        return next(layer for layer in self.layers if layer.name == name)

    def moved(self, changes: Mapping[str, tuple[Floats, Floats]]) -> bytes:
        """The file with other scales and offsets."""
        data = bytearray(self.data)
        for name, values in changes.items():
            for start, numbers in zip(self.places[name], values, strict=True):
                raw = np.ascontiguousarray(numbers, "<f4").tobytes()
                data[start : start + len(raw)] = raw
        return bytes(data)


def read_acoustics(path: Path) -> Acoustics:
    """The net in a model's file. ModelError when it isn't one that was packed here."""
    try:
        data = path.read_bytes()
        return _read(data)
    except OSError as fault:
        raise ModelError(f"The speech model's file {path} can't be read ({fault.strerror}).") from fault
    except (ValueError, IndexError, KeyError, struct.error) as fault:
        raise ModelError(
            f"The speech model's file {path} can't be fitted ({fault}); fit a model that benchvoice packed."
        ) from fault


def _read(data: bytes) -> Acoustics:
    begin, end = data.index(b"<Nnet3> ") + 8, data.index(b"<NumComponents> ")
    nodes: dict[str, tuple[str, tuple[Piece, ...], bool]] = {}
    output = ""
    for line in data[begin:end].decode("ascii").split("\n"):
        kind, _, rest = line.strip().partition(" ")
        if kind == "component-node":
            found = re.fullmatch(r"name=(\S+) component=(\S+) input=(.*)", rest)
            if found is None:
                raise ValueError(f"the line {line!r} of its net is not known")
            pieces, sums = _pieces(found[3])
            nodes[found[1]] = (found[2], pieces, sums)
        elif kind == "output-node":
            output = re.findall(r"input=(\S+)", rest)[0]
        elif kind not in ("", "input-node"):
            raise ValueError(f"the line {line!r} of its net is not known")
    stream = _Stream(data, end)
    components = _components(stream)
    layers: list[Layer] = []
    places: dict[str, tuple[int, int]] = {}
    for name, (component, pieces, sums) in nodes.items():
        part = components[component]
        layers.append(Layer(name, part.kind, pieces, sums, part.weight, part.offset))
        if part.kind == SCALE:
            places[name] = part.places
    return Acoustics(tuple(layers), output, places, data)


def _pieces(text: str) -> tuple[tuple[Piece, ...], bool]:
    """What a config line's `input=` says, and whether its pieces are added."""
    if text.startswith("Sum("):
        first, second = _split(text[4:-1])
        return (*_pieces(first)[0], *_pieces(second)[0]), True
    inside = _split(text[7:-1]) if text.startswith("Append(") else [text]
    return tuple(_piece(part) for part in inside), False


def _piece(text: str) -> Piece:
    found = _TERM.match(text)
    if found is None:
        raise ValueError(f"the input {text!r} of its net is not known")
    factor, inner, shifted, frames, plain = found.groups()
    if factor is not None:
        piece = _piece(inner)
        return Piece(piece.source, piece.frames, float(factor) * piece.factor)
    return Piece(plain) if plain is not None else Piece(shifted, int(frames))


def _split(text: str) -> list[str]:
    """Parts between commas that stand in no brackets."""
    parts, depth, start = [], 0, 0
    for at, letter in enumerate(text):
        depth += (letter == "(") - (letter == ")")
        if letter == "," and depth == 0:
            parts.append(text[start:at].strip())
            start = at + 1
    return [*parts, text[start:].strip()]


@dataclass(slots=True)
class _Component:
    kind: str
    weight: Floats | None = None
    offset: Floats | None = None
    places: tuple[int, int] = (0, 0)


def _components(stream: _Stream) -> dict[str, _Component]:
    stream.expect("<NumComponents>")
    found: dict[str, _Component] = {}
    for _ in range(stream.int32()):
        stream.expect("<ComponentName>")
        name, kind = stream.token(), stream.token().strip("<>")
        if kind not in _KINDS:
            raise ValueError(f"its component {name} is a {kind}")
        found[name] = _component(stream, kind)
    return found


def _component(stream: _Stream, kind: str) -> _Component:
    part = _Component(_KINDS[kind])
    if part.kind == AFFINE:
        stream.expect("<LinearParams>")
        part.weight = stream.matrix()
        stream.expect("<BiasParams>")
        part.offset, _ = stream.vector()
    elif part.kind == SCALE:
        stream.skip_to("<Scales>")
        part.weight, scales = stream.vector()
        stream.expect("<Offsets>")
        part.offset, offsets = stream.vector()
        part.places = (scales, offsets)
    stream.skip_to(f"</{kind}>")
    return part


class _Stream:
    """Kaldi's binary form, read from the front."""

    def __init__(self, data: bytes, at: int) -> None:
        self._data, self._at = data, at

    def token(self) -> str:
        end = self._data.index(b" ", self._at)
        word = self._data[self._at : end].decode("ascii")
        self._at = end + 1
        return word

    def expect(self, word: str) -> None:
        found = self.token()
        if found != word:
            raise ValueError(f"{word} is missing in its net")

    def skip_to(self, word: str) -> None:
        self._at = self._data.index(word.encode() + b" ", self._at) + len(word) + 1

    def _unpack(self, form: str) -> tuple[float, ...]:
        values = struct.unpack_from(form, self._data, self._at)
        self._at += struct.calcsize(form)
        return values

    def int32(self) -> int:
        return int(self._unpack("<bi")[1])

    def _values(self, count: int, form: str) -> Floats:
        values = np.frombuffer(self._data, form, count, self._at)
        self._at += values.nbytes
        return values.astype(np.float32)

    def vector(self) -> tuple[Floats, int]:
        """A vector, and where in the file its numbers begin."""
        self.expect("FV")
        count = self.int32()
        start = self._at
        return self._values(count, "<f4"), start

    def matrix(self) -> Floats:
        form = self.token()
        if form == "FM":
            rows, columns = self.int32(), self.int32()
            return self._values(rows * columns, "<f4").reshape(rows, columns)
        if form not in ("CM", "CM2"):
            raise ValueError(f"a matrix of the form {form}")
        low, span, *sizes = self._unpack("<ffii")
        shape = int(sizes[0]), int(sizes[1])
        if form == "CM2":
            codes = self._values(shape[0] * shape[1], "<u2").reshape(shape)
            return np.asarray(low + np.float32(span / 65535.0) * codes, np.float32)
        marks = low + span / 65535.0 * self._values(4 * shape[1], "<u2").reshape(shape[1], 4)
        codes = self._values(shape[0] * shape[1], "u1").reshape(shape[1], shape[0])
        columns_ = [np.interp(code, [0, 64, 192, 255], mark) for code, mark in zip(codes, marks, strict=True)]
        return np.asarray(np.stack(columns_, axis=1), np.float32)
