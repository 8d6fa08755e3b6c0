"""Noises of a workshop, made by numpy from a seed: the same seed, the same noise. All are scaled to unit RMS.

They are made from what such sounds are known to consist of, not measured from any machine: a hum of mains harmonics
over the rush of a fan, hammer blows as bursts of decaying resonances, a grinder as a buzzing motor with broad hiss
that rises when it bites.
"""

from collections.abc import Callable
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Wave = NDArray[np.float64]


class Noise(StrEnum):
    """What a workshop sounds like."""

    PINK = "pink"
    HUM = "hum"
    HAMMER = "hammer"
    GRINDER = "grinder"
    SHOP = "shop"


def noise(kind: Noise, seconds: float, rate: int, seed: int) -> Wave:
    """So many seconds of a noise, with an RMS of 1; SHOP is hum, hammer and a distant grinder together."""
    count = round(seconds * rate)
    return _unit(_MAKERS[kind](count, rate, np.random.default_rng(seed))) if count else np.zeros(0)


def _unit(wave: Wave) -> Wave:
    unit: Wave = wave / np.sqrt(np.mean(wave**2))
    return unit


def _pink(count: int, rate: int, random: np.random.Generator) -> Wave:
    """Noise whose power falls by 3 dB an octave: white noise shaped by 1/sqrt(f)."""
    spectrum = np.fft.rfft(random.standard_normal(count))
    steps = np.arange(len(spectrum), dtype=float)
    steps[:1] = 1
    return np.fft.irfft(spectrum / np.sqrt(steps), count)


def _hum(count: int, rate: int, random: np.random.Generator) -> Wave:
    """Mains hum at 50 Hz, its harmonics each 6 dB down an octave, and a fan 6 dB under it."""
    time = np.arange(count) / rate
    wave = np.zeros(count)
    for harmonic in range(1, 13):
        wave += np.sin(2 * np.pi * 50 * harmonic * time + random.uniform(0, 2 * np.pi)) / harmonic
    return _unit(wave) + 0.5 * _unit(_pink(count, rate, random))


def _hammer(count: int, rate: int, random: np.random.Generator) -> Wave:
    """Blows every 0.3 to 0.8 s: five decaying resonances of 600 to 5500 Hz behind a short burst of noise."""
    length = rate // 4
    wave = np.zeros(count + length)
    time = np.arange(length) / rate
    start = 0
    while start < count:
        for _ in range(5):
            ring = np.sin(2 * np.pi * random.uniform(600, 5500) * time + random.uniform(0, 2 * np.pi))
            wave[start : start + length] += random.uniform(0.3, 1) * ring * np.exp(-time / random.uniform(0.01, 0.06))
        burst = rate // 200
        wave[start : start + burst] += 2 * random.standard_normal(burst)
        start += round(rate * random.uniform(0.3, 0.8))
    return wave[:count]


def _grinder(count: int, rate: int, random: np.random.Generator) -> Wave:
    """A motor of 170 to 190 Hz that sags as it bites, with harmonics, and hiss that swells with each bite."""
    time = np.arange(count) / rate
    bite = 0.5 + 0.5 * np.sin(2 * np.pi * random.uniform(0.2, 0.5) * time + random.uniform(0, 2 * np.pi))
    phase = 2 * np.pi * np.cumsum(random.uniform(170, 190) * (1 - 0.1 * bite)) / rate
    motor = np.zeros(count)
    for harmonic in range(1, 20):
        motor += np.sin(harmonic * phase + random.uniform(0, 2 * np.pi)) / np.sqrt(harmonic)
    hiss = np.diff(random.standard_normal(count + 1))  # rising by 6 dB an octave
    return _unit(motor) + 0.7 * _unit(hiss) * (0.3 + 0.7 * bite)


def _shop(count: int, rate: int, random: np.random.Generator) -> Wave:
    """A hum near by, hammering 3 dB under it, a grinder 10 dB under it."""
    parts = ((_hum, 1.0), (_hammer, 0.7), (_grinder, 0.3))
    return sum((level * _unit(maker(count, rate, random)) for maker, level in parts), np.zeros(count))


_MAKERS: dict[Noise, Callable[[int, int, np.random.Generator], Wave]] = {
    Noise.PINK: _pink,
    Noise.HUM: _hum,
    Noise.HAMMER: _hammer,
    Noise.GRINDER: _grinder,
    Noise.SHOP: _shop,
}
