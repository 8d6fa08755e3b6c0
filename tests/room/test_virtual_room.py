"""Our devices, for real, in a virtual room: PortAudio and PulseAudio, a prompt out and a person in.

Times in a virtual room are good to some 50 ms, so the sound itself is compared, by correlation.
"""

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from benchvoice.room import RATE, Samples, read_sound
from benchvoice.room.resampling import resample
from benchvoice.testing.room import VirtualSoundRoom, missing, virtual_room
from benchvoice.voice import Voice

pytestmark = pytest.mark.room

PROMPT = "Main one, oil clearance."
ANSWER = "two and a quarter thou"


@pytest.fixture(scope="module", autouse=True)
def _possible() -> None:
    lacking = missing()
    if lacking and os.environ.get("CI") == "true":
        pytest.fail(lacking)
    if lacking:
        pytest.skip(lacking)


@pytest.fixture(scope="module")
def room() -> Iterator[VirtualSoundRoom]:
    with virtual_room(echo_ms=60) as running:
        yield running


SPEAK_THEN_LISTEN = """
import sys, wave
import numpy as np
from benchvoice.room import DeviceRoom
from benchvoice.voice import Voice
prompt = Voice().say_to_buffer(sys.argv[1])
np.save(sys.argv[3], prompt.samples)
room = DeviceRoom()
room.play(prompt.samples, prompt.rate)
print("listening", flush=True)
blocks = room.blocks()
with wave.open(sys.argv[2], "wb") as file:
    file.setnchannels(1); file.setsampwidth(2); file.setframerate(16000)
    for _ in range(200):
        file.writeframes(next(blocks))
print(dict(room.faults), flush=True)
room.close()
"""

LISTEN = """
from benchvoice.room import DeviceRoom, DeviceLost
import time
room = DeviceRoom()
next(room.blocks())
print("listening", flush=True)
for _ in range(2):
    began = time.monotonic()
    try:
        for block in room.blocks(): pass
    except DeviceLost as error:
        print(type(error).__name__, error.device, round(time.monotonic() - began, 1), error, flush=True)
room.close()
print("closed", flush=True)
"""


def likeness(record: Samples, sound: Samples) -> tuple[float, float]:
    """Greatest correlation of a sound with any part of a record, and where that begins in seconds."""
    size = 1 << (len(record) + len(sound)).bit_length()
    spectrum = np.fft.rfft(record.astype(float), size) * np.conj(np.fft.rfft(sound.astype(float), size))
    lag = int(np.argmax(np.fft.irfft(spectrum, size)[: len(record)]))
    part = record[lag : lag + len(sound)].astype(float)
    wanted = sound[: len(part)].astype(float)
    return float(part @ wanted / np.sqrt((part @ part) * (wanted @ wanted) + 1e-9)), lag / RATE


def finish(process: "subprocess.Popen[str]") -> str:
    out, err = process.communicate(timeout=30)
    assert process.returncode == 0, err
    return out


def test_a_prompt_goes_out_whole_and_the_answer_comes_in_whole(room: VirtualSoundRoom, tmp_path: Path) -> None:
    answer = Voice("en-gb+f3").say_to_buffer(ANSWER)
    files = [str(tmp_path / "heard.wav"), str(tmp_path / "prompt.npy")]
    process = room.start([sys.executable, "-c", SPEAK_THEN_LISTEN, PROMPT, *files])
    assert process.stdout is not None
    spoken_s = room.wait_for_prompt()
    assert process.stdout.readline() == "listening\n"
    room.say(answer.samples, answer.rate)
    faults = finish(process)

    prompt = resample(np.load(tmp_path / "prompt.npy"), answer.rate, RATE)
    assert 0.6 < spoken_s / (len(prompt) / RATE) < 1.2
    likeness_out, _ = likeness(room.speaker.sound(), prompt)
    assert likeness_out > 0.9  # a hole or a doubled block costs more
    assert faults == "{}\n"

    heard = read_sound(tmp_path / "heard.wav")
    assert len(heard) == 200 * 320
    likeness_in, at = likeness(heard, resample(answer.samples, answer.rate, RATE))
    assert likeness_in > 0.9
    print(f"correlation: prompt out {likeness_out:.3f}, answer in {likeness_in:.3f}")
    before = heard[: round(max(0.0, at - 0.05) * RATE)].astype(float)
    assert np.sqrt((before**2).mean()) < 100, "the prompt's echo was listened to"


def test_silence_and_then_the_loss_of_every_device_are_noticed() -> None:
    with virtual_room(murmur=False) as room:
        process = room.start([sys.executable, "-c", LISTEN])
        assert process.stdout is not None
        assert process.stdout.readline() == "listening\n"
        silent = process.stdout.readline()
        room.kill_server()
        rest = finish(process)
    assert silent.startswith("DeviceSilent microphone 2.0")
    lost, closed = rest.splitlines()
    assert lost.startswith("DeviceLost microphone ")
    assert float(lost.split()[2]) < 1.5
    assert closed == "closed"
