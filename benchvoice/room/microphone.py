"""A microphone as a stream of 20 ms blocks at 16 kHz, with a watch on whether it still lives.

The callback runs on PortAudio's thread and only copies, queues and counts; rates are changed by the reader.
"""

import contextlib
import queue
import time
from collections import Counter
from collections.abc import Iterator
from typing import Any

import numpy as np

from benchvoice.room.port import BLOCK, RATE, DeviceLost, DeviceSilent, NoDevice, Samples
from benchvoice.room.portaudio import Device, choose_format
from benchvoice.room.resampling import Resampler

_BLOCK_S = BLOCK / RATE
_KEPT_S = 30.0  # sound that a busy reader hasn't fetched: beyond it the oldest is dropped, and counted
_LATENCY_S = 0.04
_START_S = 3.0  # a wireless microphone may take seconds to its first block
_PATIENCE_S = 0.5  # later on, none for so long means that it is gone
_SILENT_S = 2.0  # a live microphone has noise: exact zeros for so long are no sound


class Microphone:
    """An open microphone. `faults` counts what went wrong on the way ("overflow", "dropped")."""

    def __init__(
        self,
        audio: Any,
        device: Device,
        *,
        silent_after: float | None = _SILENT_S,
        patience: float = _PATIENCE_S,
        start_patience: float = _START_S,
    ) -> None:
        """Open it; silent_after None: exact zeros are taken for silence. Raises NoDevice where it can't be opened."""
        self.faults: Counter[str] = Counter()
        self._name = device.name
        self._silent_after = silent_after
        self._patience = patience
        self._start_patience = start_patience
        self._queue: queue.Queue[bytes] = queue.Queue(maxsize=round(_KEPT_S / _BLOCK_S))
        self._deaf_until = 0.0
        self._finished = False
        self._closed = False
        self._started = False
        self._zeros_s = 0.0
        self._told_silent = False
        self._rest = b""
        self._format = choose_format(audio, device, "microphone", RATE)
        self._resampler = Resampler(self._format.rate, RATE)
        try:
            self._stream = audio.RawInputStream(
                samplerate=self._format.rate,
                channels=self._format.channels,
                dtype="int16",
                blocksize=round(self._format.rate * _BLOCK_S),
                device=device.index,
                latency=_LATENCY_S,
                callback=self._on_sound,
                finished_callback=self._on_finished,
            )
            self._stream.start()
        except audio.PortAudioError as error:
            raise NoDevice(f"The microphone {device.name!r} can't be opened ({error}).") from error

    def deafen(self) -> None:
        """Throw away what is heard from now on, and what waits."""
        self._deaf_until = float("inf")

    def hear_again(self, after: float) -> None:
        """Keep what is heard from `after` seconds on."""
        self._empty()
        self._rest = b""
        self._resampler = Resampler(self._format.rate, RATE)
        self._deaf_until = time.monotonic() + after

    def blocks(self) -> Iterator[bytes]:
        """Blocks as they come; ends when closed. Raises DeviceLost, DeviceSilent."""
        size = 2 * BLOCK
        while True:
            while len(self._rest) >= size:
                block, self._rest = self._rest[:size], self._rest[size:]
                yield block
            raw = self._next()
            if raw is None:
                return
            self._rest += self._resampler.push(_mono(raw, self._format.channels)).astype("<i2").tobytes()

    def close(self) -> None:
        """Give the microphone back."""
        if not self._closed:
            self._closed = True
            self._stream.abort()
            self._stream.close()

    def _next(self) -> bytes | None:
        """The next callback's samples, or None when closed."""
        waited = time.monotonic()
        while not self._closed:
            try:
                raw = self._queue.get(timeout=0.05)
            except queue.Empty:
                patience = self._patience if self._started else self._start_patience
                since = max(waited, min(self._deaf_until, time.monotonic()))
                if not self._closed and (self._finished or time.monotonic() - since > patience):
                    raise DeviceLost(
                        f"The microphone {self._name!r} gives no sound any more; connect it again.", "microphone"
                    ) from None
                continue
            self._started = True
            self._watch_silence(raw)
            return raw
        return None

    def _watch_silence(self, raw: bytes) -> None:
        """Raise DeviceSilent once for each stretch of exact zeros."""
        if any(raw):
            self._zeros_s, self._told_silent = 0.0, False
            return
        self._zeros_s += len(raw) / (2 * self._format.channels * self._format.rate)
        if self._silent_after is not None and self._zeros_s >= self._silent_after and not self._told_silent:
            self._told_silent = True
            raise DeviceSilent(
                f"The microphone {self._name!r} gives only silence; is it muted or unplugged?", "microphone"
            )

    def _empty(self) -> None:
        with contextlib.suppress(queue.Empty):
            while True:
                self._queue.get_nowait()

    def _on_sound(self, data: Any, _frames: int, _time: Any, status: Any) -> None:
        if status and status.input_overflow:
            self.faults["overflow"] += 1
        if time.monotonic() < self._deaf_until:
            return
        with contextlib.suppress(
            queue.Empty, queue.Full
        ):  # the reader may be quicker; an exception would end the stream
            if self._queue.full():
                self.faults["dropped"] += 1
                self._queue.get_nowait()
            self._queue.put_nowait(bytes(data))

    def _on_finished(self) -> None:
        self._finished = True


def _mono(raw: bytes, channels: int) -> Samples:
    """The mean of the channels."""
    samples = np.frombuffer(raw, dtype="<i2").astype(np.int16, copy=False)
    if channels == 1:
        return samples
    mean: Samples = samples.reshape(-1, channels).mean(axis=1).round().astype(np.int16)
    return mean
