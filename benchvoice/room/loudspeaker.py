"""A loudspeaker that plays samples to their end, can be silenced at once, and notices when it is gone.

Its stream stays open and plays zeros between prompts: opening one anew costs time before the first word, and wireless
loudspeakers swallow the beginning of what follows a pause.
"""

import contextlib
import threading
import time
from collections import Counter, deque
from typing import Any

import numpy as np

from benchvoice.room.port import DeviceLost, NoDevice, Samples
from benchvoice.room.portaudio import Device, choose_format
from benchvoice.room.resampling import Resampler, resample

_LATENCY_S = 0.1  # below some 0.06 s a busy machine tears holes into prompts
_START_S = 3.0
_PATIENCE_S = 0.5
_AHEAD_S = 0.1  # how far `feed` runs ahead of what is heard
_LOOK_S = 0.01


class Loudspeaker:
    """An open loudspeaker. `faults` counts holes in the sound ("underflow")."""

    def __init__(
        self,
        audio: Any,
        device: Device,
        rate: int,
        *,
        patience: float = _PATIENCE_S,
        start_patience: float = _START_S,
    ) -> None:
        """Open it, at `rate` where it takes that. Raises NoDevice where it can't be opened."""
        self.faults: Counter[str] = Counter()
        self._name = device.name
        self._patience = patience
        self._start_patience = start_patience
        self._format = choose_format(audio, device, "loudspeaker", rate)
        self._chunks: deque[memoryview] = deque()
        self._lock = threading.Lock()  # held for some copying of at most 0.1 s of sound
        self._silence = threading.Event()
        self._silenced = True  # the stream is stopped, by us
        self._finished = False
        self._closed = False
        self._seen = 0.0
        self._feeding: tuple[int, Resampler] | None = None
        try:
            self._stream = audio.RawOutputStream(
                samplerate=self._format.rate,
                channels=self._format.channels,
                dtype="int16",
                blocksize=0,
                device=device.index,
                latency=_LATENCY_S,
                callback=self._on_need,
                finished_callback=self._on_finished,
            )
        except audio.PortAudioError as error:
            raise NoDevice(f"The loudspeaker {device.name!r} can't be opened ({error}).") from error
        self._error: type[Exception] = audio.PortAudioError

    def play(self, samples: Samples, rate: int) -> None:
        """Play to the end; returns when it has been heard or `stop` was called. Raises DeviceLost."""
        self._silence.clear()
        began = time.monotonic()
        self._put(resample(samples, rate, self._format.rate))
        self._wait_until_left(0)
        # What the device has taken is heard after its latency; but a stream that starts takes its first part at once.
        taken = max(time.monotonic(), began + len(samples) / rate)
        self._silence.wait(taken + self._stream.latency - time.monotonic())

    def feed(self, samples: Samples, rate: int) -> None:
        """Play the next piece of a longer sound; returns a little before it has been heard. Raises DeviceLost."""
        if self._feeding is None or self._feeding[0] != rate:
            self._feeding = (rate, Resampler(rate, self._format.rate))
        self._silence.clear()
        self._put(self._feeding[1].push(samples))
        self._wait_until_left(_AHEAD_S)

    def stop(self) -> None:
        """Be silent at once: what waits is thrown away, and `play` returns."""
        self._silence.set()
        with self._lock:
            self._chunks.clear()
        if not self._silenced:
            self._silenced = True
            with contextlib.suppress(self._error):
                self._stream.abort()

    def close(self) -> None:
        """Give the loudspeaker back."""
        self.stop()
        if not self._closed:
            self._closed = True
            self._stream.close()

    def _put(self, samples: Samples) -> None:
        data = np.repeat(samples, self._format.channels).astype("<i2").tobytes()
        with self._lock:
            if data:
                self._chunks.append(memoryview(data))
        if self._silenced:
            self._silenced = False
            self._seen = time.monotonic() + self._start_patience - self._patience
            try:
                self._stream.start()
            except self._error as error:
                raise self._lost() from error

    def _left_s(self) -> float:
        with self._lock:
            return sum(map(len, self._chunks)) / (2 * self._format.channels * self._format.rate)

    def _wait_until_left(self, seconds: float) -> None:
        """Wait until no more than so much waits for the device, or `stop`."""
        while self._left_s() > seconds and not self._silence.wait(_LOOK_S):
            if self._finished or time.monotonic() - self._seen > self._patience:
                raise self._lost()

    def _lost(self) -> DeviceLost:
        with self._lock:
            self._chunks.clear()
        return DeviceLost(f"The loudspeaker {self._name!r} is gone; connect it again.", "loudspeaker")

    def _on_need(self, out: Any, _frames: int, _time: Any, status: Any) -> None:
        """Fill `out` from what waits, and with silence after it."""
        self._seen = time.monotonic()
        if status and status.output_underflow:
            self.faults["underflow"] += 1
        filled = 0
        with self._lock:
            while self._chunks and filled < len(out):
                chunk = self._chunks.popleft()
                count = min(len(chunk), len(out) - filled)
                out[filled : filled + count] = chunk[:count]
                filled += count
                if count < len(chunk):
                    self._chunks.appendleft(chunk[count:])
        out[filled:] = bytes(len(out) - filled)

    def _on_finished(self) -> None:
        self._finished = self._finished or not self._silenced
