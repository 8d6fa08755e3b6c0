"""Does a fitted ear hear its person better? Tried on clips that the fit never had, quiet and in noise.

Every clip is heard twice more: with its own words taken out of what is listened for, where nothing may be accepted.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from benchvoice.ear.confidence import Trust, trust
from benchvoice.ear.decode import RATE, Samples, decode, grammar_for
from benchvoice.ear.fit.moving import Example
from benchvoice.ear.model import Model
from benchvoice.room.mixing import with_noise
from benchvoice.room.noise import Noise, noise

TRIED_DB = (15, 10)
"""Besides as they are, clips are tried in noise at these ratios."""
FITTED_DB = (5, 20)
"""A copy of each clip goes into the fit in noise between these ratios."""
_KINDS = (Noise.SHOP, Noise.HAMMER, Noise.GRINDER, Noise.PINK, Noise.HUM)
_TRIAL_SEEDS = 10_000
"""Noise of the trial is none of the fit's."""


@dataclass(frozen=True, slots=True)
class Score:
    """What came of the tries."""

    tries: int = 0
    right: int = 0
    """every word right, accepted or not"""
    accepted: int = 0
    """right and accepted"""
    wrong: int = 0
    """accepted, and not what was said"""
    false: int = 0
    """accepted where what was said could not be heard"""

    def __add__(self, other: "Score") -> "Score":
        return Score(
            self.tries + other.tries,
            self.right + other.right,
            self.accepted + other.accepted,
            self.wrong + other.wrong,
            self.false + other.false,
        )

    def __str__(self) -> str:
        return (
            f"of {self.tries}: {self.right} right, {self.accepted} of them accepted; {self.wrong} wrong and accepted; "
            f"{self.false} accepted where other words were listened for"
        )


def is_better(new: Score, old: Score) -> bool:
    """More right words accepted, and nothing worse: neither fewer right nor more accepted that are wrong."""
    return (
        new.accepted > old.accepted
        and new.right >= old.right
        and new.wrong <= old.wrong
        and new.false <= old.false
        and new.wrong + new.false <= old.wrong + old.false
    )


def with_noisy_copies(examples: Sequence[Example]) -> list[Example]:
    """The examples, and each once more in noise: how the fit is to hear them."""
    random = np.random.default_rng(1)
    return [
        *examples,
        *(
            Example(example.words, _in_noise(example.samples, float(random.uniform(*FITTED_DB)), number))
            for number, example in enumerate(examples)
        ),
    ]


def tried(model: Model, examples: Sequence[Example], words: Iterable[str]) -> Score:
    """All tries of a model on examples, with a grammar of these words and theirs."""
    total = Score()
    listened = tuple(dict.fromkeys([*words, *(word for example in examples for word in example.words)]))
    for example, samples in _tries(examples):
        total += _one(model, example, samples, listened)
    return total


def _tries(examples: Sequence[Example]) -> Iterator[tuple[Example, Samples]]:
    for number, example in enumerate(examples):
        yield example, example.samples
        for at, ratio in enumerate(TRIED_DB):
            yield example, _in_noise(example.samples, ratio, _TRIAL_SEEDS + len(TRIED_DB) * number + at)


def _one(model: Model, example: Example, samples: Samples, words: tuple[str, ...]) -> Score:
    heard = decode(model, samples, grammar_for(model, words))
    accepted = trust(heard, model.policy) is Trust.ACCEPT
    right = heard.known == example.words
    others = decode(model, samples, grammar_for(model, [word for word in words if word not in example.words]))
    return Score(
        1,
        int(right),
        int(right and accepted),
        int(accepted and not right),
        int(trust(others, model.policy) is Trust.ACCEPT),
    )


def _in_noise(samples: Samples, ratio_db: float, seed: int) -> Samples:
    wave = noise(_KINDS[seed % len(_KINDS)], len(samples) / RATE, RATE, seed)
    return with_noise(samples, wave[: len(samples)], ratio_db, RATE)
