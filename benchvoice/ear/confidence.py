"""What a decoder's confidence is worth: how likely an utterance is right, and whether to accept, doubt or refuse it.

Vosk gives every word a posterior between 0 and 1 within the words it was allowed: an order, but no share of right ones.
A logistic curve through the least posterior of an utterance turns it into one. The curve was fitted on `dev` recordings
and is kept with the model (`python -m benchvoice.benchmarks calibrate`; the model's card shows how well it holds).
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from benchvoice.ear.decode import Decoded
from benchvoice.ear.layout import ModelError

FILE = "confidence.json"
"""In the model's folder: {"constant": …, "slope": …, "accept": …, "refuse": …}."""
SUREST = 0.999
"""A posterior above this counts as this: vosk says 1 where its lattice holds nothing else."""


LEFT_OUT_S = 0.15
"""With so much loud sound to which no word was given, a word may be missing: on dev, clean and at 10 dB, 14 of 38 sure
and wrong utterances have it, and 16 of 912 sure and right ones."""


class Trust(StrEnum):
    ACCEPT = "accept"
    DOUBT = "doubt"
    """Ask again, or read back and wait for a yes."""
    REFUSE = "refuse"
    """As if nothing had been said."""


@dataclass(frozen=True, slots=True)
class Policy:
    """The curve, and the probabilities from which an utterance is accepted and below which it is refused.

    The curve as it stands here changes nothing: for models that bring none.
    """

    constant: float = 0.0
    slope: float = 1.0
    accept: float = 0.8
    refuse: float = 0.4

    def __post_init__(self) -> None:
        if not 0 <= self.refuse <= self.accept <= 1:
            raise ValueError("thresholds run from 0 to 1, refuse at most accept")
        if not (math.isfinite(self.constant) and 0 < self.slope < math.inf):
            raise ValueError("the curve must rise")


def log_odds(posterior: float) -> float:
    """Of a posterior, kept between 1 - SUREST and SUREST."""
    kept = min(max(posterior, 1 - SUREST), SUREST)
    return math.log(kept / (1 - kept))


def probability(decoded: Decoded, policy: Policy) -> float:
    """How likely all the words are right, from 0 to 1; 0 where none was understood. The least sure word decides."""
    words = [word.confidence for word in decoded.words if not word.other]
    return 1 / (1 + math.exp(-policy.constant - policy.slope * log_odds(min(words)))) if words else 0.0


def nothing_else(decoded: Decoded) -> bool:
    """Whether nothing was heard beside the words: no other speech or noise, and nothing loud that is no word."""
    return not any(word.other for word in decoded.words) and decoded.left_out_s < LEFT_OUT_S


def read_policy(model: Path) -> Policy:
    """The policy in a model's folder, or the default where it has none. ModelError when the file can't be used."""
    path = model / FILE
    if not path.is_file():
        return Policy()
    try:
        values = {key: float(value) for key, value in json.loads(path.read_text(encoding="utf-8")).items()}
        return Policy(**_without_curve(values) if "accept_mean" in values else values)
    except (OSError, ValueError, TypeError, AttributeError) as fault:
        raise ModelError(
            f"The confidence thresholds {path} can't be used ({fault}); put the model there again."
        ) from fault


def _without_curve(values: Mapping[str, float]) -> dict[str, float]:
    """An older file, whose thresholds were on posteriors: of an utterance's least sure word and of their mean."""
    known = {"accept_least": 0.0, "refuse_mean": 0.0, **values}
    if strange := set(known) - {"accept_least", "accept_mean", "refuse_mean"}:
        raise ValueError(f"unknown thresholds: {', '.join(sorted(strange))}")
    return {"accept": max(known["accept_least"], known["accept_mean"]), "refuse": known["refuse_mean"]}


def trust(decoded: Decoded, policy: Policy, *, any_words: bool = False) -> Trust:
    """How far an utterance can be relied on.

    One in which anything else was heard beside its words, or something loud that is no word, is never accepted: a
    command is the whole utterance, and a number with other words round it is doubtful. With as much else as words it is
    refused unless they are sure, for such is what noise and talk come to (on dev 53 of 53 were not right as heard); not
    so where `any_words` are taken down, as in a remark, which may well be of words that the ear doesn't have.
    """
    words = [word for word in decoded.words if not word.other]
    others = len(decoded.words) - len(words)
    right = round(probability(decoded, policy), 6)  # a posterior at the threshold reaches it
    least = policy.accept if others >= len(words) and not any_words else policy.refuse
    if not words or right < least:
        return Trust.REFUSE
    return Trust.ACCEPT if nothing_else(decoded) and right >= policy.accept else Trust.DOUBT
