"""Sound put together: levels, speech in noise, and a simple room round it. Levels are dB of full scale (dBFS)."""

import numpy as np

from benchvoice.room.noise import Wave
from benchvoice.room.port import Samples

FULL_SCALE = 32767
_FRAME_S = 0.02
_ACTIVE_DB = 30  # frames within so much of the loudest are speech; quieter ones are its pauses
_HEADROOM_DB = -1.0


def speech_level(samples: Samples, rate: int) -> float:
    """RMS level in dBFS over the 20 ms frames that hold speech; minus infinity for silence.

    Pauses are left out, so that a slow speaker is not taken for a soft one.
    """
    frame = round(_FRAME_S * rate)
    count = len(samples) // frame
    if count == 0:
        frame, count = max(1, len(samples)), min(1, len(samples))
    power = (samples[: count * frame].astype(float).reshape(count, frame) ** 2).mean(axis=1) if count else np.zeros(1)
    if power.max() == 0:
        return float("-inf")
    active = power[power >= power.max() * 10 ** (-_ACTIVE_DB / 10)]
    return float(10 * np.log10(active.mean() / FULL_SCALE**2))


def at_level(samples: Samples, rate: int, dbfs: float) -> Samples:
    """The same speech at that level; silence stays silence. What would be louder than full scale is lowered whole."""
    level = speech_level(samples, rate)
    if level == float("-inf"):
        return samples
    return _to_samples(samples.astype(np.float64) * 10 ** ((dbfs - level) / 20))


def with_noise(speech: Samples, noise: Wave, snr_db: float, rate: int) -> Samples:
    """Speech with noise of unit RMS under it, so many dB below the speech's active level.

    The noise is repeated or cut to the speech's length. Lowered whole where it would clip.
    """
    level = speech_level(speech, rate)
    if level == float("-inf"):
        return speech
    gain = 10 ** ((level - snr_db) / 20) * FULL_SCALE
    return _to_samples(speech + gain * np.resize(noise, len(speech)))


def noise_alone(noise: Wave, dbfs: float) -> Samples:
    """Noise of unit RMS at a level."""
    return _to_samples(noise * 10 ** (dbfs / 20) * FULL_SCALE)


def with_pauses(samples: Samples, rate: int, before: float, after: float) -> Samples:
    """The sound with so many seconds of silence round it."""
    return np.pad(samples, (round(before * rate), round(after * rate)))


def in_room(samples: Samples, rate: int, decay_s: float, seed: int, wet: float = 0.15) -> Samples:
    """The sound in a simple room: a tail of noise that decays by 60 dB in decay_s, `wet` times the direct sound.

    Longer than the sound by decay_s. An exponential tail is what a diffuse field leaves (Polack's model).
    """
    count = round(decay_s * rate)
    tail = np.random.default_rng(seed).standard_normal(count) * np.exp(-np.log(1000) * np.arange(count) / max(1, count))
    response = np.concatenate([[1.0], wet * tail])
    length = len(samples) + len(response) - 1
    spectrum = np.fft.rfft(samples, length) * np.fft.rfft(response, length)
    return _to_samples(np.fft.irfft(spectrum, length))


def _to_samples(wave: Wave) -> Samples:
    """Rounded to int16; lowered whole where its peak would pass 1 dB under full scale."""
    peak = float(np.abs(wave).max()) if len(wave) else 0.0
    most = FULL_SCALE * 10 ** (_HEADROOM_DB / 20)
    return np.round(wave * min(1.0, most / peak) if peak > 0 else wave).astype(np.int16)
