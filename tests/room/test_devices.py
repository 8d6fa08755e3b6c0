"""Microphone and loudspeaker together: speaking and listening never overlap, and a lost device comes back."""

import numpy as np
import pytest

from benchvoice.room.devices import DeviceRoom
from benchvoice.room.port import BLOCK, DeviceLost, NoDevice, Room, RoomError

from .fake_audio import FakeAudio

PROMPT = np.full(2000, 1000, np.int16)


def block(value: int) -> bytes:
    return np.full(BLOCK, value, "<i2").tobytes()


def test_the_prompt_is_not_heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("benchvoice.room.devices._ECHO_S", 0.0)
    audio = FakeAudio()
    room: Room = DeviceRoom(audio=audio)
    audio.inputs[0].give(block(1))
    played = audio.outputs[0]
    start = played.start
    played.start = lambda: (audio.inputs[0].give(block(2)), start())[1]  # type: ignore[method-assign]
    room.play(PROMPT, 22050)
    audio.inputs[0].give(block(3))
    assert next(room.blocks()) == block(3)
    assert PROMPT.tobytes() in bytes(played.heard)
    room.close()


def test_named_devices_are_opened() -> None:
    audio = FakeAudio([("Mic A", 1, 0), ("Mic B", 1, 0), ("Speaker A", 0, 1), ("Speaker B", 0, 1)])
    room = DeviceRoom("mic a", "speaker a", audio=audio)
    assert audio.inputs[0].settings["device"] == 0
    assert audio.outputs[0].settings["device"] == 2
    room.close()


def test_no_stream_stays_open_when_a_device_is_missing() -> None:
    audio = FakeAudio([("Mic", 1, 0), ("Speaker", 0, 1)], refused=[(16000, 1), (48000, 1)])
    audio.check_output_settings = lambda **_: None  # type: ignore[method-assign,assignment]
    with pytest.raises(NoDevice):
        DeviceRoom(audio=audio)
    assert all(stream.closed for stream in audio.outputs)
    with pytest.raises(RoomError):
        DeviceRoom("nobody", audio=FakeAudio())


def test_a_lost_microphone_is_found_again_by_its_name() -> None:
    audio = FakeAudio([("Mic", 1, 0), ("Speaker", 0, 1)])
    room = DeviceRoom("mic", "speaker", audio=audio)
    audio.inputs[0].give(block(1), overflow=True)
    audio.inputs[0].die()
    with pytest.raises(DeviceLost):
        [*room.blocks()]
    audio.devices = [("Speaker", 0, 1)]
    for _ in range(2):
        with pytest.raises(NoDevice):
            room.reopen()
    audio.devices = [("Other", 1, 1), ("Speaker", 0, 1), ("Mic", 1, 0)]
    room.reopen()
    audio.inputs[-1].give(block(2))
    assert next(room.blocks()) == block(2)
    assert audio.inputs[-1].settings["device"] == 2
    assert audio.calls == ["terminate", "initialize"] * 3
    assert room.faults == {"overflow": 1}
    room.close()


def test_time_passes_and_stop_is_allowed_at_rest() -> None:
    room = DeviceRoom(audio=FakeAudio())
    first = room.elapsed()
    room.stop()
    assert 0 <= first <= room.elapsed() < 60
    room.close()
    assert list(room.blocks()) == []
