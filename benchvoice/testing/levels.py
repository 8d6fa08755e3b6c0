"""Hearing what a program in a virtual room says, and when: its loudspeaker, recorded and watched as it sounds."""

import contextlib
import subprocess
import threading
import time
from collections.abc import Iterator

import numpy as np

from benchvoice.room import RATE, Samples

_FRAME = 320  # 20 ms
_SOUNDING = 60.0  # RMS of a frame (of 32768) above which it sounds: some 55 dB under full scale


class LevelMeter:
    """Listens to one source of the room on a thread of its own; keeps its sound and remembers when it sounded."""

    def __init__(self, stream: "subprocess.Popen[bytes]") -> None:
        self._stream = stream
        self._changed = threading.Condition()
        self._last_sound: float | None = None
        self._sounded_s = 0.0
        self._ended = False
        self._kept = bytearray()
        self._thread = threading.Thread(target=self._listen, daemon=True)
        self._thread.start()

    @classmethod
    @contextlib.contextmanager
    def of(cls, source: str, environment: dict[str, str]) -> Iterator["LevelMeter"]:
        """A meter of a source, for as long as the context lasts."""
        command = ["parec", "-d", source, f"--rate={RATE}", "--channels=1", "--format=s16le", "--latency-msec=20"]
        with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as stream:
            meter = cls(stream)
            try:
                yield meter
            finally:
                stream.terminate()
                meter._thread.join(5)

    def sound(self) -> Samples:
        """All that was heard so far, at RATE."""
        with self._changed:
            return np.frombuffer(bytes(self._kept), "<i2").astype(np.int16, copy=False)

    def wait_for_sound_and_quiet(self, quiet: float, timeout: float) -> float:
        """Wait until it has sounded since the last such wait and then been quiet; the seconds that it sounded.

        Raises TimeoutError.
        """
        end = time.monotonic() + timeout
        with self._changed:
            while self._last_sound is None or time.monotonic() - self._last_sound < quiet:
                if self._ended or time.monotonic() > end:
                    raise TimeoutError(f"the loudspeaker did not sound and fall quiet within {timeout:.0f} s")
                self._changed.wait(0.05)
            sounded, self._sounded_s, self._last_sound = self._sounded_s, 0.0, None
            return sounded

    def _listen(self) -> None:
        assert self._stream.stdout is not None
        while len(data := self._stream.stdout.read(2 * _FRAME)) == 2 * _FRAME:
            level = float(np.sqrt((np.frombuffer(data, "<i2").astype(float) ** 2).mean()))
            with self._changed:
                self._kept += data
                if level > _SOUNDING:
                    self._last_sound = time.monotonic()
                    self._sounded_s += _FRAME / RATE
                    self._changed.notify_all()
        with self._changed:
            self._ended = True
            self._changed.notify_all()
