"""The engines that are compared: our ear in vosk, and pocketsphinx with the same words in a loop."""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from benchvoice.ear.confidence import Trust, trust
from benchvoice.ear.decode import Decoded, decode, grammar_for
from benchvoice.ear.lexicon import OTHER
from benchvoice.ear.model import load_model

Samples = NDArray[np.int16]


@dataclass(frozen=True, slots=True)
class Heard:
    """What an engine made of a clip: words without OTHER, how far to trust them, and the processor time it took."""

    words: list[str]
    trust: Trust
    compute_s: float
    confidence: float = 1.0
    """Least posterior of a word; engines that give none say 1."""
    decoded: Decoded | None = None


class Engine(Protocol):
    name: str
    load_s: float
    memory_mb: float

    def knows(self, word: str) -> bool: ...

    def listen_for(self, words: Sequence[str]) -> None:
        """Sets the grammar: any sequence of these words."""

    def hear(self, samples: Samples) -> Heard: ...


def resident_mb() -> float:
    """Memory of this process; 0 where the system doesn't tell."""
    try:
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    except OSError:
        return 0.0
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20


class Ear:
    """Our own model in vosk, as the assistant uses it."""

    def __init__(self, model: Path) -> None:
        self.name = f"vosk, {model.name}"
        __import__("vosk")  # the library's own 25 MB are not the model's
        before, start = resident_mb(), time.perf_counter()
        self.model = load_model(model)
        self.load_s, self.memory_mb = time.perf_counter() - start, resident_mb() - before

    def knows(self, word: str) -> bool:
        return word in self.model.words

    def listen_for(self, words: Sequence[str]) -> None:
        self.grammar = grammar_for(self.model, words)

    def hear(self, samples: Samples) -> Heard:
        start = time.process_time()
        decoded = decode(self.model, samples, self.grammar)
        spent = time.process_time() - start
        own = [w for w in decoded.words if not w.other]
        least = min((w.confidence for w in own), default=0.0)
        return Heard([w.word for w in own], trust(decoded, self.model.policy), spent, least, decoded)


class Sphinx:
    """Pocketsphinx with the model in its wheel. It gives no posterior in a grammar: what it hears is accepted."""

    name = "pocketsphinx"

    def __init__(self) -> None:
        import pocketsphinx

        self._decoder_class: Any = pocketsphinx.Decoder
        self._folder = Path(pocketsphinx.__file__).parent / "model/en-us"
        self._dictionary = self._folder / "cmudict-en-us.dict"
        with self._dictionary.open(encoding="utf-8") as file:
            self._known = {line.split()[0] for line in file if line.strip()}
        self.load_s = self.memory_mb = 0.0

    def knows(self, word: str) -> bool:
        return word in self._known

    def listen_for(self, words: Sequence[str]) -> None:
        # the loop ( a | b | … )+ as two states: given as a JSGF rule, 100 words take minutes to compile
        arcs = "".join(f"TRANSITION 0 1 {1 / len(words):g} {word}\n" for word in words)
        graph = f"FSG_BEGIN g\nNUM_STATES 2\nSTART_STATE 0\nFINAL_STATE 1\n{arcs}TRANSITION 1 0 0.5\nFSG_END\n"
        before, start = resident_mb(), time.perf_counter()
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "words.fsg"
            path.write_text(graph, encoding="utf-8")
            self._decoder = self._decoder_class(
                hmm=str(self._folder / "en-us"), dict=str(self._dictionary), fsg=str(path), loglevel="FATAL"
            )
        self.load_s, self.memory_mb = time.perf_counter() - start, resident_mb() - before

    def hear(self, samples: Samples) -> Heard:
        start = time.process_time()
        quiet = np.zeros(4000, np.int16)
        self._decoder.start_utt()
        self._decoder.process_raw(np.concatenate([quiet, samples, quiet]).tobytes(), False, True)
        self._decoder.end_utt()
        guess = self._decoder.hyp()
        words = guess.hypstr.split() if guess else []
        return Heard(words, Trust.ACCEPT if words else Trust.REFUSE, time.process_time() - start)


__all__ = ["OTHER", "Ear", "Engine", "Heard", "Samples", "Sphinx", "resident_mb"]
