"""Ways through sound: every way in which known words can lie in a net's outputs, and every way in which any words can.

Each phone is entered for exactly one output and may stay for more, at the graph's cost a stay; silence may stand
before, between and after words (as in `benchvoice.ear.pack.graph`). All costs are in nats. The sum over all ways is
computed by the forward-backward recursions (Baum 1972); the difference of the two sums is what maximum mutual
information training makes as large as it can.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from benchvoice.ear.lexicon import Lexicon, Pronunciation
from benchvoice.ear.pack.graph import Costs
from benchvoice.ear.pack.kaldi import Floats
from benchvoice.ear.pack.phones import Topology

NEVER = -1e30
_FLOOR = -200.0
"""No output is taken for less likely than this beside the best one: below, plain numbers would vanish."""
Scores = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Ways:
    """States in a row, each with its output of the net; arcs into each state, padded to the same number.

    State 0 is before the sound and has no output. `labels` gives for each state the (place in the utterance,
    pronunciation) that it belongs to; silence and the start have none.
    """

    outputs: NDArray[np.int64]
    sources: NDArray[np.int64]
    costs: Scores
    final: Scores
    labels: tuple[tuple[int, Pronunciation] | None, ...]

    @property
    def count(self) -> int:
        return len(self.outputs)


class _Builder:
    def __init__(self, topology: Topology, costs: Costs) -> None:
        self.topology, self.costs = topology, costs
        self.outputs = [0]
        self.arcs: list[list[tuple[int, float]]] = [[]]
        self.labels: list[tuple[int, Pronunciation] | None] = [None]

    def phone(
        self, unit: str, entries: Iterable[tuple[int, float]], label: tuple[int, Pronunciation] | None, stay: float
    ) -> tuple[int, int]:
        """A phone's two states: entered from these states at these costs."""
        enter, loop = self.topology.outputs[unit]
        first = len(self.outputs)
        self.outputs += [enter, loop]
        self.labels += [label, label]
        self.arcs += [list(entries), [(first, stay), (first + 1, stay)]]
        return first, first + 1

    def silence(self, entries: Iterable[tuple[int, float]]) -> tuple[int, int]:
        return self.phone(self.topology.silence, entries, None, 0.0)

    def word(
        self, sounds: Pronunciation, entries: Iterable[tuple[int, float]], label: tuple[int, Pronunciation]
    ) -> tuple[int, int]:
        """A word's phones, one after another; the last one's states."""
        last = self.phone(sounds[0], entries, label, self.costs.loop)
        for sound in sounds[1:]:
            last = self.phone(sound, [(state, 0.0) for state in last], label, self.costs.loop)
        return last

    def ways(self, ends: Sequence[int]) -> Ways:
        width = max(len(arcs) for arcs in self.arcs)
        sources = np.zeros((len(self.arcs), width), np.int64)
        costs = np.full((len(self.arcs), width), -NEVER)
        for state, arcs in enumerate(self.arcs):
            for k, (source, cost) in enumerate(arcs):
                sources[state, k], costs[state, k] = source, cost
        final = np.full(len(self.arcs), NEVER)
        final[list(ends)] = 0.0
        return Ways(np.array(self.outputs), sources, costs, final, tuple(self.labels))


def ways_of(words: Sequence[str], lexicon: Lexicon, topology: Topology, costs: Costs, word_cost: float = 0.0) -> Ways:
    """Every way in which these words, in this order, can be said. KeyError for a word without a pronunciation."""
    builder = _Builder(topology, costs)
    open_states = [0, *builder.silence([(0, 0.0)])]
    for place, word in enumerate(words):
        entries = [(state, costs.word + word_cost) for state in open_states]
        ends = [state for sounds in lexicon[word] for state in builder.word(sounds, entries, (place, sounds))]
        open_states = [*ends, *builder.silence([(state, 0.0) for state in ends])]
    return builder.ways(open_states)


def forward_backward(scores: Floats, ways: Ways) -> tuple[float, Scores]:
    """The log of the sum over all ways through (outputs, units) scores, and the share of each state at each output."""
    emitted = scores[:, ways.outputs].astype(np.float64)
    length = len(emitted)
    ahead = np.full((length + 1, ways.count), NEVER)
    ahead[0, 0] = 0.0
    for t in range(length):
        ahead[t + 1] = emitted[t] + _log_sum(ahead[t][ways.sources] - ways.costs)
        ahead[t + 1, 0] = NEVER
    total = float(_log_sum((ahead[length] + ways.final)[None])[0])
    back = ways.final.copy()
    shares = np.zeros((length, ways.count))
    for t in range(length - 1, -1, -1):
        shares[t] = np.exp(np.minimum(ahead[t + 1] + back - total, 0.0))
        through = np.exp(np.maximum(back + emitted[t], NEVER)[:, None] - ways.costs - _top(back + emitted[t]))
        summed = np.zeros(ways.count)
        np.add.at(summed, ways.sources.ravel(), through.ravel())
        with np.errstate(divide="ignore"):
            back = np.maximum(np.log(summed) + _top(back + emitted[t]), NEVER)
    return total, shares


def _top(values: Scores) -> float:
    return float(values.max())


def _log_sum(values: Scores) -> Scores:
    """Over the last axis."""
    top = values.max(axis=-1)
    return np.asarray(np.maximum(top + np.log(np.exp(values - top[..., None]).sum(axis=-1)), NEVER))


