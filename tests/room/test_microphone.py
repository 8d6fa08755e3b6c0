"""The microphone, driven by hand: blocks, rates, deafness, loss and silence."""

import numpy as np
import pytest

from benchvoice.errors import MachineError
from benchvoice.room.microphone import Microphone
from benchvoice.room.port import BLOCK, DeviceLost, DeviceSilent
from benchvoice.room.portaudio import find_device

from .fake_audio import FakeAudio, InputStream


def opened(audio: FakeAudio | None = None, **settings: float | None) -> tuple[Microphone, InputStream]:
    """A microphone that loses patience quickly, and the stream the test gives it sound through."""
    audio = audio or FakeAudio()
    impatient = {"patience": 0.05, "start_patience": 0.05, **settings}
    microphone = Microphone(audio, find_device(audio, None, "microphone"), **impatient)  # type: ignore[arg-type]
    return microphone, audio.inputs[-1]


def block(value: int) -> bytes:
    return np.full(BLOCK, value, "<i2").tobytes()


def test_blocks_come_as_given() -> None:
    microphone, stream = opened()
    assert stream.settings["samplerate"] == 16000
    assert stream.settings["blocksize"] == BLOCK
    for value in (1, 2, 3):
        stream.give(block(value))
    blocks = microphone.blocks()
    assert [next(blocks) for _ in range(3)] == [block(1), block(2), block(3)]


def test_a_new_iterator_goes_on_where_the_last_stopped() -> None:
    microphone, stream = opened()
    for value in (1, 2):
        stream.give(block(value))
    assert next(microphone.blocks()) == block(1)
    assert next(microphone.blocks()) == block(2)


@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("rate", [44100, 48000])
def test_a_card_with_its_own_format_is_resampled_to_mono(rate: int, channels: int) -> None:
    refused = [(16000, 1), (16000, 2)] + ([(rate, 1)] if channels == 2 else [])
    microphone, stream = opened(FakeAudio([("Card", 2, 0)], rate=rate, refused=refused))
    assert (stream.settings["samplerate"], stream.settings["channels"]) == (rate, channels)
    time = np.arange(rate) / rate
    wave = np.round(8000 * np.sin(2 * np.pi * 440 * time)).astype("<i2")
    for start in range(0, rate, rate // 50):
        piece = wave[start : start + rate // 50]
        stream.give(np.repeat(piece, channels).tobytes())
    blocks = microphone.blocks()
    heard = np.frombuffer(b"".join(next(blocks) for _ in range(45)), "<i2")
    expected = 8000 * np.sin(2 * np.pi * 440 * np.arange(len(heard)) / 16000)
    assert np.corrcoef(heard[400:], expected[400:])[0, 1] > 0.999


def test_hears_nothing_while_deaf_nor_in_the_echo_after() -> None:
    microphone, stream = opened()
    stream.give(block(1))
    microphone.deafen()
    stream.give(block(2))
    microphone.hear_again(after=0)
    stream.give(block(3))
    assert next(microphone.blocks()) == block(3)
    microphone.hear_again(after=1000)
    stream.give(block(4))
    microphone.hear_again(after=0)
    stream.give(block(5))
    assert next(microphone.blocks()) == block(5)


def test_no_sound_from_the_start_is_a_loss() -> None:
    microphone, _ = opened()
    with pytest.raises(DeviceLost, match="'Microphone A' gives no sound any more; connect it again") as caught:
        next(microphone.blocks())
    assert caught.value.device == "microphone"
    assert isinstance(caught.value, MachineError)


def test_a_gap_is_a_loss_after_the_sound_before_it() -> None:
    microphone, stream = opened(start_patience=1000)
    stream.give(block(1))
    blocks = microphone.blocks()
    assert next(blocks) == block(1)
    with pytest.raises(DeviceLost):
        next(blocks)


def test_a_stream_that_ends_is_a_loss_at_once() -> None:
    microphone, stream = opened(patience=1000, start_patience=1000)
    stream.give(block(1))
    stream.die()
    blocks = microphone.blocks()
    assert next(blocks) == block(1)
    with pytest.raises(DeviceLost):
        next(blocks)


def test_exact_zeros_are_told_once_and_again_after_sound() -> None:
    microphone, stream = opened(silent_after=0.1)
    for _ in range(5):
        stream.give(block(0))
    with pytest.raises(DeviceSilent, match="only silence; is it muted"):
        [next(microphone.blocks()) for _ in range(5)]
    stream.give(block(0))
    assert next(microphone.blocks()) == block(0)
    stream.give(block(7))
    assert next(microphone.blocks()) == block(7)
    for _ in range(5):
        stream.give(block(0))
    with pytest.raises(DeviceSilent):
        [next(microphone.blocks()) for _ in range(5)]


def test_zeros_may_be_taken_for_silence() -> None:
    microphone, stream = opened(silent_after=None)
    for _ in range(200):
        stream.give(block(0))
    blocks = microphone.blocks()
    assert [next(blocks) for _ in range(200)] == [block(0)] * 200


def test_overflows_are_counted_and_the_oldest_sound_dropped() -> None:
    microphone, stream = opened()
    for number in range(1510):
        stream.give(block(number + 1), overflow=number == 3)
    assert microphone.faults == {"overflow": 1, "dropped": 10}
    assert next(microphone.blocks()) == block(11)


def test_closing_ends_the_blocks_and_may_be_repeated() -> None:
    microphone, stream = opened()
    stream.give(block(1))
    blocks = microphone.blocks()
    next(blocks)
    microphone.close()
    microphone.close()
    assert list(blocks) == []
    assert stream.closed == 1
