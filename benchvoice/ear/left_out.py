"""Sound as loud as the words of an utterance to which the decoder gave no word.

A word that was left out has no posterior of its own: "three four", said as "three nine four", can be as sure as can be.
But something was said there.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

FRAME = 160
"""Samples: 10 ms at 16 kHz."""
BELOW_WORDS_DB, ABOVE_QUIET_DB = 12.0, 10.0
"""As loud as a word: at most so far under the words' level (the 80th percentile of their frames), and so far above
what is quiet in the utterance (the 10th percentile of all)."""
EDGE_S = 0.08
"""A word may begin and end so much beside the times that the decoder gives it."""
JOINED_FRAMES = 3
"""Gaps up to so many frames inside a stretch are part of it: a stop consonant's closure."""


def levels(samples: NDArray[np.int16]) -> NDArray[np.float64]:
    """The level of every whole frame, in dB over a mean square of one."""
    whole = samples[: len(samples) // FRAME * FRAME].astype(np.float64).reshape(-1, FRAME)
    return np.asarray(10 * np.log10((whole**2).mean(axis=1) + 1), np.float64)


def left_out_s(samples: NDArray[np.int16], spans: Iterable[tuple[float, float]]) -> float:
    """Seconds of the longest loud stretch outside all words; 0 without words. `spans`: a word's start and end in
    seconds from the first sample (16 kHz, mono)."""
    level = levels(samples)
    at = np.arange(len(level)) * FRAME / 16_000
    inside, near = np.zeros(len(level), bool), np.zeros(len(level), bool)
    for start, end in spans:
        inside |= (at >= start) & (at < end)
        near |= (at >= start - EDGE_S) & (at < end + EDGE_S)
    if not inside.any():
        return 0.0
    least = max(np.percentile(level[inside], 80) - BELOW_WORDS_DB, np.percentile(level, 10) + ABOVE_QUIET_DB)
    loud = np.flatnonzero((level > least) & ~near)
    if not len(loud):
        return 0.0
    stretches = np.split(loud, np.flatnonzero(np.diff(loud) > JOINED_FRAMES + 1) + 1)
    return round(max(len(stretch) for stretch in stretches) * FRAME / 16_000, 2)
