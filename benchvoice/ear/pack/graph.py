"""A lexicon becomes the decoding graph H∘C∘L that vosk composes with a grammar while it listens.

It is built directly, without a transducer library: the tree of the lexicon has one state a sound, words end in one
state a last sound, and from there the next word begins, with or without a silence between. No determinising is
needed, for the tree is deterministic and homophones are parallel arcs. Kaldi's "reorder" form throughout: the arc
into a phone takes its first frame, the loop at the arc's target all further ones.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterator
from dataclasses import asdict, dataclass, fields
from typing import Any

import numpy as np

from benchvoice.ear.lexicon import OTHER, Lexicon
from benchvoice.ear.pack.fst import ARC, Fst, Intervals, sorted_by
from benchvoice.ear.pack.phones import GARBAGE, SILENCE, PhoneTable, Place
from benchvoice.ear.pack.tree import Branch, Tree, plant

NOT_FINAL = math.inf


@dataclass(frozen=True, slots=True)
class Costs:
    """Costs in the graph, in nats (natural log): tuned on dev recordings for LF-MMI nets, kept with the model."""

    word: float = 0.8
    """Every word, OTHER too."""
    loop: float = 0.45
    """Each further frame of a sound. Without it a word's last sound takes the silence after it, and no end is ever
    found."""
    silence: float = 0.15
    """Each frame of silence: a net that was trained in noise gives up quiet words for it."""
    garbage: float = 6.0
    """OTHER as the garbage unit."""
    filler: float = 3.0
    """Each sound of OTHER as a run of any sounds …"""
    filler_tail: float = 3.5
    """… and more for each sound beyond `filler_length`, or a long run would swallow strings of words."""
    filler_length: int = 5
    background: float = 2.5
    """OTHER as any word of the lexicon: so much dearer than the same word, or one that sounds like it, asked for."""

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> Costs:
        known = {field.name for field in fields(cls)}
        if strange := sorted(set(data) - known):
            raise ValueError(f"unknown graph costs: {', '.join(strange)}")
        return cls(**data)

    def to_json(self) -> dict[str, Any]:
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Graph:
    """The graph sorted by output label, what each state can reach, and the words by label (label 0 is empty)."""

    fst: Fst
    reach: list[Intervals]
    words: tuple[str, ...]
    final_label: int


class _Builder:
    """States and arcs as they are added."""

    def __init__(self) -> None:
        self.finals: list[float] = []
        self.reach: list[Intervals] = []
        self.arcs: list[tuple[int, int, float, int]] = []
        self.sources: list[int] = []

    def state(self, reach: Intervals, final: float = NOT_FINAL) -> int:
        self.finals.append(final)
        self.reach.append(reach)
        return len(self.finals) - 1

    def arc(self, source: int, target: int, transition: int = 0, word: int = 0, cost: float = 0.0) -> None:
        self.sources.append(source)
        self.arcs.append((transition, word, cost, target))

    def fst(self, start: int) -> Fst:
        return Fst(
            start, np.asarray(self.finals, np.float32), np.asarray(self.sources, np.int64), np.array(self.arcs, ARC)
        )


class _Joints:
    """The states that all words share: the start, between words, in silence, and one behind each last sound."""

    def __init__(self, builder: _Builder, phones: PhoneTable, costs: Costs, final_label: int) -> None:
        self.builder, self.phones, self.costs = builder, phones, costs
        self.anything: Intervals = ((1, final_label + 1),)
        self.start = builder.state(self.anything, final=0.0)
        self.words = builder.state(((1, final_label),))
        self.silence = builder.state(self.anything, final=0.0)
        self._ends: dict[str, int] = {}
        builder.arc(self.start, self.words)
        builder.arc(self.start, self.silence, phones.out(SILENCE), cost=costs.silence)
        builder.arc(self.silence, self.silence, phones.loop(SILENCE), cost=costs.silence)
        builder.arc(self.silence, self.words)

    def end(self, phone: str) -> int:
        """The state of a word's last phone; the utterance may end here, go on at once, or fall silent."""
        if phone not in self._ends:
            state = self._ends[phone] = self.builder.state(self.anything, final=0.0)
            self.builder.arc(state, state, self.phones.loop(phone), cost=self.costs.loop)
            self.builder.arc(state, self.words)
            self.builder.arc(state, self.silence, self.phones.out(SILENCE), cost=self.costs.silence)
        return self._ends[phone]

    def inner(self, phone: str, reach: Intervals) -> int:
        """A state of a phone inside a word, with its loop."""
        state = self.builder.state(reach)
        self.builder.arc(state, state, self.phones.loop(phone), cost=self.costs.loop)
        return state


def build_graph(phones: PhoneTable, lexicon: Lexicon, costs: Costs) -> Graph:
    """The graph of a lexicon, whose sounds must all be the topology's (see `unknown_sounds`)."""
    tree = plant(lexicon)
    builder = _Builder()
    joints = _Joints(builder, phones, costs, tree.final_label)
    for sound, word in tree.singles:
        phone = sound + Place.ALONE
        builder.arc(joints.words, joints.end(phone), phones.out(phone), tree.labels[word], costs.word)
    _add_words(joints, tree)
    _add_garbage(joints, tree.labels[OTHER])
    _add_filler(joints, tree.labels[OTHER])
    _add_background(joints, tree)
    return Graph(
        sorted_by(builder.fst(joints.start), "output"), builder.reach, ("<eps>", *tree.labels), tree.final_label
    )


