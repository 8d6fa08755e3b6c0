"""Stands for the module sounddevice: devices by a list, streams driven by the test. No PortAudio is needed."""

import threading
from collections.abc import Callable, Iterable
from typing import Any


class Refused(Exception):
    """Stands for sounddevice.PortAudioError."""


class Status:
    """Stands for sounddevice.CallbackFlags."""

    def __init__(self, overflow: bool = False, underflow: bool = False) -> None:
        self.input_overflow = overflow
        self.output_underflow = underflow

    def __bool__(self) -> bool:
        return self.input_overflow or self.output_underflow


class Stream:
    """What both directions share; `die` is the device going away."""

    def __init__(self, finished_callback: Callable[[], None], **settings: Any) -> None:
        self.settings = settings
        self.latency = 0.0
        self.running = False
        self.closed = 0
        self._finished = finished_callback

    def start(self) -> None:
        self.running = True

    def abort(self) -> None:
        if self.running:
            self.die()

    def die(self) -> None:
        self.running = False
        self._finished()

    def close(self) -> None:
        assert not self.closed, "closing a stream twice crashes PortAudio"
        self.closed += 1


class InputStream(Stream):
    """A microphone whose sound the test gives."""

    def __init__(self, callback: Callable[..., None], **settings: Any) -> None:
        super().__init__(**settings)
        self._callback = callback

    def give(self, data: bytes, overflow: bool = False) -> None:
        frames = len(data) // (2 * self.settings["channels"])
        self._callback(memoryview(data), frames, None, Status(overflow=overflow))


class OutputStream(Stream):
    """A loudspeaker that plays as fast as it is given sound, in a thread of its own; `heard` is what came out."""

    def __init__(self, callback: Callable[..., None], **settings: Any) -> None:
        super().__init__(**settings)
        self._callback = callback
        self._thread: threading.Thread | None = None
        self.heard = bytearray()
        self.refuse = False
        self.hold = threading.Event()  # cleared: the device takes nothing
        self.hold.set()

    def start(self) -> None:
        if self.refuse:
            raise Refused("device unavailable")
        super().start()
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def abort(self) -> None:
        super().abort()
        if self._thread is not None:
            self._thread.join(5)

    def _run(self) -> None:
        out = bytearray(400 * self.settings["channels"])
        while self.running:
            if not self.hold.wait(0.001):
                continue
            self._callback(memoryview(out), len(out) // 2, None, Status())
            self.heard += out

    def sound(self) -> bytes:
        """What was heard, without the silence round it."""
        return bytes(self.heard).strip(b"\0")


class FakeAudio:
    """The module. `refused` names the (rate, channels) that no device takes."""

    PortAudioError = Refused

    def __init__(
        self,
        devices: Iterable[tuple[str, int, int]] = (("Microphone A", 1, 0), ("Loudspeaker A", 0, 2)),
        rate: int = 48000,
        refused: Iterable[tuple[int, int]] = (),
    ) -> None:
        self.devices = list(devices)
        self.rate = rate
        self.refused = set(refused)
        self.inputs: list[InputStream] = []
        self.outputs: list[OutputStream] = []
        self.calls: list[str] = []

    def query_hostapis(self) -> list[dict[str, Any]]:
        return [{"name": "fake"}]

    def query_devices(self, kind: str | None = None) -> Any:
        entries = [
            {
                "name": name,
                "hostapi": 0,
                "max_input_channels": inputs,
                "max_output_channels": outputs,
                "default_samplerate": float(self.rate),
            }
            for name, inputs, outputs in self.devices
        ]
        if kind is None:
            return entries
        wanted = [entry for entry in entries if entry[f"max_{kind}_channels"]]
        if not wanted:
            raise Refused("Error querying device -1")
        return wanted[-1]  # the default is the last, so that it isn't merely the first

    def check_input_settings(self, device: int, channels: int, dtype: str, samplerate: int) -> None:
        if (samplerate, channels) in self.refused:
            raise Refused("Invalid sample rate")

    check_output_settings = check_input_settings

    def RawInputStream(self, **settings: Any) -> InputStream:  # noqa: N802
        self.inputs.append(InputStream(**settings))
        return self.inputs[-1]

    def RawOutputStream(self, **settings: Any) -> OutputStream:  # noqa: N802
        self.outputs.append(OutputStream(**settings))
        return self.outputs[-1]

    def _terminate(self) -> None:
        assert all(stream.closed for stream in [*self.inputs, *self.outputs]), "streams must be closed first"
        self.calls.append("terminate")

    def _initialize(self) -> None:
        self.calls.append("initialize")
