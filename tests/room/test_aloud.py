"""A virtual room made audible: both sides of the conversation come out of the loudspeaker, in order."""

import numpy as np

from benchvoice.room import RATE, PersonRoom
from benchvoice.room.aloud import PlayAloud
from benchvoice.room.loudspeaker import Loudspeaker
from benchvoice.room.portaudio import find_device

from .fake_audio import FakeAudio


def test_both_sides_are_played_in_their_order() -> None:
    audio = FakeAudio()
    answers = iter([np.full(640, 2000, np.int16), None])
    room = PlayAloud(
        PersonRoom(lambda: next(answers)), Loudspeaker(audio, find_device(audio, None, "loudspeaker"), RATE)
    )
    room.play(np.full(500, 1000, np.int16), RATE)
    assert len(list(room.blocks())) == 2
    room.play(np.full(500, 3000, np.int16), RATE)
    assert room.elapsed() == 1640 / RATE
    room.stop()
    room.close()
    heard = np.frombuffer(audio.outputs[0].heard, "<i2")
    assert heard[heard != 0].tolist() == [1000] * 500 + [2000] * 640 + [3000] * 500
    assert list(room.blocks()) == []
