"""Kaldi's cepstra with the options that packed models have (`benchvoice.ear.pack.directory.FEATURES`), in numpy.

Frames of 25 ms every 10 ms; mean taken off, pre-emphasis 0.97, Povey's window, power spectrum of 512 points, 40
triangles from 20 to 7,600 Hz on the scale 1127 ln(1 + f / 700), log, cosine transform, lifter 22 (Kaldi's feature
code, `feature-window`, `mel-computations`, `feature-mfcc`).
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np

from benchvoice.ear.decode import NOISE, QUIET_AFTER, QUIET_BEFORE, Samples
from benchvoice.ear.gain import levelled
from benchvoice.ear.layout import ModelError
from benchvoice.ear.pack.directory import FEATURES
from benchvoice.ear.pack.kaldi import Floats

WINDOW, HOP, FFT, BINS = 400, 160, 512, 40
_RATE, _LOW, _HIGH, _LIFTER = 16_000, 20.0, 7600.0, 22.0
_FLOOR = float(np.finfo(np.float32).eps)


def refuse_other_features(model: Path) -> None:
    """ModelError when a model hears through other features than these."""
    try:
        lines = (model / "conf/mfcc.conf").read_text(encoding="utf-8").split()
    except OSError as fault:
        raise ModelError(f"{model / 'conf/mfcc.conf'} can't be read ({fault.strerror}).") from fault
    if sorted(lines) != sorted(f"--{name}={value}" for name, value in FEATURES.items()):
        raise ModelError(f"The speech model {model} has features that can't be fitted; fit one that was packed here.")


@cache
def _filters() -> Floats:
    def mel(frequency: np.ndarray) -> np.ndarray:
        return np.asarray(1127.0 * np.log1p(frequency / 700.0))

    bins = mel(np.arange(FFT // 2) * _RATE / FFT)
    low, high = mel(np.array([_LOW, _HIGH]))
    edges = low + (high - low) * np.arange(BINS + 2) / (BINS + 1)
    rise = (bins[:, None] - edges[:-2]) / (edges[1:-1] - edges[:-2])
    fall = (edges[2:] - bins[:, None]) / (edges[2:] - edges[1:-1])
    return np.asarray(np.maximum(np.minimum(rise, fall), 0), np.float32)


@cache
def _cosines() -> Floats:
    i = np.arange(BINS)
    matrix = np.cos(np.pi / BINS * (i[:, None] + 0.5) * i) * np.sqrt(2.0 / BINS)
    matrix[:, 0] = np.sqrt(1.0 / BINS)
    return np.asarray(matrix * (1 + 0.5 * _LIFTER * np.sin(np.pi * i / _LIFTER)), np.float32)


@cache
def _window() -> Floats:
    return np.asarray((0.5 - 0.5 * np.cos(2 * np.pi * np.arange(WINDOW) / (WINDOW - 1))) ** 0.85, np.float32)


def cepstra(samples: Samples) -> Floats:
    """(frames, 40) of int16 samples at 16 kHz; a sound shorter than a frame has none."""
    if len(samples) < WINDOW:
        return np.zeros((0, BINS), np.float32)
    frames = np.lib.stride_tricks.sliding_window_view(samples.astype(np.float32), WINDOW)[::HOP]
    frames = frames - frames.mean(axis=1, keepdims=True)
    before = np.concatenate([frames[:, :1], frames[:, :-1]], axis=1)
    spectrum = np.fft.rfft((frames - np.float32(0.97) * before) * _window(), FFT)[:, : FFT // 2]
    power = (spectrum.real**2 + spectrum.imag**2).astype(np.float32)
    return np.asarray(np.log(np.maximum(power @ _filters(), _FLOOR)) @ _cosines(), np.float32)


def as_decoded(samples: Samples) -> Samples:
    """A clip as loud, with the near-silence round it and the little noise in it, as `benchvoice.ear.decode` has it."""
    before, after = (np.zeros(length, np.int16) for length in (QUIET_BEFORE, QUIET_AFTER))
    padded = np.concatenate([before, levelled(samples), after])
    noisy = padded.astype(np.int32) + np.random.default_rng(0).integers(-NOISE, NOISE + 1, len(padded))
    return np.asarray(np.clip(noisy, -32768, 32767), np.int16)
