"""Levels and mixing, against what they are defined to be."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.room.mixing import at_level, in_room, noise_alone, speech_level, with_noise, with_pauses
from benchvoice.room.noise import Noise, noise

RATE = 16000
TONE = np.round(10000 * np.sin(2 * np.pi * 400 * np.arange(RATE) / RATE)).astype(np.int16)


def rms_db(samples: np.ndarray) -> float:
    return float(10 * np.log10((samples.astype(float) ** 2).mean() / 32767**2))


def test_level_of_a_sine_is_its_rms() -> None:
    assert speech_level(TONE, RATE) == pytest.approx(20 * np.log10(10000 / 32767 / np.sqrt(2)), abs=0.01)


def test_pauses_do_not_lower_the_level() -> None:
    assert speech_level(with_pauses(TONE, RATE, 1.0, 2.0), RATE) == pytest.approx(speech_level(TONE, RATE), abs=0.01)
    assert len(with_pauses(TONE, RATE, 1.0, 2.0)) == 4 * RATE


@pytest.mark.parametrize("samples", [TONE[:0], TONE[:0].repeat(3), np.zeros(1000, np.int16)])
def test_silence_has_no_level_and_stays(samples: np.ndarray) -> None:
    assert speech_level(samples, RATE) == float("-inf")
    assert np.array_equal(at_level(samples, RATE, -20), samples)
    assert np.array_equal(with_noise(samples, noise(Noise.PINK, 1, RATE, 1), 10, RATE), samples)


def test_a_sound_shorter_than_a_frame_has_a_level() -> None:
    assert speech_level(TONE[:100], RATE) > -20


@given(st.floats(-60, -10))
def test_at_level_is_at_that_level(dbfs: float) -> None:
    assert speech_level(at_level(TONE, RATE, dbfs), RATE) == pytest.approx(dbfs, abs=0.1)


@pytest.mark.parametrize("snr", [0, 10, 20])
@pytest.mark.parametrize("kind", Noise)
def test_noise_is_so_far_below_the_speech(snr: int, kind: Noise) -> None:
    speech = at_level(TONE, RATE, -30)
    mixed = with_noise(speech, noise(kind, 0.5, RATE, seed=1), snr, RATE)  # shorter than the speech: repeated
    assert rms_db(speech) - rms_db(mixed.astype(int) - speech) == pytest.approx(snr, abs=0.2)


def test_nothing_clips() -> None:
    loud = with_noise(at_level(TONE, RATE, -4), noise(Noise.HAMMER, 1, RATE, seed=1), 0, RATE)
    assert 29000 < np.abs(loud.astype(int)).max() < 29300
    assert np.abs(noise_alone(noise(Noise.HAMMER, 1, RATE, seed=1), 0).astype(int)).max() < 29300
    assert rms_db(noise_alone(noise(Noise.PINK, 1, RATE, seed=1), -40)) == pytest.approx(-40, abs=0.1)


def test_a_room_adds_a_tail_that_decays() -> None:
    click = np.zeros(RATE // 10, np.int16)
    click[0] = 20000
    wet = in_room(click, RATE, decay_s=0.4, seed=1)
    assert len(wet) == len(click) + round(0.4 * RATE)
    assert wet[0] == 20000
    tail = wet[: RATE * 4 // 10].astype(float)
    early, late = tail[800:1600], tail[4800:5600]  # 0.25 s apart: 60 dB in 0.4 s is 37.5 dB
    assert rms_db(early) - rms_db(late) == pytest.approx(37.5, abs=4)
    assert np.array_equal(in_room(TONE, RATE, 0.2, seed=1), in_room(TONE, RATE, 0.2, seed=1))
