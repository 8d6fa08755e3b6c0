"""Automatic gain control: what is said quietly is decoded as loudly as the rest.

A word that is 20 dB quieter than the one before it is given up for silence by the net, which hears no sound by itself;
so every frame is raised until the loudest sound near it peaks 20 dB under full scale. The gain looks a fifth of a
second ahead, so that no word's onset comes before it, and recovers by 80 dB a second behind a loud sound.

On dev, of strings joined from clips of one speaker whose words differ by 25 dB, 4.2 % of the words are wrong with it
and 5.5 % with one gain for the whole utterance; among the 750 surest right utterances 15 instead of 22 are wrong.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.int16]

FRAME = 160
"""Samples: 10 ms at 16 kHz."""
AHEAD = 20
"""Frames after its own by which a frame's gain is judged."""
FALL_DB = 0.8
"""By so much a frame the level falls behind a loud sound."""
TARGET_DB, MOST_DB = -20.0, 24.0
"""Full scale is 0 dB. More gain would only raise the microphone's own noise."""


class Gain:
    """Gives samples back louder as they come. `feed` it blocks of any size, then `finish`: the same samples always
    come out the same, all of them, AHEAD frames late."""

    def __init__(self) -> None:
        self._waiting: Samples = np.zeros(0, np.int16)
        self._level = -np.inf
        self._gain = 0.0

    def feed(self, samples: Samples) -> Samples:
        self._waiting = np.concatenate([self._waiting, samples])
        return self._take(len(self._waiting) // FRAME - AHEAD)

    def finish(self) -> Samples:
        count = len(self._waiting) // FRAME
        whole = self._take(count)
        return np.concatenate([whole, _raised(self._waiting, np.full(len(self._waiting), self._gain))])

    def _take(self, count: int) -> Samples:
        """The first frames that wait, so many of them."""
        if count <= 0:
            return np.zeros(0, np.int16)
        peaks = _peaks(self._waiting[: (count + AHEAD) * FRAME])
        gains = np.empty(count + 1)
        first = not np.isfinite(self._level)
        gains[0] = self._gain
        for frame in range(count):
            self._level = max(float(peaks[frame : frame + AHEAD + 1].max()), self._level - FALL_DB)
            gains[frame + 1] = min(max(TARGET_DB - self._level, 0.0), MOST_DB)
        if first:
            gains[0] = gains[1]
        self._gain = float(gains[-1])
        taken, self._waiting = self._waiting[: count * FRAME], self._waiting[count * FRAME :]
        ramps = gains[:-1, None] + np.diff(gains)[:, None] * (np.arange(1, FRAME + 1) / FRAME)
        return _raised(taken, ramps.reshape(-1))


def levelled(samples: Samples) -> Samples:
    """A whole utterance, int16 at 16 kHz, as `Gain` gives it."""
    gain = Gain()
    return np.concatenate([gain.feed(samples), gain.finish()])


def _peaks(samples: Samples) -> NDArray[np.float64]:
    """The peak of every whole frame in dB; silence is one step of the 32,768."""
    whole = np.abs(samples[: len(samples) // FRAME * FRAME].astype(np.int32)).reshape(-1, FRAME)
    return np.asarray(20 * np.log10(np.maximum(whole.max(axis=1), 1) / 32_768), np.float64)


def _raised(samples: Samples, gain_db: NDArray[np.float64]) -> Samples:
    """What goes beyond full scale is cut off."""
    return np.asarray(np.clip(np.rint(samples * 10 ** (gain_db / 20)), -32_768, 32_767), np.int16)
