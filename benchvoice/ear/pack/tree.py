"""The lexicon as a tree of sounds: words that begin alike share their first branches.

Word labels are given in the order of a walk through the tree, so that the words below any branch are one or few
ranges of labels: what vosk's look-ahead needs to know which words of a grammar can still come.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from benchvoice.ear.lexicon import OTHER, Lexicon
from benchvoice.ear.pack.fst import Intervals


@dataclass(slots=True)
class Branch:
    """A place in the tree, reached by a run of sounds."""

    branches: dict[str, Branch] = field(default_factory=dict)
    endings: list[tuple[str, str]] = field(default_factory=list)
    """(last sound, word) of each pronunciation that ends one sound further on."""
    reach: Intervals = ()
    only: str | None = None
    """The word below, where there is just one: from here on it is decided, and its label can be given out."""


@dataclass(frozen=True, slots=True)
class Tree:
    root: Branch
    singles: list[tuple[str, str]]
    """(sound, word) of words of one sound."""
    labels: dict[str, int]
    """Label of every word, counted from 1; OTHER comes last."""

    @property
    def final_label(self) -> int:
        """One above the last word: in look-ahead sets it stands for the end of the utterance."""
        return len(self.labels) + 1


def plant(lexicon: Lexicon) -> Tree:
    root, singles = Branch(), []
    for word, pronunciations in lexicon.items():
        if word == OTHER:
            continue
        for sounds in pronunciations:
            if len(sounds) == 1:
                singles.append((sounds[0], word))
            else:
                _grow(root, sounds, word)
    ordered = dict.fromkeys([*_words_below(root), *(word for _, word in singles), OTHER])
    labels = {word: number for number, word in enumerate(ordered, start=1)}
    _settle(root, labels)
    return Tree(root, singles, labels)


def _grow(root: Branch, sounds: tuple[str, ...], word: str) -> None:
    branch = root
    for sound in sounds[:-1]:
        branch = branch.branches.setdefault(sound, Branch())
    branch.endings.append((sounds[-1], word))


def _words_below(branch: Branch) -> Iterator[str]:
    yield from (word for _, word in branch.endings)
    for sound in sorted(branch.branches):
        yield from _words_below(branch.branches[sound])


def _settle(branch: Branch, labels: dict[str, int]) -> None:
    """Fills in what every branch can reach, leaves first."""
    for below in branch.branches.values():
        _settle(below, labels)
    words: set[str | None] = {word for _, word in branch.endings}
    words.update(below.only for below in branch.branches.values())  # None: several words below
    branch.only = words.pop() if len(words) == 1 else None
    own = [(labels[word], labels[word] + 1) for _, word in branch.endings]
    branch.reach = joined([*own, *(pair for below in branch.branches.values() for pair in below.reach)])


def joined(intervals: Iterable[tuple[int, int]]) -> Intervals:
    """The same labels as sorted ranges that neither touch nor overlap."""
    result: list[tuple[int, int]] = []
    for begin, end in sorted(intervals):
        if result and begin <= result[-1][1]:
            result[-1] = (result[-1][0], max(end, result[-1][1]))
        else:
            result.append((begin, end))
    return tuple(result)
