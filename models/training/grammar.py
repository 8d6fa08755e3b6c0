"""What the net is trained against: the decoder's own choice between words that are asked for and anything else.

The graph is that of `benchvoice.ear.pack`: any of the words in any order, and beside them whatever is to be refused:
a word that is not asked for, a run of any sounds, garbage. Every row of a batch asks for words of its own, as every
moment of a build does: a word that one row takes is refused by the next.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import torch
from phones import SPN, UNIT_ID, UNITS, Pronunciation, first_pdf, rest_pdf
from torch import Tensor

Sounds = tuple[int, ...]
"""A pronunciation as unit numbers."""


@dataclass(frozen=True, slots=True)
class Costs:
    """In nats, as in `benchvoice.ear.pack.Costs` (a test holds them together); `choice` is a grammar's of 128 words."""

    word: float = 0.8
    loop: float = 0.45
    garbage: float = 6.0
    filler: float = 3.0
    filler_tail: float = 3.5
    filler_length: int = 5
    background: float = 2.5
    choice: float = math.log(129)

    @property
    def entry(self) -> float:
        """What every word costs."""
        return self.word + self.choice

    def run(self, count: int) -> list[float]:
        """What each of `count` sounds of a run of any sounds costs."""
        further = [self.filler + (self.filler_tail if k >= self.filler_length else 0.0) for k in range(1, count)]
        return [self.entry + self.filler, *further]


Priced = tuple[Sequence[int], Sequence[float]]
"""The units of something said, and what entering each of them costs."""


class Words:
    """The pronunciations of the graph, and which of them a row asks for."""

    def __init__(self, asked: Mapping[str, Iterable[Sounds]], others: Iterable[Sounds], costs: Costs) -> None:
        """asked: the words that a bench asks for; others: further ones, refused nearly always."""
        self.costs = costs
        self.number: dict[Sounds, int] = {}
        pairs: list[tuple[int, int]] = []
        for word, sounds in enumerate(asked.values()):
            pairs += [(word, self.number.setdefault(tuple(s), len(self.number))) for s in sounds]
        self.bench = len(asked)
        count = self.bench
        for each in others:
            if tuple(each) not in self.number:
                pairs.append((count, self.number.setdefault(tuple(each), len(self.number))))
                count += 1
        self.count = count
        self.word, self.spelt = (np.array(column) for column in zip(*pairs, strict=True))

    def draw(self, numbers: np.random.Generator) -> np.ndarray:
        """[pronunciations] whether each is asked for: all the bench's words, or a share of them and of the others."""
        chosen = np.arange(self.count) < self.bench
        if numbers.random() < 0.6:
            draws = numbers.random(self.count)
            chosen = draws < np.where(chosen, numbers.uniform(0.15, 1.0), numbers.choice([0.0, 0.0, 0.1]))
        return np.bincount(self.spelt, weights=chosen[self.word], minlength=len(self.number)) > 0

    def price(self, said: Sequence[int], asked: np.ndarray) -> Priced:
        """What a pronunciation costs where `asked` tells what is asked for."""
        if list(said) == [SPN]:
            return said, [self.costs.entry + self.costs.garbage]
        number = self.number.get(tuple(said))
        if number is None:
            return said, self.costs.run(len(said))
        entry = self.costs.entry + (0.0 if asked[number] else self.costs.background)
        return said, [entry, *[0.0] * (len(said) - 1)]


def words_to_ask(
    lexicon: Mapping[str, list[Pronunciation]], bench: Iterable[str], heard: Mapping[Sounds, float], others: int
) -> Words:
    """The bench's words, and beside them the pronunciations that training hears most (`heard`: how much)."""
    asked = {w: [tuple(UNIT_ID[p] for p in spelt) for spelt in lexicon[w]] for w in bench if w in lexicon}
    held = {s for sounds in asked.values() for s in sounds}
    rest = sorted((s for s in heard if s not in held and s != (SPN,)), key=lambda s: -heard[s])
    return Words(asked, rest[:others], Costs())


@dataclass(frozen=True, slots=True)
class Graph:
    """Chains of states laid one after the other, and few hubs through which chains end and begin.

    Probabilities: `stay`, `one`, `two` [states] of a state after itself, the one before it and the one before that;
    `leave` [states, hubs] and `enter` [hubs, states]; `begin` and `end` of a row. `doors` [pronunciations]: their
    first states.
    """

    pdf: Tensor
    stay: Tensor
    one: Tensor
    two: Tensor
    leave: Tensor
    enter: Tensor
    begin: Tensor
    end: Tensor
    doors: Tensor


def graph_of(words: Words) -> Graph:
    """Every state of the graph: silence, words, garbage, and the run of any sounds (one layer a sound counted)."""
    costs = words.costs
    any_sound = [u for u in range(1, len(UNITS)) if u != SPN]
    pdf, chain_start, chain_end = [0], [True], [False]  # state 0 is silence
    doors: list[int] = []

    def chain(sounds: Sequence[int]) -> int:
        start = len(pdf)
        for k, unit in enumerate(sounds):
            pdf.extend((first_pdf(unit), rest_pdf(unit)))
            chain_start.extend((k == 0, False))
            chain_end.extend([k == len(sounds) - 1] * 2)
        return start

    for sounds in words.number:
        doors.append(chain(sounds))
    garbage = chain([SPN])
    layers = [[chain([u]) for u in any_sound] for _ in range(costs.filler_length + 1)]
    count, hubs = len(pdf), 2 + costs.filler_length
    any_word, pause, first_hub = 0, 1, 2
    leave, enter = torch.zeros(count, hubs), torch.zeros(hubs, count)
    stops = np.array(chain_end)
    stops[layers[0]] = stops[[s + 1 for s in layers[0]]] = False  # a run has two sounds at least
    leave[stops, any_word] = leave[stops, pause] = 1.0
    leave[0, any_word] = 1.0
    enter[pause, 0] = 1.0
    enter[any_word, doors] = math.exp(-costs.entry)
    enter[any_word, garbage] = math.exp(-costs.entry - costs.garbage)
    enter[any_word, layers[0]] = math.exp(-costs.entry - costs.filler)
    for k, layer in enumerate(layers):
        hub = first_hub + min(k, costs.filler_length - 1)
        leave[layer, hub] = leave[[s + 1 for s in layer], hub] = 1.0
        if k:
            last = k == costs.filler_length
            enter[first_hub + k - 1, layer] = math.exp(-costs.filler - costs.filler_tail * last)
    further = np.zeros(count, bool)
    further[2::2] = True  # a sound's later frames
    loop = math.exp(-costs.loop)
    stay = torch.where(torch.from_numpy(further), loop, 0.0)
    stay[0] = 1.0
    inside = torch.from_numpy(~np.array(chain_start) & ~further)
    one = torch.where(torch.from_numpy(further), loop, 0.0) + inside
    two = inside.float()
    begin = enter[any_word] + enter[pause]
    end = torch.from_numpy(stops).float()
    end[0] = 1.0
    return Graph(torch.tensor(pdf), stay, one, two, leave, enter, begin, end, torch.tensor(doors))
