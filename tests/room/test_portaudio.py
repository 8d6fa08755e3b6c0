"""Devices are found by name, formats by what a card takes, and what is missing is said with its remedy."""

import os
import subprocess
import sys

import pytest

from benchvoice.errors import InputError, MachineError
from benchvoice.room.port import NoDevice, RoomError
from benchvoice.room.portaudio import Format, choose_format, find_device, list_devices

from .fake_audio import FakeAudio

DEVICES = [("Bench mic", 2, 0), ("Desk mic", 1, 0), ("Headset", 1, 2), ("Speaker", 0, 2)]


def test_lists_what_there_is() -> None:
    devices = list_devices(FakeAudio(DEVICES))
    assert [(device.name, device.inputs, device.outputs) for device in devices] == DEVICES
    assert devices[3].index == 3


@pytest.mark.parametrize(("name", "found"), [("bench", 0), ("DESK MIC", 1), ("headset", 2), (None, 2)])
def test_finds_a_microphone(name: str | None, found: int) -> None:
    assert find_device(FakeAudio(DEVICES), name, "microphone").index == found


def test_an_exact_name_wins_over_a_part() -> None:
    audio = FakeAudio([("USB Mic 2", 1, 0), ("USB Mic", 1, 0)])
    assert find_device(audio, "usb mic", "microphone").index == 1


def test_a_device_listed_twice_is_one() -> None:
    audio = FakeAudio([("USB Mic", 1, 0), ("USB Mic", 1, 0)])
    assert find_device(audio, "usb", "microphone").index == 0


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("nothing", "no microphone called 'nothing'; there is Bench mic, Desk mic, Headset."),
        ("mic", "say more of its name"),
    ],
)
def test_an_unknown_or_doubtful_name_names_the_choice(name: str, words: str) -> None:
    with pytest.raises(RoomError, match=words) as caught:
        find_device(FakeAudio(DEVICES), name, "microphone")
    assert isinstance(caught.value, InputError)


def test_no_device_at_all() -> None:
    with pytest.raises(NoDevice, match="There is no microphone; connect one") as caught:
        find_device(FakeAudio([("Speaker", 0, 2)]), None, "microphone")
    assert isinstance(caught.value, MachineError)


@pytest.mark.parametrize(
    ("refused", "chosen"),
    [
        ([], Format(16000, 1)),
        ([(16000, 1)], Format(16000, 2)),
        ([(16000, 1), (16000, 2)], Format(48000, 1)),
        ([(16000, 1), (16000, 2), (48000, 1)], Format(48000, 2)),
    ],
)
def test_takes_the_nearest_format_a_card_allows(refused: list[tuple[int, int]], chosen: Format) -> None:
    audio = FakeAudio(DEVICES, refused=refused)
    assert choose_format(audio, list_devices(audio)[0], "microphone", 16000) == chosen


def test_a_card_that_takes_nothing_says_why() -> None:
    audio = FakeAudio(DEVICES, refused=[(rate, channels) for rate in (16000, 48000) for channels in (1, 2)])
    with pytest.raises(NoDevice, match=r"'Bench mic' can't be opened \(Invalid sample rate\)"):
        choose_format(audio, list_devices(audio)[0], "microphone", 16000)


def run(code: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, env=dict(os.environ)
    )


@pytest.mark.parametrize(
    ("trick", "words"),
    [
        ("sys.modules['sounddevice'] = None", "pip install sounddevice"),
        ("import ctypes.util; ctypes.util.find_library = lambda name: None", "apt install libportaudio2"),
    ],
)
def test_what_is_missing_is_one_sentence_with_its_remedy(trick: str, words: str) -> None:
    if words.startswith("apt") and sys.platform != "linux":
        pytest.skip("the package brings PortAudio on this system")
    code = (
        f"import sys; {trick}\n"
        "from benchvoice.room import DeviceRoom, NoDevice\n"
        "try: DeviceRoom()\n"
        "except NoDevice as error: print(error)\n"
    )
    result = run(code)
    assert words in result.stdout
    assert result.stdout.count("\n") == 1
    assert result.stderr == ""


def test_importing_the_package_loads_no_sound_library() -> None:
    code = "import sys, benchvoice.room; print([n for n in ('sounddevice', 'soundfile', 'soxr') if n in sys.modules])"
    assert run(code).stdout == "[]\n"
