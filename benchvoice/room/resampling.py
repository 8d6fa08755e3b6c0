"""Changing the rate of samples, whole or as they come, with soxr."""

from typing import Any

import numpy as np

from benchvoice.room.port import Samples


def resample(samples: Samples, rate: int, to: int) -> Samples:
    """The same sound at another rate, all at once."""
    if rate == to or len(samples) == 0:
        return samples
    import soxr

    resampled: Samples = soxr.resample(samples, rate, to)
    return resampled


class Resampler:
    """The same, piece by piece without a seam. It holds some 20 to 60 ms back until the last piece."""

    def __init__(self, rate: int, to: int) -> None:
        self._stream: Any = None
        if rate != to:
            import soxr

            self._stream = soxr.ResampleStream(rate, to, 1, dtype="int16")

    def push(self, samples: Samples, last: bool = False) -> Samples:
        """Give the next piece and take what is ready; `last` gives up what was held back."""
        if self._stream is None:
            return samples
        ready: Samples = self._stream.resample_chunk(np.ascontiguousarray(samples), last=last)
        return ready
