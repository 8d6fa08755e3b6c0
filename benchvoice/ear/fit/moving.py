"""Moves the scales and offsets of a net toward one person's speech, by maximum mutual information.

Of everything that could have been said, what was said shall stand out: the objective is the log of the sum over all
ways in which the known words lie in the sound, less that over all ways of any words. Its gradient is followed by Adam
(Kingma and Ba 2015) for a few steps, with a pull back to the net as it was. Steps, their size and the pull were chosen
on two speakers of the development recordings; the same clips in noise beside the clean ones made the difference there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from benchvoice.ear.decode import Samples
from benchvoice.ear.fit.acoustics import Acoustics
from benchvoice.ear.fit.features import as_decoded, cepstra
from benchvoice.ear.fit.network import Pass, output_count
from benchvoice.ear.fit.paths import AnyWords, Scores, Ways, by_output, forward_backward, grammar_cost, ways_of
from benchvoice.ear.lexicon import Lexicon
from benchvoice.ear.pack.directory import Packed
from benchvoice.ear.pack.kaldi import Floats

STEPS, STEP, PULL = 12, 0.003, 1.0
_BATCH = 1600
"""Outputs computed at once, about 50 s of sound: some hundred megabytes."""
_FIRST, _SECOND = 0.9, 0.99
"""Adam's decays of the mean and of the square of the gradient."""


@dataclass(frozen=True, slots=True)
class Example:
    """A clip, and the words that were said in it."""

    words: tuple[str, ...]
    samples: Samples


@dataclass(frozen=True, slots=True)
class _Known:
    """An example as the net and the recursions take it."""

    features: Floats
    ways: Ways


Changes = dict[str, tuple[Floats, Floats]]


def fitted(
    net: Acoustics,
    packed: Packed,
    lexicon: Lexicon,
    examples: Sequence[Example],
    vocabulary: Iterable[str],
    progress: Callable[[int, int], None] = lambda _done, _of: None,
) -> Changes:
    """Scales and offsets of every movable layer, moved toward the examples.

    `vocabulary`: other words that could have been said. Words without a pronunciation in the lexicon are left out, and
    so are examples with one. `progress` is told the steps done and how many there are.
    """
    usable = [example for example in examples if all(word in lexicon for word in example.words)]
    said = [word for example in usable for word in example.words]
    words = [word for word in dict.fromkeys([*said, *vocabulary]) if word in lexicon]
    cost = grammar_cost(len(words))
    rivals = AnyWords({word: lexicon[word] for word in words}, packed.topology, packed.costs, cost)
    known = [
        _Known(
            cepstra(as_decoded(example.samples)),
            ways_of(example.words, lexicon, packed.topology, packed.costs, cost),
        )
        for example in usable
    ]
    known.sort(key=lambda one: len(one.features))
    batches = _batches(known)
    walk = _Walk(net, [one.features for one in batches[len(batches) // 2]] if batches else [])
    for number in range(STEPS if batches else 0):
        walk.follow(number, _slopes(net, rivals, batches, walk))
        progress(number + 1, STEPS)
    return walk.changes()


def _batches(known: Sequence[_Known]) -> list[list[_Known]]:
    """Examples of about the same length together; they come sorted by it, and are padded to the longest."""
    found: list[list[_Known]] = []
    for one in known:
        length = output_count(len(one.features))
        if not found or (len(found[-1]) + 1) * length > _BATCH:
            found.append([])
        found[-1].append(one)
    return found


def gain(net: Acoustics, rivals: AnyWords, batch: Sequence[_Known], changes: Changes) -> tuple[float, Pass, Floats]:
    """The objective over a batch, the computation, and the objective's gradient in the net's outputs."""
    computed = Pass(net, [one.features for one in batch], changes)
    total, shares = rivals.shares(computed.outputs, computed.counts)
    slope = -shares
    value = -float(total.sum())
    for row, one in enumerate(batch):
        count = computed.counts[row]
        truth, states = forward_backward(computed.outputs[row, :count], one.ways)
        slope[row, :count] += by_output(states, one.ways, slope.shape[2])
        value += truth
    return value, computed, slope


def _slopes(
    net: Acoustics, rivals: AnyWords, batches: Sequence[Sequence[_Known]], walk: _Walk
) -> dict[str, list[Scores]]:
    """How the objective over all examples changes with each layer's scales and offsets."""
    changes = walk.changes()
    found: dict[str, list[Scores]] = {}
    for batch in batches:
        _, computed, slope = gain(net, rivals, batch, changes)
        for name, parts in computed.back(slope, net.movable).items():
            sums = found.setdefault(name, [np.zeros(part.shape) for part in parts])
            for total, part in zip(sums, parts, strict=True):
                total += part
    return found


class _Walk:
    """Where the scales and offsets are, in shares of themselves and of the spread of what their layer gives."""

    def __init__(self, net: Acoustics, features: Sequence[Floats]) -> None:
        self._net = net
        spread = {}
        if features:
            values = Pass(net, features).values
            spread = {name: values[name].std(axis=(0, 1)) + 1e-3 for name in net.movable}
        self._units = {
            name: [np.asarray(net.layer(name).weight, np.float64), np.asarray(spread.get(name, 1.0), np.float64)]
            for name in net.movable
        }
        self._at = {name: [np.zeros(len(units[0])), np.zeros(len(units[0]))] for name, units in self._units.items()}
        self._mean = {name: [np.zeros_like(each) for each in parts] for name, parts in self._at.items()}
        self._square = {name: [np.zeros_like(each) for each in parts] for name, parts in self._at.items()}

    def changes(self) -> Changes:
        return {name: self._layer(name) for name in self._net.movable}

    def _layer(self, name: str) -> tuple[Floats, Floats]:
        layer = self._net.layer(name)
        assert layer.weight is not None
        assert layer.offset is not None
        scale, offset = (at * unit for at, unit in zip(self._at[name], self._units[name], strict=True))
        return (layer.weight + scale).astype(np.float32), (layer.offset + offset).astype(np.float32)

    def follow(self, number: int, slopes: dict[str, list[Scores]]) -> None:
        for name, parts in slopes.items():
            for k, part in enumerate(parts):
                slope = part * self._units[name][k] - PULL * self._at[name][k]
                mean, square = self._mean[name][k], self._square[name][k]
                mean += (slope - mean) * (1 - _FIRST)
                square += (slope**2 - square) * (1 - _SECOND)
                size = np.sqrt(square / (1 - _SECOND ** (number + 1))) + 1e-8
                self._at[name][k] += STEP * mean / (1 - _FIRST ** (number + 1)) / size
