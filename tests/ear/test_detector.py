import numpy as np

from benchvoice.ear.detector import FRAME, speech_detector


def probabilities(sound: np.ndarray) -> list[float]:
    detector = speech_detector()
    return [detector.probability(sound[at : at + FRAME]) for at in range(0, len(sound) - FRAME + 1, FRAME)]


def test_speech_is_found(speak) -> None:
    found = probabilities(speak("confirm the measurement"))
    assert np.mean(np.array(found) > 0.5) > 0.6


def test_zeros_noise_and_hammering_are_none() -> None:
    random = np.random.default_rng(3)
    seconds = 4 * 16_000
    noise = (random.normal(size=seconds) * 1500).astype(np.int16)
    blows = np.zeros(seconds)
    for at in range(2000, seconds - 3000, 7000):
        blows[at : at + 3000] += random.normal(size=3000) * 12_000 * np.exp(-np.arange(3000) / 400)
    for sound in (np.zeros(seconds, np.int16), noise, np.clip(blows, -32768, 32767).astype(np.int16)):
        assert max(probabilities(sound)) < 0.5


def test_reset_forgets(speak) -> None:
    sound = speak("confirm")[: 20 * FRAME]
    detector = speech_detector()
    frames = [sound[at : at + FRAME] for at in range(0, len(sound) - FRAME + 1, FRAME)]
    first = [detector.probability(frame) for frame in frames]
    detector.reset()
    assert [detector.probability(frame) for frame in frames] == first
