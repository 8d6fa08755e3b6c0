"""Tones must not click, must differ by rhythm, and must be where people hear them."""

import numpy as np
import pytest

from benchvoice.voice.tones import NOTES, Tone, tone


@pytest.mark.parametrize("kind", Tone)
@pytest.mark.parametrize("rate", [16000, 22050, 48000])
def test_is_short_and_at_its_loudness(kind: Tone, rate: int) -> None:
    sound = tone(kind, rate, loudness=0.5)
    assert sound.rate == rate
    assert sound.samples.dtype == np.int16
    assert 0.05 < sound.seconds < 0.8
    assert abs(int(np.abs(sound.samples).max()) / 32767 - 0.5) < 0.01
    expected = sum(note.ms + note.gap_ms for note in NOTES[kind]) / 1000
    assert abs(sound.seconds - expected) < 0.002


@pytest.mark.parametrize("kind", Tone)
def test_does_not_click(kind: Tone) -> None:
    samples = tone(kind, 22050, loudness=0.5).samples.astype(float) / 32767
    steepest = 2 * np.pi * 1600 / 22050 * 0.5  # of a sine of the highest pitch
    assert np.abs(np.diff(samples)).max() <= steepest
    assert samples[0] == 0
    assert np.abs(samples[-3:]).max() < 0.01


def test_no_two_have_the_same_rhythm() -> None:
    rhythms = [tuple((note.ms, note.gap_ms) for note in notes) for notes in NOTES.values()]
    assert len(set(rhythms)) == len(Tone)


def test_over_rises_and_under_falls() -> None:
    assert [note.hz for note in NOTES[Tone.OVER]] == sorted(note.hz for note in NOTES[Tone.OVER])
    assert [note.hz for note in NOTES[Tone.UNDER]] == sorted((note.hz for note in NOTES[Tone.UNDER]), reverse=True)


@pytest.mark.parametrize("kind", Tone)
def test_pitch_is_what_the_table_says(kind: Tone) -> None:
    rate = 16000
    samples = tone(kind, rate).samples
    start = 0
    for note in NOTES[kind]:
        count = rate * note.ms // 1000
        spectrum = np.abs(np.fft.rfft(samples[start : start + count], rate))
        assert abs(int(spectrum.argmax()) - note.hz) <= 3
        assert 400 <= note.hz <= 1600
        start += count + rate * note.gap_ms // 1000