def by_output(shares: Scores, ways: Ways, units: int) -> Floats:
    """Shares of the net's outputs, from shares of the states."""
    found = np.zeros((units, len(shares)))
    np.add.at(found, ways.outputs, shares.T)
    return np.asarray(found.T, np.float32)


class AnyWords:
    """Every way in which any of a list of words, with a cost for each, can follow one another, silence between.

    All pronunciations lie end to end, so that one step is a few operations over all of them at once, for a batch of
    utterances of different lengths. Sums are kept as plain numbers, scaled to 1 at each output.
    """

    def __init__(self, lexicon: Lexicon, topology: Topology, costs: Costs, word_cost: float) -> None:
        outputs: list[int] = []
        first: list[int] = []
        last: list[int] = []
        for pronunciations in lexicon.values():
            for sounds in pronunciations:
                first.append(len(outputs))
                for sound in sounds:
                    outputs += topology.outputs[sound]
                last += [len(outputs) - 2, len(outputs) - 1]
        self._first, self._last = np.array(first), np.array(last)
        self._outputs = np.array(outputs)
        self._silence = np.array(topology.outputs[topology.silence])
        self._stay, self._start = math.exp(-costs.loop), math.exp(-costs.word - word_cost)
        self._onward = np.ones(len(outputs) // 2 - 1)
        self._onward[self._first[1:] // 2 - 1] = 0.0
        """whether a phone is followed by another of its word"""

    def shares(self, scores: Floats, counts: Sequence[int]) -> tuple[Scores, Floats]:
        """The log of the sum over all ways for each utterance of (utterances, outputs, units) scores, and each
        output's share at each time."""
        top = scores.max(axis=2).astype(np.float64)
        likely = np.exp(np.maximum(scores - top[:, :, None], _FLOOR))
        ahead, silent, scale, total = self._ahead(likely, counts)
        logs = np.array([top[row, :count].sum() + np.log(scale[:count, row]).sum() for row, count in enumerate(counts)])
        return logs + np.log(total), self._back(likely, counts, ahead, silent, scale, total)

    def _ahead(self, likely: Scores, counts: Sequence[int]) -> tuple[Scores, Scores, Scores, Scores]:
        """Sums up to each output in each state, divided by `scale`; and what of the last can end the utterance."""
        rows, length, _ = likely.shape
        ahead = np.zeros((length + 1, rows, len(self._outputs)))
        silent = np.zeros((length + 1, rows, 2))
        scale = np.ones((length, rows))
        ended, between = np.ones(rows), np.ones(rows)
        total = np.ones(rows)
        for t in range(length):
            now, hush, new, quiet = ahead[t], silent[t], ahead[t + 1], silent[t + 1]
            both = now[:, 0::2] + now[:, 1::2]
            new[:, 1::2] = both * self._stay
            new[:, 2::2] = both[:, :-1] * self._onward
            new[:, self._first] = (between * self._start)[:, None]
            new *= likely[:, t][:, self._outputs]
            enter, loop = likely[:, t, self._silence].T
            quiet[:, 0], quiet[:, 1] = ended * enter, hush.sum(axis=1) * loop
            scale[t] = new.sum(axis=1) + quiet.sum(axis=1)
            new /= scale[t][:, None]
            quiet /= scale[t][:, None]
            ended = new[:, self._last].sum(axis=1)
            between = ended + quiet.sum(axis=1)
            over = np.array(counts) == t + 1
            total[over] = between[over]
        return ahead, silent, scale, total

    def _back(
        self, likely: Scores, counts: Sequence[int], ahead: Scores, silent: Scores, scale: Scores, total: Scores
    ) -> Floats:
        rows, length, units = likely.shape
        shares = np.zeros((length, rows, units), np.float32)
        back, hush = np.zeros((rows, len(self._outputs))), np.zeros((rows, 2))
        ends = np.array(counts)
        pick = np.zeros((len(self._outputs), units), np.float32)
        pick[np.arange(len(self._outputs)), self._outputs] = 1.0
        for t in range(length - 1, -1, -1):
            over = np.flatnonzero(ends == t + 1)
            back[np.ix_(over, self._last)] = (1.0 / total[over])[:, None]
            hush[over] = (1.0 / total[over])[:, None]
            shares[t] = (ahead[t + 1] * back).astype(np.float32) @ pick
            for k, unit in enumerate(self._silence):
                shares[t, :, unit] += silent[t + 1, :, k] * hush[:, k]
            back, hush = self._step_back(back, hush, likely[:, t], scale[t])
        return np.asarray(shares.transpose(1, 0, 2), np.float32)

    def _step_back(self, back: Scores, hush: Scores, likely: Scores, scale: Scores) -> tuple[Scores, Scores]:
        back = back * likely[:, self._outputs] / scale[:, None]
        enter, loop = (hush * likely[:, self._silence] / scale[:, None]).T
        begin = back[:, self._first].sum(axis=1) * self._start
        both = back[:, 1::2] * self._stay
        both[:, :-1] += back[:, 2::2] * self._onward
        out = np.repeat(both, 2, axis=1)
        out[:, self._last] += (begin + enter)[:, None]
        return out, np.repeat((begin + loop)[:, None], 2, axis=1)


def grammar_cost(words: int) -> float:
    """What a further word costs in a grammar of so many single words, as vosk builds it: ln 8n."""
    return math.log(8 * max(1, words))
