"""What a decoder's confidence is worth: accept, doubt or refuse, by thresholds that are kept with the model.

Vosk gives every word a posterior between 0 and 1 within the words it was allowed. The thresholds were chosen on `dev`
recordings (see the model's card for what they let through); a later calibration may replace the file, not this code.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from benchvoice.ear.decode import Decoded
from benchvoice.ear.layout import ModelError

FILE = "confidence.json"
"""In the model's folder: {"accept_least": …, "accept_mean": …, "refuse_mean": …}, each from 0 to 1."""


class Trust(StrEnum):
    ACCEPT = "accept"
    DOUBT = "doubt"
    """Ask again, or read back and wait for a yes."""
    REFUSE = "refuse"
    """As if nothing had been said."""


@dataclass(frozen=True, slots=True)
class Policy:
    """Thresholds on the confidences of an utterance's words."""

    accept_least: float = 0.7
    """Every word must reach this …"""
    accept_mean: float = 0.8
    """… and their mean this, or the utterance is doubted."""
    refuse_mean: float = 0.4
    """Below this mean nothing was understood."""

    def __post_init__(self) -> None:
        if not 0 <= self.refuse_mean <= self.accept_mean <= 1 or not 0 <= self.accept_least <= 1:
            raise ValueError("thresholds run from 0 to 1, refuse_mean at most accept_mean")


def read_policy(model: Path) -> Policy:
    """The policy in a model's folder, or the default where it has none. ModelError when the file can't be used."""
    path = model / FILE
    if not path.is_file():
        return Policy()
    try:
        return Policy(**{key: float(value) for key, value in json.loads(path.read_text(encoding="utf-8")).items()})
    except (OSError, ValueError, TypeError, AttributeError) as fault:
        raise ModelError(
            f"The confidence thresholds {path} can't be used ({fault}); put the model there again."
        ) from fault


def trust(decoded: Decoded, policy: Policy) -> Trust:
    """How far an utterance can be relied on.

    One in which anything else was heard beside its words is never accepted: a command is the whole utterance, and a
    number with other words round it is doubtful.
    """
    words = [word for word in decoded.words if not word.other]
    if not words:
        return Trust.REFUSE
    mean = sum(word.confidence for word in words) / len(words)
    if mean < policy.refuse_mean:
        return Trust.REFUSE
    whole = len(words) == len(decoded.words)
    sure = min(word.confidence for word in words) >= policy.accept_least and mean >= policy.accept_mean
    return Trust.ACCEPT if whole and sure else Trust.DOUBT
