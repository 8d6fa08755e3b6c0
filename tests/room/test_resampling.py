"""Resampling: no seam between pieces, no sample lost, nothing done where nothing is to do."""

import numpy as np
import pytest

from benchvoice.room.resampling import Resampler, resample

SPEECH = np.random.default_rng(1).normal(0, 3000, 22050).astype(np.int16)


@pytest.mark.parametrize(("rate", "to"), [(22050, 16000), (48000, 16000), (16000, 22050), (44100, 16000)])
def test_pieces_give_what_the_whole_gives(rate: int, to: int) -> None:
    stream = Resampler(rate, to)
    pieces = [stream.push(SPEECH[start : start + 441]) for start in range(0, len(SPEECH), 441)]
    pieces.append(stream.push(SPEECH[:0], last=True))
    joined, whole = np.concatenate(pieces), resample(SPEECH, rate, to)
    assert len(joined) == len(whole) == pytest.approx(len(SPEECH) * to / rate, abs=1)
    assert np.abs(joined.astype(int) - whole).max() <= 2  # soxr dithers int16


def test_the_same_rate_is_left_alone() -> None:
    assert resample(SPEECH, 16000, 16000) is SPEECH
    assert Resampler(16000, 16000).push(SPEECH) is SPEECH


def test_no_samples_stay_no_samples() -> None:
    assert len(resample(SPEECH[:0], 22050, 16000)) == 0
