"""Hearing when a program speaks: what sounded, for how long, and that waiting for nothing ends."""

import io
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from benchvoice.room import RATE
from benchvoice.testing.levels import LevelMeter


def meter(*parts: tuple[float, int]) -> LevelMeter:
    """A meter that has heard parts of so many seconds and such an amplitude."""
    sound = np.concatenate([np.full(round(seconds * RATE), amplitude, "<i2") for seconds, amplitude in parts])
    stream: Any = SimpleNamespace(stdout=io.BytesIO(sound.tobytes()))
    made = LevelMeter(stream)
    made._thread.join(5)
    return made


def test_tells_how_long_it_sounded_and_keeps_the_sound() -> None:
    heard = meter((1.0, 0), (0.5, 3000), (1.0, 3))
    assert heard.wait_for_sound_and_quiet(quiet=0.0, timeout=1) == pytest.approx(0.5)
    assert np.count_nonzero(heard.sound() == 3000) == RATE // 2
    assert len(heard.sound()) == round(2.5 * RATE)


def test_each_sound_is_told_once() -> None:
    heard = meter((0.5, 3000))
    heard.wait_for_sound_and_quiet(quiet=0.0, timeout=1)
    with pytest.raises(TimeoutError, match="did not sound"):
        heard.wait_for_sound_and_quiet(quiet=0.0, timeout=1)


def test_silence_is_no_sound() -> None:
    with pytest.raises(TimeoutError):
        meter((1.0, 10)).wait_for_sound_and_quiet(quiet=0.0, timeout=1)
