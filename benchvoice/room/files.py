"""Rooms without devices: the microphone is a WAV file, or a person made of sound, and the clock is virtual.

The clock moves only by sound: by what is played and by what is listened to. So the assistant may take as long as it
likes over a prompt; the file waits meanwhile, and whoever recorded it need not know how long prompts are. Nothing
sleeps.
"""

import contextlib
import wave
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from benchvoice.errors import MachineError
from benchvoice.room.port import BLOCK, RATE, RoomError, Samples
from benchvoice.room.resampling import Resampler, resample

_CHUNK_S = 0.5


class VirtualRoom:
    """Hears pieces of sound (samples at RATE) one after another; writes the conversation to a WAV file on request."""

    def __init__(self, heard: Iterator[Samples], conversation: Path | None = None) -> None:
        """heard: what the microphone gets, fetched only when it is listened to; its end is the end of input.

        conversation: a WAV file of all that was heard and played, in its order. Raises MachineError where it can't be
        written.
        """
        self._heard = heard
        self._left: Samples = np.zeros(0, np.int16)
        self._elapsed_samples = 0
        self._closed = False
        self._recorder = None if conversation is None else _Recorder(conversation)

    def play(self, samples: Samples, rate: int) -> None:
        """See Room: takes no time but the virtual."""
        self._pass(resample(samples, rate, RATE))

    def blocks(self) -> Iterator[bytes]:
        """See Room. The last block is filled up with zeros."""
        while not self._closed:
            while len(self._left) < BLOCK:
                piece = next(self._heard, None)
                if piece is None:
                    break
                self._left = np.concatenate([self._left, piece])
            if len(self._left) == 0:
                return
            block, self._left = self._left[:BLOCK], self._left[BLOCK:]
            block = np.pad(block, (0, BLOCK - len(block)))
            self._pass(block)
            yield block.astype("<i2").tobytes()

    def stop(self) -> None:
        """See Room: nothing plays that could be stopped."""

    def elapsed(self) -> float:
        """See Room: seconds of sound played and heard."""
        return self._elapsed_samples / RATE

    def close(self) -> None:
        """See Room; completes the conversation's file."""
        self._closed = True
        if self._recorder is not None:
            self._recorder.close()
            self._recorder = None

    def _pass(self, samples: Samples) -> None:
        self._elapsed_samples += len(samples)
        if self._recorder is not None:
            self._recorder.write(samples)


class WavRoom(VirtualRoom):
    """The microphone is a sound file: WAV, FLAC or what else libsndfile reads, of any rate and number of channels."""

    def __init__(self, path: Path, conversation: Path | None = None) -> None:
        """Raises RoomError where the file can't be read, MachineError where the conversation can't be written."""
        self._file = _open_sound(path)
        super().__init__(_pieces(self._file), conversation)

    def close(self) -> None:
        """See Room."""
        super().close()
        self._file.close()


class PersonRoom(VirtualRoom):
    """The microphone is a person, who answers when listened to: for demonstrations and tests."""

    def __init__(self, answer: Callable[[], Samples | None], conversation: Path | None = None) -> None:
        """answer: gives the next sound at RATE (with the pauses and noise round it), or None to leave for good."""
        super().__init__(_answers(answer), conversation)


def _answers(answer: Callable[[], Samples | None]) -> Iterator[Samples]:
    while (samples := answer()) is not None:
        yield samples


def read_sound(path: Path) -> Samples:
    """A whole sound file as mono samples at RATE; RoomError where it can't be read."""
    with _open_sound(path) as file:
        return np.concatenate([np.zeros(0, np.int16), *_pieces(file)])


def _open_sound(path: Path) -> Any:
    import soundfile

    try:
        return soundfile.SoundFile(path)
    except (soundfile.LibsndfileError, OSError) as error:
        reason = "there is no such file" if not path.exists() else "it isn't a sound file that can be read"
        raise RoomError(f"{path}: {reason}; give a WAV or FLAC file.") from error


def _pieces(file: Any) -> Iterator[Samples]:
    """The file's sound in mono at RATE, half a second at a time."""
    resampler = Resampler(file.samplerate, RATE)
    for frames in file.blocks(round(_CHUNK_S * file.samplerate), dtype="float32", always_2d=True):
        mono = np.clip(np.round(frames.mean(axis=1) * 32768), -32768, 32767)
        yield resampler.push(mono.astype(np.int16))
    yield resampler.push(np.zeros(0, np.int16), last=True)


class _Recorder:
    """A mono 16-bit WAV file at RATE that is written as it goes."""

    def __init__(self, path: Path) -> None:
        self._path = path
        with self._sentence():
            self._raw = path.open("wb")  # as long as the room; opened here: wave.open leaves half an object on failure
            self._file = wave.open(self._raw)  # noqa: SIM115
            self._file.setnchannels(1)
            self._file.setsampwidth(2)
            self._file.setframerate(RATE)

    def write(self, samples: Samples) -> None:
        """Append; MachineError where the disk refuses."""
        with self._sentence():
            self._file.writeframes(samples.astype("<i2").tobytes())

    def close(self) -> None:
        """Complete the header."""
        with self._sentence():
            self._file.close()
            self._raw.close()

    @contextlib.contextmanager
    def _sentence(self) -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise MachineError(f"{self._path}: the conversation can't be written ({error.strerror}).") from error
