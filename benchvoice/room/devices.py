"""The room of a real microphone and loudspeaker.

One thread plays and listens; `stop` may come from any other. A device that is lost raises DeviceLost from `play` or
`blocks`; `reopen` then looks for it again by its name, as often as one likes.
"""

import time
from collections import Counter
from collections.abc import Iterator
from typing import Any

from benchvoice.room.loudspeaker import Loudspeaker
from benchvoice.room.microphone import Microphone
from benchvoice.room.port import RATE, Samples
from benchvoice.room.portaudio import find_device, load, refresh

_PLAY_RATE = 22050  # the voice's own
_ECHO_S = 0.15  # how long after a prompt the microphone stays deaf: the room's echo of it


def open_loudspeaker(name: str | None = None, rate: int = RATE) -> Loudspeaker:
    """A loudspeaker by its name, or the system's default, for `PlayAloud`. Raises NoDevice, RoomError."""
    audio = load()
    return Loudspeaker(audio, find_device(audio, name, "loudspeaker"), rate)


class DeviceRoom:
    """Named devices, or the system's defaults."""

    def __init__(
        self,
        microphone: str | None = None,
        loudspeaker: str | None = None,
        *,
        silent_after: float | None = 2.0,
        audio: Any = None,
    ) -> None:
        """Open both. silent_after: seconds of exact zeros from the microphone that raise DeviceSilent (None: never).

        audio: the module sounddevice, or what stands for it. Raises NoDevice, RoomError with what to do about it.
        """
        self._audio = load() if audio is None else audio
        self._names = microphone, loudspeaker
        self._silent_after = silent_after
        self._began = time.monotonic()
        self._faults: Counter[str] = Counter()
        self._open()

    @property
    def faults(self) -> Counter[str]:
        """What went wrong with the sound so far: "overflow", "dropped", "underflow", each with its count."""
        return self._faults + self._microphone.faults + self._loudspeaker.faults

    def play(self, samples: Samples, rate: int) -> None:
        """See Room."""
        self._microphone.deafen()
        try:
            self._loudspeaker.play(samples, rate)
        finally:
            self._microphone.hear_again(after=_ECHO_S)

    def blocks(self) -> Iterator[bytes]:
        """See Room."""
        return self._microphone.blocks()

    def stop(self) -> None:
        """See Room."""
        self._loudspeaker.stop()

    def elapsed(self) -> float:
        """See Room."""
        return time.monotonic() - self._began

    def reopen(self) -> None:
        """Look for the devices again, by name, after one was lost. Raises NoDevice, RoomError while it isn't back."""
        self.close()
        for counted in (self._microphone.faults, self._loudspeaker.faults):
            self._faults.update(counted)
            counted.clear()
        refresh(self._audio)
        self._open()

    def close(self) -> None:
        """See Room."""
        self._microphone.close()
        self._loudspeaker.close()

    def _open(self) -> None:
        microphone, loudspeaker = self._names
        heard = find_device(self._audio, microphone, "microphone")
        spoken = find_device(self._audio, loudspeaker, "loudspeaker")
        self._loudspeaker = Loudspeaker(self._audio, spoken, _PLAY_RATE)
        try:
            self._microphone = Microphone(self._audio, heard, silent_after=self._silent_after)
        except Exception:
            self._loudspeaker.close()
            raise
