"""The loudspeaker, over a device that plays as fast as it is given sound."""

import threading

import numpy as np
import pytest

from benchvoice.room.loudspeaker import Loudspeaker
from benchvoice.room.port import DeviceLost
from benchvoice.room.portaudio import find_device

from .fake_audio import FakeAudio, OutputStream

SOUND = np.arange(1, 3001, dtype=np.int16)


def opened(audio: FakeAudio | None = None, rate: int = 22050) -> tuple[Loudspeaker, OutputStream]:
    audio = audio or FakeAudio()
    loudspeaker = Loudspeaker(audio, find_device(audio, None, "loudspeaker"), rate, patience=0.1, start_patience=0.2)
    return loudspeaker, audio.outputs[-1]


def test_plays_every_sample_before_it_returns() -> None:
    loudspeaker, stream = opened()
    loudspeaker.play(SOUND, 22050)
    loudspeaker.close()
    assert stream.sound() == SOUND.astype("<i2").tobytes().strip(b"\0")
    assert stream.settings["latency"] >= 0.06


def test_prompts_follow_one_another() -> None:
    loudspeaker, stream = opened()
    loudspeaker.play(SOUND[:100], 22050)
    loudspeaker.play(SOUND[100:200], 22050)
    loudspeaker.close()
    heard = np.frombuffer(stream.heard, "<i2")
    assert heard[heard != 0].tolist() == SOUND[:200].tolist()


def test_no_sound_is_no_wait() -> None:
    loudspeaker, stream = opened()
    stream.hold.clear()
    loudspeaker.play(SOUND[:0], 22050)
    loudspeaker.close()


def test_a_card_with_its_own_format_gets_it() -> None:
    loudspeaker, stream = opened(FakeAudio(refused=[(22050, 1), (22050, 2), (48000, 1)]))
    assert (stream.settings["samplerate"], stream.settings["channels"]) == (48000, 2)
    wave = np.round(8000 * np.sin(2 * np.pi * 440 * np.arange(6615) / 22050)).astype(np.int16)
    loudspeaker.play(wave, 22050)
    loudspeaker.close()
    heard = np.frombuffer(stream.heard, "<i2").reshape(-1, 2)
    assert (heard[:, 0] == heard[:, 1]).all()
    start = int(np.argmax(np.abs(heard[:, 0]) > 0))
    mono = heard[start : start + 14000, 0].astype(float)
    spectrum = np.abs(np.fft.rfft(mono))
    assert spectrum.argmax() * 48000 / len(mono) == pytest.approx(440, abs=4)


def test_pieces_fed_at_another_rate_all_arrive() -> None:
    loudspeaker, stream = opened()
    for _ in range(50):
        loudspeaker.feed(np.full(320, 1000, np.int16), 16000)
    loudspeaker.play(SOUND[:0], 22050)
    loudspeaker.close()
    heard = np.frombuffer(stream.heard, "<i2")
    assert (np.abs(heard - 1000.0) < 20).sum() == pytest.approx(
        22050, abs=0.03 * 22050
    )  # the resampler's tail is held back


def test_stop_makes_play_return_and_the_next_prompt_is_whole() -> None:
    loudspeaker, stream = opened()
    loudspeaker.play(SOUND[:10], 22050)
    stream.hold.clear()
    playing = threading.Thread(target=loudspeaker.play, args=(SOUND, 22050))
    playing.start()
    loudspeaker.stop()
    playing.join(5)
    assert not playing.is_alive()
    stream.hold.set()
    stream.heard.clear()
    loudspeaker.play(SOUND, 22050)
    loudspeaker.close()
    assert stream.sound().endswith(SOUND[-100:].astype("<i2").tobytes())


def test_a_device_that_takes_nothing_is_lost() -> None:
    loudspeaker, stream = opened()
    stream.hold.clear()
    with pytest.raises(DeviceLost, match="'Loudspeaker A' is gone; connect it again") as caught:
        loudspeaker.play(SOUND, 22050)
    assert caught.value.device == "loudspeaker"
    loudspeaker.close()


def test_a_device_that_died_between_prompts_is_lost() -> None:
    loudspeaker, stream = opened()
    loudspeaker.play(SOUND[:10], 22050)
    stream.die()
    with pytest.raises(DeviceLost):
        loudspeaker.play(SOUND, 22050)
    loudspeaker.close()


def test_a_device_that_does_not_start_is_lost() -> None:
    loudspeaker, stream = opened()
    stream.refuse = True
    with pytest.raises(DeviceLost):
        loudspeaker.play(SOUND, 22050)
    loudspeaker.close()


def test_closing_may_be_repeated() -> None:
    loudspeaker, stream = opened()
    loudspeaker.play(SOUND[:10], 22050)
    loudspeaker.close()
    loudspeaker.close()
    assert stream.closed == 1