def unknown_sounds(phones: PhoneTable, lexicon: Lexicon) -> Iterator[tuple[str, str]]:
    """(word, sound) for every sound that the net doesn't know."""
    for word, pronunciations in lexicon.items():
        for sounds in pronunciations:
            yield from ((word, sound) for sound in sounds if sound not in phones.topology.spellable)


def _add_words(joints: _Joints, tree: Tree) -> None:
    """The tree's branches. A word's label stands on the first arc behind which no other word is left."""
    builder, phones, costs = joints.builder, joints.phones, joints.costs
    waiting: list[tuple[Branch, int, bool]] = [(tree.root, joints.words, False)]
    while waiting:
        branch, state, decided = waiting.pop()
        first = branch is tree.root
        for sound, word in branch.endings:
            phone = sound + Place.END
            builder.arc(state, joints.end(phone), phones.out(phone), 0 if decided else tree.labels[word])
        for sound, below in branch.branches.items():
            phone = sound + (Place.BEGIN if first else Place.INSIDE)
            deciding = below.only is not None and not decided
            inner = joints.inner(phone, joints.anything if decided or deciding else below.reach)
            label = tree.labels[below.only] if deciding and below.only is not None else 0
            builder.arc(state, inner, phones.out(phone), label, costs.word if first else 0.0)
            waiting.append((below, inner, decided or deciding))


def _add_garbage(joints: _Joints, other: int) -> None:
    """OTHER as one stretch of the garbage unit, where the net has one."""
    if GARBAGE in joints.phones.topology.sounds:
        phone = GARBAGE + Place.ALONE
        cost = joints.costs.word + joints.costs.garbage
        joints.builder.arc(joints.words, joints.end(phone), joints.phones.out(phone), other, cost)


def _add_filler(joints: _Joints, other: int) -> None:
    """OTHER as a run of two or more sounds in any order: what competes with words when something else is said.

    The costs are paid where a sound begins (paid at the end, the run would fall out of the search beam before). A
    chain of hubs counts the sounds up to `filler_length`; the last hub leads back to itself.
    """
    builder, phones, costs = joints.builder, joints.phones, joints.costs
    sounds = [sound for sound in phones.topology.sounds if sound != GARBAGE]
    hubs = [builder.state(joints.anything) for _ in range(max(1, costs.filler_length))]
    for sound in sounds:
        phone = sound + Place.BEGIN
        inner = joints.inner(phone, joints.anything)
        builder.arc(joints.words, inner, phones.out(phone), other, costs.word + costs.filler)
        builder.arc(inner, hubs[0])
        for hub, following in zip(hubs, [*hubs[1:], hubs[-1]], strict=True):
            cost = costs.filler + (costs.filler_tail if hub == hubs[-1] else 0.0)
            inside, end = sound + Place.INSIDE, sound + Place.END
            inner = joints.inner(inside, joints.anything)
            builder.arc(hub, inner, phones.out(inside), cost=cost)
            builder.arc(inner, following)
            builder.arc(hub, joints.end(end), phones.out(end), cost=cost)


def _add_background(joints: _Joints, tree: Tree) -> None:
    """OTHER as the words of the lexicon, of two sounds and more: whoever says "cat" is not heard as "cap".

    A word that is asked for stands in here too; its own path is cheaper by `background`. No labels have to be told
    apart, so words share their last sounds as well as their first.
    """
    builder, phones, costs = joints.builder, joints.phones, joints.costs
    made: dict[Hashable, int] = {}

    def below(sound: str, place: Place, branch: Branch) -> int:
        """The state of a sound with everything that may follow it; one state for all that go on alike."""
        ends = sorted({last for last, _ in branch.endings})
        following = [(each, below(each, Place.INSIDE, branch.branches[each])) for each in sorted(branch.branches)]
        key = (sound, place, tuple(ends), tuple(following))
        if key not in made:
            state = made[key] = joints.inner(sound + place, joints.anything)
            for last in ends:
                builder.arc(state, joints.end(last + Place.END), phones.out(last + Place.END))
            for each, target in following:
                builder.arc(state, target, phones.out(each + Place.INSIDE))
        return made[key]

    for sound in sorted(tree.root.branches):
        target = below(sound, Place.BEGIN, tree.root.branches[sound])
        builder.arc(
            joints.words, target, phones.out(sound + Place.BEGIN), tree.labels[OTHER], costs.word + costs.background
        )


def any_word(count: int) -> Fst:
    """A grammar of any `count` words in any order, each as likely: what vosk uses when it is given none."""
    arcs = np.zeros(count, ARC)
    arcs["input"] = arcs["output"] = np.arange(1, count + 1)
    arcs["cost"] = math.log(count + 1)
    return Fst(0, np.array([math.log(count + 1)], np.float32), np.zeros(count, np.int64), arcs)
