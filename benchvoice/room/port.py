"""What the session's loop needs of a room: somewhere to speak and something to hear. Everything else is behind this.

Speaking and listening never overlap: while `play` runs, what the microphone hears is thrown away.
"""

from collections.abc import Iterator
from typing import Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from benchvoice.errors import InputError, MachineError

RATE = 16000
"""Samples a second of every microphone block."""

BLOCK = 320
"""Samples in a microphone block: 20 ms."""

Samples: TypeAlias = NDArray[np.int16]
"""Mono signed 16-bit samples; full scale is 32767."""


class RoomError(InputError):
    """A sound file or device that was asked for can't be used."""


class NoDevice(MachineError):
    """There is no sound device, or what drives it is missing."""


class DeviceLost(MachineError):
    """A microphone or loudspeaker that worked has stopped; `device` says which ("microphone", "loudspeaker")."""

    def __init__(self, message: str, device: str) -> None:
        super().__init__(message)
        self.device = device


class DeviceSilent(DeviceLost):
    """The microphone still gives samples, but nothing but exact zeros: muted, or a stream that died."""


class Room(Protocol):
    """Somewhere to speak and to hear."""

    def play(self, samples: Samples, rate: int) -> None:
        """Play mono samples; returns when the last of it has been heard, or `stop` was called. Raises DeviceLost."""

    def blocks(self) -> Iterator[bytes]:
        """What is heard from now on: blocks of BLOCK int16 samples at RATE, in little-endian bytes.

        Ends when nothing more can come (a file's end, a closed room). Raises DeviceLost. A new iterator goes on where
        the last one stopped.
        """

    def stop(self) -> None:
        """Be silent at once: `play`, in another thread, returns. Listening goes on."""

    def elapsed(self) -> float:
        """Seconds since the room was opened, by the room's own clock, which may be a virtual one."""

    def close(self) -> None:
        """Give the devices and files back. `blocks` ends."""
