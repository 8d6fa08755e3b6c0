"""A packed net computed in numpy, forward and backward, for a batch of utterances.

Times are counted in input frames, as vosk does: output k stands at frame 3k; features beyond an utterance's ends are
its first and last frame again; inner layers are computed where they are needed, beyond the ends too.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from benchvoice.ear.fit.acoustics import AFFINE, RELU, SAME, SCALE, SOFTMAX, Acoustics, Layer
from benchvoice.ear.pack.kaldi import Floats

SUBSAMPLING = 3
"""Input frames to one output."""
Moves = Mapping[str, tuple[Floats, Floats]]
"""Scales and offsets by layer, in place of the net's own."""


@dataclass(frozen=True, slots=True)
class Span:
    """The frames at which a layer is computed: first, last, and the step between them."""

    first: int
    last: int
    step: int

    @property
    def count(self) -> int:
        return (self.last - self.first) // self.step + 1

    def with_(self, first: int, last: int, step: int) -> Span:
        """The least span that holds this one and another."""
        gap = math.gcd(self.step, step, abs(first - self.first), abs(last - self.last))
        return Span(min(self.first, first), max(self.last, last), gap)

    def slice_of(self, other: Span, shift: int) -> slice:
        """Where in `other` the frames of this span, shifted, are found."""
        stride = self.step // other.step
        start = (self.first + shift - other.first) // other.step
        return slice(start, start + stride * (self.count - 1) + 1, stride)


def output_count(frames: int) -> int:
    return -(-frames // SUBSAMPLING)


class Pass:
    """One computation of the net: `values` of every layer, kept for the way back."""

    def __init__(self, net: Acoustics, features: Sequence[Floats], moves: Moves | None = None) -> None:
        """`features`: an utterance each; they are padded to the longest with their last frame, as vosk pads."""
        self._net, self._moves = net, moves or {}
        self.counts = [output_count(len(one)) for one in features]
        self._spans = _spans(net, max(self.counts))
        span = self._spans["input"]
        times = np.arange(span.first, span.last + 1, span.step)
        self.values: dict[str, Floats] = {"input": np.stack([one[np.clip(times, 0, len(one) - 1)] for one in features])}
        for layer in net.layers:
            if layer.name in self._spans:
                self.values[layer.name] = self._compute(layer, self._gather(layer))

    @property
    def outputs(self) -> Floats:
        """(utterances, outputs, units): beyond `counts` they mean nothing."""
        return self.values[self._net.output]

    def _gather(self, layer: Layer) -> Floats:
        own = self._spans[layer.name]
        parts = []
        for piece in layer.pieces:
            part = self.values[piece.source][:, own.slice_of(self._spans[piece.source], piece.frames)]
            parts.append(part if piece.factor == 1.0 else part * np.float32(piece.factor))
        if layer.sums:
            return np.asarray(sum(parts[1:], parts[0]), np.float32)
        return parts[0] if len(parts) == 1 else np.concatenate(parts, axis=2)

    def _weights(self, layer: Layer) -> tuple[Floats, Floats]:
        assert layer.weight is not None
        assert layer.offset is not None
        return self._moves.get(layer.name, (layer.weight, layer.offset))

    def _compute(self, layer: Layer, x: Floats) -> Floats:
        if layer.kind == AFFINE:
            weight, offset = self._weights(layer)
            return np.asarray(x @ weight.T + offset, np.float32)
        if layer.kind == SCALE:
            scale, offset = self._weights(layer)
            return np.asarray(x * scale + offset, np.float32)
        if layer.kind == RELU:
            return np.maximum(x, 0)
        if layer.kind == SOFTMAX:
            top = x - x.max(axis=2, keepdims=True)
            return np.asarray(top - np.log(np.exp(top).sum(axis=2, keepdims=True)), np.float32)
        assert layer.kind == SAME
        return x

    def back(self, gradient: Floats, wanted: Sequence[str]) -> dict[str, tuple[Floats, Floats]]:
        """How a sum over the outputs, with this gradient in them, changes with the scales and offsets of layers."""
        found: dict[str, tuple[Floats, Floats]] = {}
        behind = _depending(self._net, wanted)
        waiting: dict[str, Floats] = {self._net.output: gradient}
        for layer in reversed(self._net.layers):
            flow = waiting.pop(layer.name, None)
            if flow is None:
                continue
            if layer.name in wanted:
                found[layer.name] = (
                    np.asarray((flow * self._gather(layer)).sum(axis=(0, 1)), np.float32),
                    np.asarray(flow.sum(axis=(0, 1)), np.float32),
                )
            if any(piece.source in behind for piece in layer.pieces):
                self._pass_on(layer, self._through(layer, flow), waiting, behind)
        return found

    def _through(self, layer: Layer, flow: Floats) -> Floats:
        """The gradient in what a layer reads."""
        if layer.kind == AFFINE:
            return np.asarray(flow @ self._weights(layer)[0], np.float32)
        if layer.kind == SCALE:
            return np.asarray(flow * self._weights(layer)[0], np.float32)
        if layer.kind == RELU:
            return np.asarray(flow * (self.values[layer.name] > 0), np.float32)
        if layer.kind == SOFTMAX:
            return np.asarray(flow - np.exp(self.values[layer.name]) * flow.sum(axis=2, keepdims=True), np.float32)
        return flow

    def _pass_on(self, layer: Layer, flow: Floats, waiting: dict[str, Floats], behind: set[str]) -> None:
        own, at = self._spans[layer.name], 0
        for piece in layer.pieces:
            width = self.values[piece.source].shape[2]
            part = flow if layer.sums else flow[:, :, at : at + width]
            at += width
            if piece.source not in behind:
                continue
            total = waiting.setdefault(piece.source, np.zeros_like(self.values[piece.source]))
            total[:, own.slice_of(self._spans[piece.source], piece.frames)] += part * np.float32(piece.factor)


def _spans(net: Acoustics, outputs: int) -> dict[str, Span]:
    """At which frames each layer is needed for so many outputs."""
    spans = {net.output: Span(0, SUBSAMPLING * (outputs - 1), SUBSAMPLING)}
    for layer in reversed(net.layers):
        own = spans.get(layer.name)
        if own is None:
            continue
        for piece in layer.pieces:
            first, last = own.first + piece.frames, own.last + piece.frames
            known = spans.get(piece.source)
            spans[piece.source] = Span(first, last, own.step) if known is None else known.with_(first, last, own.step)
    return spans


def _depending(net: Acoustics, wanted: Sequence[str]) -> set[str]:
    """The layers that change when the wanted ones do."""
    found = set(wanted)
    for layer in net.layers:
        if any(piece.source in found for piece in layer.pieces):
            found.add(layer.name)
    return found
