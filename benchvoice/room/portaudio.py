"""PortAudio through the package sounddevice: loaded only when a real device is wanted, and devices found by name.

The package brings PortAudio itself on macOS and Windows; on Linux the system has to. Importing it starts PortAudio,
which lists the devices once: after one was lost, `refresh` has it look again.
"""

import contextlib
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from benchvoice.room.port import NoDevice, RoomError

Kind = Literal["microphone", "loudspeaker"]


@dataclass(frozen=True, slots=True)
class Device:
    """A sound device as the system lists it: it may be both microphone and loudspeaker."""

    index: int
    name: str
    host: str
    inputs: int
    outputs: int
    rate: int

    def channels(self, kind: Kind) -> int:
        """How many channels it has as a microphone or as a loudspeaker."""
        return self.inputs if kind == "microphone" else self.outputs


@dataclass(frozen=True, slots=True)
class Format:
    """A rate (samples a second) and a number of channels that a device takes."""

    rate: int
    channels: int


def load() -> Any:
    """The module sounddevice, started; NoDevice with its remedy where PortAudio is missing."""
    try:
        with _quiet_stderr():
            import sounddevice
    except ImportError as error:
        raise NoDevice("Real sound needs the package sounddevice: pip install sounddevice") from error
    except OSError as error:
        raise NoDevice(
            "Real sound needs the PortAudio library: on Debian and Ubuntu, apt install libportaudio2 "
            "(elsewhere the system's package portaudio)."
        ) from error
    return sounddevice


def refresh(audio: Any) -> None:
    """Have PortAudio list the devices again. Every stream must be closed first."""
    with _quiet_stderr():
        audio._terminate()
        audio._initialize()


def list_devices(audio: Any) -> list[Device]:
    """Every device there is, in the system's order."""
    hosts = [host["name"] for host in audio.query_hostapis()]
    return [
        Device(
            index=index,
            name=entry["name"],
            host=hosts[entry["hostapi"]],
            inputs=entry["max_input_channels"],
            outputs=entry["max_output_channels"],
            rate=round(entry["default_samplerate"]),
        )
        for index, entry in enumerate(audio.query_devices())
    ]


def find_device(audio: Any, name: str | None, kind: Kind) -> Device:
    """The device of that name (or a unique part of it, in any case); without a name, the system's default.

    Raises NoDevice where there is none at all, RoomError where none or several have the name.
    """
    devices = [device for device in list_devices(audio) if device.channels(kind)]
    if not devices:
        raise NoDevice(f"There is no {kind}; connect one, or work without it.")
    if name is None:
        return _default(audio, devices, kind)
    exact = [device for device in devices if device.name.casefold() == name.casefold()]
    partly = [device for device in devices if name.casefold() in device.name.casefold()]
    names = list(dict.fromkeys(device.name for device in devices))
    found = exact or partly
    if not found:
        raise RoomError(f"There is no {kind} called {name!r}; there is {', '.join(names)}.")
    if len({device.name for device in found}) > 1:
        raise RoomError(
            f"Several a {kind} could be {name!r}: {', '.join(d.name for d in found)}; say more of its name."
        )
    return found[0]  # one device may be listed by several of the system's sound interfaces: the first will do


def _default(audio: Any, devices: list[Device], kind: Kind) -> Device:
    """The system's default; where it names none, the first there is."""
    try:
        name = audio.query_devices(kind="input" if kind == "microphone" else "output")["name"]
    except (audio.PortAudioError, ValueError):
        return devices[0]
    return next((device for device in devices if device.name == name), devices[0])


def choose_format(audio: Any, device: Device, kind: Kind, rate: int) -> Format:
    """The format nearest to mono at `rate` that the device takes: real cards often refuse both.

    Raises NoDevice with what the system says where it takes none.
    """
    check = audio.check_input_settings if kind == "microphone" else audio.check_output_settings
    reason: object = None
    for choice in dict.fromkeys(
        Format(at, channels) for at in (rate, device.rate) for channels in (1, min(2, device.channels(kind)))
    ):
        try:
            check(device=device.index, channels=choice.channels, dtype="int16", samplerate=choice.rate)
        except audio.PortAudioError as error:
            reason = error
        else:
            return choice
    raise NoDevice(f"The {kind} {device.name!r} can't be opened ({reason}); is another program using it?")


@contextlib.contextmanager
def _quiet_stderr() -> Iterator[None]:
    """Keep the C libraries' chatter about absent sound cards off the terminal."""
    try:
        stderr = sys.stderr.fileno()
    except (AttributeError, OSError, ValueError):
        yield
        return
    kept, nowhere = os.dup(stderr), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, stderr)
        yield
    finally:
        os.dup2(kept, stderr)
        os.close(kept)
        os.close(nowhere)
