"""Plans of training rows: which clips stand where in each row of a batch, and what is said in it.

Single-word clips of one speaker are joined into strings from the first step; rows begin and end with
forced quiet, as a bench does before and after a command.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
import torch
from grammar import Priced, Words
from losses import chain, pad_chains
from phones import GARBAGE, SPN, UNIT_ID, Pronunciation, choose
from shards import RATE, Utterance

Said = list[list[list[int]]]
"""For every word its pronunciations as unit numbers."""


def words_of(u: Utterance, lexicon: dict[str, list[Pronunciation]], most: int = 4) -> Said | None:
    """Turn an utterance's text into pronunciations; None when a word has none."""
    if u.words == GARBAGE:
        return [[[SPN]]]
    if u.pronunciations is not None:
        return [[[UNIT_ID[p] for p in w.split()]] for w in u.pronunciations]
    words = []
    for word in u.words.split():
        if word not in lexicon:
            return None
        words.append([[UNIT_ID[p] for p in v] for v in choose(lexicon[word], u.rhotic)[:most]])
    return words


@dataclass
class Corpus:
    """All clips of a run: where they lie in the sound, their words, weights, and what may be joined."""

    start: list[int] = field(default_factory=list)
    length: list[int] = field(default_factory=list)
    words: list[Said] = field(default_factory=list)
    weight: list[float] = field(default_factory=list)
    gain: list[float] = field(default_factory=list)
    joinable: dict[int, tuple[int, int, str]] = field(default_factory=dict)
    """clip -> (start, length of its spoken part, speaker)"""


class RowPlans(torch.utils.data.IterableDataset):
    """Yields batches of row plans for ever; the sound itself stays on the training device."""

    def __init__(
        self,
        corpus: Corpus,
        grammar: Words,
        seconds: float,
        rows: int,
        seed: int,
        slots: int,
        join: float = 0.5,
        quiet: float = 0.5,
        quiet_seconds: tuple[float, float] = (0.5, 3.0),
        empty: float = 0.1,
        vary: bool = True,
        abrupt: float = 0.15,
    ) -> None:
        """abrupt: share of rows that begin in the first word, as recordings that were cut close do."""
        fits = [i for i, n in enumerate(corpus.length) if n <= seconds * RATE * 0.84]
        weight = np.array([corpus.weight[i] for i in fits])
        self.clips, self.cumulative = np.array(fits), np.cumsum(weight / weight.sum())
        self.corpus, self.grammar, self.seconds, self.rows = corpus, grammar, seconds, rows
        self.seed, self.slots, self.abrupt = seed, slots, abrupt
        self.join, self.quiet, self.quiet_seconds, self.empty, self.vary = join, quiet, quiet_seconds, empty, vary
        self.mates: dict[str, list[int]] = {}
        for clip, (_, _, speaker) in corpus.joinable.items():
            self.mates.setdefault(speaker, []).append(clip)

    def _group(self, r: random.Random, clip: int) -> list[tuple[int, int, int]]:
        """(clip, start, length) of the clip alone, or of a string of its speaker's words."""
        c = self.corpus
        part = c.joinable.get(clip)
        if part and len(self.mates[part[2]]) > 2 and r.random() < self.join:
            string = [clip, *r.choices(self.mates[part[2]], k=r.randint(1, 6))]
            return [(k, *c.joinable[k][:2]) for k in string]
        return [(clip, c.start[clip], c.length[clip])]

    def _pause(self, r: random.Random) -> int:
        return int(r.uniform(*self.quiet_seconds) * RATE) if r.random() < self.quiet else int(r.expovariate(6) * RATE)

    def _row(
        self, r: random.Random, draw: Iterator[int], room: int
    ) -> tuple[list[tuple[int, int, int, float]], list[list[int]]]:
        """Fill one row of `room` samples: [(start, length, place, gain)], and the pronunciations said."""
        placed: list[tuple[int, int, int, float]] = []
        said: list[list[int]] = []
        if r.random() < self.empty:
            return placed, said
        place, room = 0 if r.random() < self.abrupt else self._pause(r), room - self._pause(r)
        base, misses = r.uniform(-3, 3), 0
        while len(placed) < self.slots and misses < 6:
            group = self._group(r, next(draw))
            spread = r.choice((1.2, 5.0)) if len(group) > 1 else 5.0
            first = True
            for clip, start, length in group:
                at = place if first else max(0, place + int(r.uniform(-0.06, 0.16) * RATE))
                if at + length > room or len(placed) == self.slots:
                    misses += 1
                    break
                gain = self.corpus.gain[clip] * 10 ** ((base + r.uniform(-spread, spread)) / 20)
                placed.append((start, length, at, gain))
                said += [w[0] if len(w) == 1 or r.random() < 0.5 else r.choice(w) for w in self.corpus.words[clip]]
                place, first = at + length, False
            if not first:
                place += int(min(r.expovariate(4), 1.5) * RATE)
        return placed, said

    def __iter__(self) -> Iterator[dict[str, object]]:
        info = torch.utils.data.get_worker_info()
        seed = self.seed * 1000 + (info.id if info else 0)
        numbers, r = np.random.default_rng(seed), random.Random(seed)

        def draws() -> Iterator[int]:
            while True:
                picks = np.searchsorted(self.cumulative, numbers.random(4096)).clip(0, len(self.clips) - 1)
                yield from self.clips[picks].tolist()

        draw = draws()
        while True:
            speed = np.where(numbers.random(self.rows) < 0.2, 1.0, numbers.uniform(0.87, 1.14, self.rows))
            tempo = np.where(numbers.random(self.rows) < 0.4, 1.0, numbers.uniform(0.88, 1.12, self.rows))
            if not self.vary:
                speed, tempo = np.ones(self.rows), np.ones(self.rows)
            table = np.zeros((4, self.rows, self.slots), np.float64)
            chains, targets, asked = [], [], np.zeros((self.rows, len(self.grammar.number)), bool)
            for row in range(self.rows):
                placed, said = self._row(r, draw, int(self.seconds * RATE * speed[row] * tempo[row] * 0.985))
                for slot, values in enumerate(placed):
                    table[:, row, slot] = values
                asked[row] = self.grammar.draw(numbers)
                priced: list[Priced] = [self.grammar.price(word, asked[row]) for word in said]
                chains.append(chain(priced, self.grammar.costs.loop))
                targets.append([unit for word in said for unit in word])
            longest = max(1, *(len(t) for t in targets))
            ctc = np.zeros((self.rows, longest), np.int64)
            for row, target in enumerate(targets):
                ctc[row, : len(target)] = target
            start, length, place = (torch.from_numpy(table[k].astype(np.int64)) for k in range(3))
            yield {
                "start": start,
                "length": length,
                "place": place,
                "gain": torch.from_numpy(table[3]).float(),
                "speed": torch.from_numpy(speed).float(),
                "tempo": torch.from_numpy(tempo).float(),
                "asked": torch.from_numpy(asked),
                "chains": pad_chains(chains).fields(),
                "ctc": torch.from_numpy(ctc),
                "ctc_length": torch.tensor([len(t) for t in targets]),
            }
