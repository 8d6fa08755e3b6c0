"""Made noises of a workshop: impact wrench, grinder, compressor, air, hammering, motors, hum. Own work, CC0."""

from multiprocessing import Pool

import numpy as np
from shards import RATE

Random = np.random.Generator


def coloured(r: Random, n: int, slope: float) -> np.ndarray:
    """Noise whose power falls as 1/f^slope, unit deviation."""
    f = np.maximum(np.fft.rfftfreq(n, 1 / RATE), 30)
    x = np.fft.irfft(np.fft.rfft(r.standard_normal(n)) * f ** (-slope / 2), n)
    return x / x.std()


def band(r: Random, n: int, low: float, high: float) -> np.ndarray:
    """Noise between two frequencies in Hz."""
    f = np.maximum(np.fft.rfftfreq(n, 1 / RATE), 1)
    x = np.fft.irfft(np.fft.rfft(r.standard_normal(n)) / (1 + (low / f) ** 6) / (1 + (f / high) ** 6), n)
    return x / (x.std() + 1e-9)


def strike(r: Random, n: int) -> np.ndarray:
    """One blow on metal: decaying partials and a click."""
    t = np.arange(n) / RATE
    x = r.standard_normal(n) * np.exp(-t / r.uniform(0.001, 0.02)) * r.uniform(0, 2)
    for _ in range(r.integers(3, 12)):
        pitch, decay = np.exp(r.uniform(np.log(250), np.log(7500))), np.exp(r.uniform(np.log(0.003), np.log(0.25)))
        x += r.random() * np.sin(2 * np.pi * pitch * t + 6 * r.random()) * np.exp(-t / decay)
    return x


def whine(r: Random, n: int, pitch: float, partials: int, drift: float) -> np.ndarray:
    """A rotating machine: harmonics of a slowly wandering pitch."""
    wander = np.cumsum(r.standard_normal(n // 160 + 2)).repeat(160)[:n] / 10
    phase = 2 * np.pi * np.cumsum(pitch * (1 + drift * wander)) / RATE
    fall = r.uniform(0.2, 1.5)
    x = np.zeros(n)
    for k in range(1, partials + 1):
        if pitch * k < 7800:
            x += r.random() * k**-fall * np.sin(k * phase + 6 * r.random())
    return x


def blows(r: Random, n: int, times: np.ndarray, same: bool) -> np.ndarray:
    """Strikes at the given seconds; `same` repeats one sound, as an impact wrench does."""
    x, one = np.zeros(n), strike(r, 6000)
    for t in times:
        i = int(t * RATE)
        blow = one if same else strike(r, 6000)
        x[i : i + 6000] += blow[: max(0, n - i)] * r.uniform(0.3, 1)
    return x


def gate(r: Random, n: int, low: float, high: float) -> np.ndarray:
    """On and off with a period between low and high seconds."""
    t = np.arange(n) / RATE
    return (np.sin(2 * np.pi * t / r.uniform(low, high) + 6 * r.random()) > r.uniform(-0.9, 0.5)) * 0.97 + 0.03


def wrench(r: Random, n: int) -> np.ndarray:
    times = np.arange(0, n / RATE, 1 / r.uniform(12, 40))
    x = blows(r, n, np.clip(times + r.normal(0, 0.002, len(times)), 0, None), True)
    return (x + band(r, n, 300, 5000) * 0.1 + whine(r, n, r.uniform(100, 400), 10, 0.02) * 0.1) * gate(r, n, 1, 5)


def grinder(r: Random, n: int) -> np.ndarray:
    x = band(r, n, r.uniform(400, 2000), r.uniform(3500, 7900)) + whine(
        r, n, r.uniform(150, 700), 12, 0.02
    ) * r.uniform(0.2, 1.5)
    return (
        x
        * (1 + 0.5 * np.sin(2 * np.pi * r.uniform(0.2, 3) * np.arange(n) / RATE))
        * (gate(r, n, 2, 8) if r.random() < 0.5 else 1)
    )


def compressor(r: Random, n: int) -> np.ndarray:
    f = r.uniform(8, 30)
    x = coloured(r, n, 1.2) + whine(r, n, f * r.integers(1, 6), 30, 0.005)
    return x * (1 + 0.8 * np.sin(2 * np.pi * f * np.arange(n) / RATE))


def clatter(r: Random, n: int) -> np.ndarray:
    gap = np.exp(r.uniform(np.log(0.03), np.log(1.5)))
    times = np.cumsum(r.exponential(gap, int(n / RATE / gap) + 1))
    return coloured(r, n, 1) * 0.03 + blows(r, n, times[times < n / RATE - 0.4], False)


def air(r: Random, n: int) -> np.ndarray:
    return band(r, n, r.uniform(500, 3000), 7900) * gate(r, n, 0.5, 4)


def motor(r: Random, n: int) -> np.ndarray:
    return whine(r, n, np.exp(r.uniform(np.log(30), np.log(500))), 25, 0.02) + coloured(r, n, 1) * r.uniform(0.1, 1)


def hum(r: Random, n: int) -> np.ndarray:
    return whine(r, n, r.choice([50, 60, 100, 120]), 30, 0) + coloured(r, n, 1) * r.uniform(0.02, 0.5)


def beep(r: Random, n: int) -> np.ndarray:
    t = np.arange(n) / RATE
    return np.sin(2 * np.pi * r.uniform(400, 3500) * t) * gate(r, n, 0.3, 2) + coloured(r, n, 1) * r.uniform(0.02, 0.3)


def saw(r: Random, n: int) -> np.ndarray:
    load = np.clip(np.convolve(np.repeat(r.random(n // 8000 + 1), 8000)[:n], np.ones(2000) / 2000, "same"), 0.05, 1)
    return (whine(r, n, r.uniform(80, 1200), 20, 0.03) + band(r, n, 1000, 7000) * r.uniform(0.3, 2)) * load


def plain(r: Random, n: int) -> np.ndarray:
    return coloured(r, n, r.uniform(-0.5, 2.5))


MAKERS = (wrench, wrench, grinder, grinder, compressor, clatter, clatter, air, motor, hum, beep, saw, plain, plain)


def make(seed: tuple[int, int], seconds: float = 10.0) -> np.ndarray:
    """One noise, int16."""
    r = np.random.default_rng(seed)
    x = MAKERS[r.integers(len(MAKERS))](r, int(seconds * RATE))
    return np.clip(x / (np.abs(x).max() + 1e-9) * 20_000, -32_767, 32_767).astype(np.int16)


def pool(seed: int, count: int) -> list[np.ndarray]:
    """`count` noises, made on all cores."""
    with Pool() as workers:
        return workers.map(make, [(seed, k) for k in range(count)])
