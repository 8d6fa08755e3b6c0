"""Listening: blocks of sound go in, utterances come out.

A speech detector finds where somebody begins, our own timer where they have ended: vosk's would cut a number at the
first pause. There is no clock and no thread here; time is the count of samples, so the same sound always gives the
same utterances.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from benchvoice.ear.decode import RATE, Decoded, Decoder, Grammar, Samples
from benchvoice.ear.detector import FRAME, Detector, speech_detector
from benchvoice.ear.model import Model

SURE, DONE = 0.5, 0.35
"""Speech begins with START_FRAMES frames above SURE and goes on while a frame is above DONE."""
START_FRAMES = 2
BEFORE_MS = 300
"""Kept from before speech was found: it is found 50 to 150 ms late."""
LEAST_END_MS = 150
"""The detector's longest gap inside a phrase is about 130 ms: a shorter end would cut words."""


def _never(_: tuple[str, ...]) -> bool:
    return False


@dataclass(frozen=True, slots=True)
class Listening:
    """What is listened for, and how long a silence ends it: short for yes or no, longer inside a number."""

    grammar: Grammar | None
    end_ms: int = 600
    unfinished: Callable[[tuple[str, ...]], bool] = _never
    """Told the words so far when `end_ms` have passed: true waits longer ("two point …" can't be the end)."""
    unfinished_ms: int = 8_000
    """The longest silence inside something unfinished."""
    longest_ms: int = 30_000
    """Speech that goes on is cut off here."""


@dataclass(frozen=True, slots=True)
class Utterance:
    """Something that was said, with its sound. Times are seconds of sound since the ear began listening."""

    samples: Samples
    started_s: float
    ended_s: float
    decoded: Decoded
    grammar: Grammar | None
    """As it was in force: decoding `samples` with it again gives `decoded` again."""
    silent_s: float = 0.0
    """The silence at its end."""


class Ear:
    """Finds and decodes utterances in a stream of int16 blocks at 16 kHz, mono."""

    def __init__(self, model: Model, listening: Listening, detector: Detector | None = None) -> None:
        self._model = model
        self._listening = listening
        self._detector = detector or speech_detector()
        self._waiting: Samples = np.zeros(0, np.int16)
        self._before: deque[Samples] = deque(maxlen=_frames(BEFORE_MS) + START_FRAMES)
        self._frames = 0
        self._likely = 0
        self._current: _Current | None = None

    @property
    def hearing(self) -> bool:
        """Whether somebody is speaking now (or an utterance isn't over yet)."""
        return self._current is not None

    @property
    def waiting(self) -> bool:
        """Whether somebody has fallen silent in the middle of something, which is waited for."""
        return self._current is not None and self._current.waiting

    def listen_for(self, listening: Listening) -> None:
        """From the next utterance on; one that has begun goes on as it began."""
        self._listening = listening

    def feed(self, block: Samples) -> list[Utterance]:
        """Takes a block of any length; gives the utterances that ended in it, mostly none."""
        self._waiting = np.concatenate([self._waiting, block])
        ended: list[Utterance] = []
        while len(self._waiting) >= FRAME:
            frame, self._waiting = self._waiting[:FRAME], self._waiting[FRAME:]
            utterance = self._hear(frame)
            if utterance:
                ended.append(utterance)
        return ended

    def flush(self) -> list[Utterance]:
        """The end of the sound: what was being said is taken as finished."""
        current, self._current = self._current, None
        return [current.finish(self._frames)] if current else []

    def reset(self) -> None:
        """Drops what is being said and what came before (the assistant itself was speaking); time goes on."""
        self._current = None
        self._likely = 0
        self._before.clear()
        self._waiting = self._waiting[:0]
        self._detector.reset()

    def _hear(self, frame: Samples) -> Utterance | None:
        probability = self._detector.probability(frame)
        self._frames += 1
        if self._current is None:
            self._before.append(frame)
            self._likely = self._likely + 1 if probability > SURE else 0
            if self._likely >= START_FRAMES:
                self._begin()
            return None
        if not self._current.goes_on(frame, probability > DONE):
            current, self._current = self._current, None
            return current.finish(self._frames)
        return None

    def _begin(self) -> None:
        self._current = _Current(
            Decoder(self._model, self._listening.grammar), self._listening, self._frames - len(self._before)
        )
        for frame in self._before:
            self._current.take(frame)
        self._before.clear()
        self._likely = 0


class _Current:
    """An utterance while it lasts."""

    def __init__(self, decoder: Decoder, listening: Listening, first_frame: int) -> None:
        self._decoder = decoder
        self._listening = listening
        self._first_frame = first_frame
        self._kept: list[Samples] = []
        self._silent = 0

    def take(self, frame: Samples) -> None:
        self._kept.append(frame)
        self._decoder.feed(frame)

    def goes_on(self, frame: Samples, speech: bool) -> bool:
        """Takes a frame; whether the utterance is still open after it."""
        self.take(frame)
        self._silent = 0 if speech else self._silent + 1
        listening = self._listening
        if len(self._kept) >= _frames(listening.longest_ms) or self._silent >= _frames(listening.unfinished_ms):
            return False
        end = _frames(max(listening.end_ms, LEAST_END_MS))
        if self._silent < end:
            return True
        # asked anew at every multiple of the end time: what is decoded of the last words comes a little late
        return self._silent % end != 0 or listening.unfinished(self._decoder.partial())

    @property
    def waiting(self) -> bool:
        """Whether the silence would have ended it, were it finished."""
        return self._silent >= _frames(max(self._listening.end_ms, LEAST_END_MS))

    def finish(self, frames: int) -> Utterance:
        samples = np.concatenate(self._kept)
        seconds = FRAME / RATE
        return Utterance(
            samples,
            self._first_frame * seconds,
            frames * seconds,
            self._decoder.finish(),
            self._listening.grammar,
            self._silent * seconds,
        )


def _frames(milliseconds: int) -> int:
    """Whole frames that last at least so long."""
    return -(-milliseconds * RATE // (1000 * FRAME))
