"""Workshop noises: repeatable, of unit level, and with the spectrum and rhythm that their names promise."""

import numpy as np
import pytest

from benchvoice.room.noise import Noise, Wave, noise

RATE = 16000


def band(wave: Wave, low: float, high: float) -> float:
    """The share of a wave's power between two frequencies."""
    power = np.abs(np.fft.rfft(wave)) ** 2
    at = np.fft.rfftfreq(len(wave), 1 / RATE)
    return float(power[(at >= low) & (at < high)].sum() / power.sum())


@pytest.mark.parametrize("kind", Noise)
def test_is_repeatable_and_of_unit_level(kind: Noise) -> None:
    wave = noise(kind, 2.0, RATE, seed=3)
    assert len(wave) == 2 * RATE
    assert np.sqrt((wave**2).mean()) == pytest.approx(1)
    assert np.array_equal(wave, noise(kind, 2.0, RATE, seed=3))
    assert not np.array_equal(wave, noise(kind, 2.0, RATE, seed=4))
    assert len(noise(kind, 0.0, RATE, seed=3)) == 0


def test_pink_has_equal_power_in_each_octave() -> None:
    wave = noise(Noise.PINK, 10.0, RATE, seed=1)
    octaves = [band(wave, low, 2 * low) for low in (125, 250, 500, 1000, 2000)]
    assert max(octaves) / min(octaves) < 1.3


def test_hum_is_low_and_grinder_high() -> None:
    assert band(noise(Noise.HUM, 4.0, RATE, seed=1), 40, 700) > 0.8
    assert band(noise(Noise.GRINDER, 4.0, RATE, seed=1), 2000, 8000) > 0.2


def test_hammer_comes_in_blows() -> None:
    wave = noise(Noise.HAMMER, 10.0, RATE, seed=1)
    frames = (wave.reshape(-1, 320) ** 2).mean(axis=1)
    blows = np.flatnonzero((frames[1:] > 4) & (frames[:-1] < 1))
    assert 10 <= len(blows) <= 35
