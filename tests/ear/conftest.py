"""The shipped model, loaded once, and a voice to speak to it."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soxr

from benchvoice.ear.decode import RATE, Samples
from benchvoice.ear.model import Model, find_model, load_model
from benchvoice.voice.engine import Voice

Speak = Callable[..., Samples]


@pytest.fixture(scope="session")
def shipped() -> Path:
    return find_model()


@pytest.fixture(scope="session")
def model(shipped: Path) -> Model:
    return load_model(shipped)


@pytest.fixture(scope="session")
def speak() -> Speak:
    """Synthetic speech at 16 kHz, at a level as from a microphone."""

    def say(text: str, voice: str = "en-us", rate: int = 150) -> Samples:
        sound = Voice(voice, rate).say_to_buffer(text)
        quiet = sound.samples.astype(np.float32) / 32768 * 0.3
        return (soxr.resample(quiet, sound.rate, RATE) * 32767).astype(np.int16)

    return say


@pytest.fixture
def silence() -> Callable[[float], Samples]:
    return lambda seconds: np.zeros(round(seconds * RATE), np.int16)
