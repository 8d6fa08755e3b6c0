"""Counting: words, utterances, readings, and what gets through that should not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from benchvoice.ear.confidence import Trust
from benchvoice.speech.readings import Action, Context, SpokenReading, parse_reading

from .bounds import rate_bounds, share_bounds
from .engines import Heard

STEP = Context(unit="thou", work="inch")
"""The step in which spoken numbers are understood as readings: a clearance in thou."""


def edits(said: Sequence[str], heard: Sequence[str]) -> int:
    """Word errors: the fewest substitutions, deletions and insertions."""
    row = list(range(len(heard) + 1))
    for i, word in enumerate(said, 1):
        diagonal, row[0] = row[0], i
        for j, other in enumerate(heard, 1):
            diagonal, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, diagonal + (word != other))
    return row[-1]


@dataclass(slots=True)
class Words:
    """Word and utterance errors of clips whose words are all in the grammar, in all and by speaker."""

    utterances: int = 0
    wrong: int = 0
    words: int = 0
    errors: int = 0
    speakers: dict[str, list[int]] = field(default_factory=dict)
    """speaker: [errors, words, clips]"""

    def add(self, speaker: str, said: Sequence[str], heard: Sequence[str]) -> None:
        n = edits(said, heard)
        self.utterances += 1
        self.wrong += n > 0
        self.words += len(said)
        self.errors += n
        own = self.speakers.setdefault(speaker, [0, 0, 0])
        for k, value in enumerate((n, len(said), 1)):
            own[k] += value

    @property
    def worst(self) -> tuple[str, float]:
        """The speaker with the highest word error, of those with five clips or more."""
        rates = [(e / w, s) for s, (e, w, clips) in self.speakers.items() if clips >= 5]
        return (max(rates)[1], max(rates)[0]) if rates else ("-", 0.0)

    def __str__(self) -> str:
        low, high = share_bounds(self.wrong, self.utterances)
        name, worst = self.worst
        return (
            f"word error {self.errors / max(1, self.words):6.1%}  utterances wrong {self.wrong}/{self.utterances} = "
            f"{self.wrong / max(1, self.utterances):.1%} [{low:.1%}, {high:.1%}]  worst speaker {worst:.0%} ({name})"
        )


def pairs_of(text: str) -> dict[str, str]:
    """Both ways, words that are taken for one another."""
    pairs = [pair.split("/") for pair in text.split()]
    return {one: other for pair in pairs for one, other in (pair, reversed(pair))}


SWAPPED = {
    "teen for ty": pairs_of(
        "thirteen/thirty fourteen/forty fifteen/fifty sixteen/sixty seventeen/seventy eighteen/eighty nineteen/ninety"
    ),
    "thou for tenths": pairs_of("thou/tenths"),
}
"""Words that change a reading tenfold where one is heard for the other."""


@dataclass(slots=True)
class Swaps:
    """Words of SWAPPED that were said in utterances of as many words as were heard, and those heard as the other."""

    said: dict[str, int] = field(default_factory=dict)
    swapped: dict[str, int] = field(default_factory=dict)

    def add(self, said: Sequence[str], heard: Sequence[str]) -> None:
        if len(said) != len(heard):
            return
        for kind, other in SWAPPED.items():
            for one, found in zip(said, heard, strict=True):
                if one in other:
                    self.said[kind] = self.said.get(kind, 0) + 1
                    self.swapped[kind] = self.swapped.get(kind, 0) + (found == other[one])

    def __str__(self) -> str:
        parts = []
        for kind, said in self.said.items():
            low, high = share_bounds(self.swapped[kind], said)
            parts.append(f"{kind} {self.swapped[kind]} of {said} [{low:.1%}, {high:.1%}]")
        return "; ".join(parts) or "none of the words"


def number_said(reading: SpokenReading) -> tuple[Decimal | None, Decimal | None, str | None] | None:
    """What a reading comes to: its interval and unit; None when there is none."""
    if reading.action in (Action.NOT_A_VALUE, Action.ASK):
        return None
    return reading.low, reading.high, reading.unit


@dataclass(slots=True)
class Readings:
    """Clips whose true words are a reading: what becomes of them under the ear's and the session's policy.

    A read-back is confirmed by a person who never objects (worst) or who objects to every wrong one (best).
    """

    total: int = 0
    right: int = 0
    asked: int = 0
    wrong_taken: int = 0
    wrong_read_back: int = 0

    def add(self, said: Sequence[str], heard: Heard) -> None:
        truth = number_said(parse_reading(" ".join(said), STEP))
        if truth is None:
            return
        self.total += 1
        if heard.trust is not Trust.ACCEPT:
            self.asked += 1
            return
        reading = parse_reading(" ".join(heard.words), STEP)
        found = number_said(reading)
        if found is None:
            self.asked += 1
        elif found == truth:
            self.right += 1
        elif reading.action is Action.READ_BACK:
            self.wrong_read_back += 1
        else:
            self.wrong_taken += 1

    def __str__(self) -> str:
        if not self.total:
            return "no readings"
        worst = self.wrong_taken + self.wrong_read_back
        parts = [f"{self.total} readings: right {self.right / self.total:.1%}"]
        for name, wrong in (("never objects", worst), ("always objects", self.wrong_taken)):
            low, high = share_bounds(wrong, self.total)
            again = self.total - self.right - wrong
            parts.append(
                f"person who {name}: asked again {again / self.total:.1%}, wrong and accepted {wrong} = "
                f"{wrong / self.total:.2%} [{low:.2%}, {high:.2%}]"
            )
        return "; ".join(parts)


@dataclass(slots=True)
class Intrusions:
    """Sound that holds nothing to be understood: what was taken for words all the same."""

    clips: int = 0
    seconds: float = 0.0
    said_something: int = 0
    """clips in which any word was heard"""
    accepted: int = 0
    """clips that the ear's policy would have accepted"""
    done: int = 0
    """clips accepted as the one word "done" """
    words: int = 0
    voices: set[str] = field(default_factory=set)

    def add(self, speaker: str, seconds: float, heard: Heard) -> None:
        self.clips += 1
        self.seconds += seconds
        self.voices.add(speaker)
        self.words += len(heard.words)
        self.said_something += bool(heard.words)
        taken = bool(heard.words) and heard.trust is Trust.ACCEPT
        self.accepted += taken
        self.done += taken and heard.words == ["done"]

    def merge(self, other: Intrusions) -> None:
        for name in ("clips", "seconds", "said_something", "accepted", "done", "words"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.voices |= other.voices

    def __str__(self) -> str:
        hours = self.seconds / 3600
        low, high = share_bounds(self.said_something, self.clips)
        taken_low, taken_high = rate_bounds(self.accepted, hours)
        _, done_high = rate_bounds(self.done, hours)
        return (
            f"{self.clips} clips, {hours:.2f} h, {len(self.voices)} sources: "
            f"a word heard in {self.said_something / max(1, self.clips):.1%} [{low:.1%}, {high:.1%}], "
            f"{self.words / max(1e-9, self.seconds) * 60:.2f} words a minute; accepted "
            f"{self.accepted} = {self.accepted / max(1e-9, hours):.1f} an hour [{taken_low:.1f}, {taken_high:.1f}]; "
            f'false "done" {self.done} (at most {done_high:.1f} an hour)'
        )
