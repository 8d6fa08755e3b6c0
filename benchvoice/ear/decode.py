"""From sound to words: one utterance through vosk, with a grammar of what may be said.

The same samples always give the same words, whatever the size of the blocks they come in: vosk is fed equal chunks, and
the little noise that is added (see below) is the same every time. So a clip from the log can be decoded again.
"""

from __future__ import annotations

import json
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from benchvoice.ear.gain import Gain
from benchvoice.ear.left_out import left_out_s
from benchvoice.ear.lexicon import OTHER
from benchvoice.ear.library import import_vosk
from benchvoice.ear.phrasing import examples

if TYPE_CHECKING:
    from benchvoice.ear.model import Model

Samples = NDArray[np.int16]

RATE = 16_000
"""Samples a second of everything that is heard."""
CHUNK = RATE // 5
EXAMPLES_TO_ONE = 100
"""So many examples of numbers are outweighed by naming everything else once more; chosen on dev."""
NOISE = 2
"""Exact zeros never end an utterance for vosk: whole numbers from -NOISE to NOISE are added to all samples."""
QUIET_BEFORE, QUIET_AFTER = 3 * RATE // 10, 3 * RATE // 10
"""Near-silence put round every utterance, in samples. A recording that is cut close is heard far better with it: of 100
digits of the dev recordings (fsdd, no silence of their own) 92 came out right with 0.1 s before, 95 with 0.3 s and 94
with 0.5 s (one of the two nets whose mean ships)."""


@dataclass(frozen=True, slots=True)
class Word:
    """A word that was heard, vosk's posterior for it (0 to 1), and its times in seconds from the first sample."""

    word: str
    confidence: float
    start: float
    end: float

    @property
    def other(self) -> bool:
        """Speech or noise that was none of the words."""
        return self.word == OTHER


@dataclass(frozen=True, slots=True)
class Decoded:
    """What was heard in an utterance: empty when nothing was, with OTHER where something else was said."""

    words: tuple[Word, ...]
    audio_s: float
    compute_s: float
    left_out_s: float = 0.0
    """The longest stretch as loud as the words to which no word was given."""

    @property
    def text(self) -> str:
        return " ".join(word.word for word in self.words)

    @property
    def known(self) -> tuple[str, ...]:
        """The words alone, without OTHER."""
        return tuple(word.word for word in self.words if not word.other)


@dataclass(frozen=True, slots=True)
class Grammar:
    """What may be said. Vosk prefers whole phrases but may break one off: see `fits`."""

    phrases: tuple[str, ...]
    unheard: tuple[str, ...] = ()
    """Words that the model lacks. Phrases with one of them were left out, or vosk would drop the word and take the
    rest."""

    @property
    def words(self) -> frozenset[str]:
        return frozenset(word for phrase in self.phrases for word in phrase.split())


def grammar_for(model: Model, phrases: Iterable[str]) -> Grammar:
    """The phrases that the model can hear, in lower case, once each, in order."""
    wanted = dict.fromkeys(" ".join(phrase.lower().split()) for phrase in phrases)
    unheard = dict.fromkeys(word for phrase in wanted for word in phrase.split() if word not in model.words)
    usable = tuple(phrase for phrase in wanted if phrase and unheard.keys().isdisjoint(phrase.split()))
    return Grammar(tuple(phrase for phrase in usable if phrase != OTHER), tuple(unheard))


def fits(words: Sequence[str], phrases: Iterable[str], *, strung: bool = False) -> bool:
    """Whether words are one of the phrases, or with `strung` any number of them one after the other."""
    choices = {tuple(phrase.split()) for phrase in phrases}
    if not strung:
        return tuple(words) in choices
    reached = [True] + [False] * len(words)
    for end in range(1, len(words) + 1):
        reached[end] = any(
            reached[end - len(choice)] and tuple(words[end - len(choice) : end]) == choice
            for choice in choices
            if 0 < len(choice) <= end
        )
    return bool(words) and reached[-1]


class Decoder:
    """Decodes one utterance as it comes. `feed` it samples, then `finish`; it can't be used again after that."""

    def __init__(self, model: Model, grammar: Grammar | None) -> None:
        """Without a grammar all the model's words may come in any order: of use with a model for free speech."""
        self._model = model
        self._grammar = grammar
        self._recogniser = _recogniser(model, grammar)
        self._noise = np.random.default_rng(0)
        self._waiting: Samples = np.zeros(QUIET_BEFORE, np.int16)
        self._pieces: list[dict[str, Any]] = []
        self._all: list[Samples] = []
        self._gain = Gain()
        self._fed = 0
        self._compute_s = 0.0

    def feed(self, samples: Samples) -> None:
        """Takes int16 samples at RATE, mono, any number of them."""
        self._fed += len(samples)
        self._all.append(samples)
        self._take(self._gain.feed(samples))

    def partial(self) -> tuple[str, ...]:
        """The words so far, without OTHER. They may still change: good for waiting longer, never for acting."""
        if self._recogniser is None:
            return ()
        started = time.perf_counter()
        unfinished = json.loads(self._recogniser.PartialResult()).get("partial", "").split()
        self._compute_s += time.perf_counter() - started
        settled = [piece["word"] for piece in self._pieces]
        return tuple(word for word in [*settled, *unfinished] if word != OTHER)

    def finish(self) -> Decoded:
        self._take(self._gain.finish())
        self._take(np.zeros(QUIET_AFTER, np.int16))
        if self._recogniser is not None:
            started = time.perf_counter()
            self._accept(self._waiting)
            self._pieces.extend(json.loads(self._recogniser.FinalResult()).get("result", []))
            self._compute_s += time.perf_counter() - started
        words = tuple(self._words())
        missed = left_out_s(np.concatenate(self._all), [(word.start, word.end) for word in words]) if words else 0.0
        return Decoded(words, self._fed / RATE, round(self._compute_s, 4), missed)

    def _take(self, samples: Samples) -> None:
        started = time.perf_counter()
        self._waiting = np.concatenate([self._waiting, samples])
        while len(self._waiting) >= CHUNK:
            chunk, self._waiting = self._waiting[:CHUNK], self._waiting[CHUNK:]
            self._accept(chunk)
        self._compute_s += time.perf_counter() - started

    def _accept(self, chunk: Samples) -> None:
        noisy = chunk.astype(np.int32) + self._noise.integers(-NOISE, NOISE + 1, len(chunk))
        data = np.clip(noisy, -32768, 32767).astype("<i2").tobytes()
        # vosk ends a piece at half a second of silence; we decide when an utterance ends, so pieces are joined
        if self._recogniser is not None and self._recogniser.AcceptWaveform(data):
            self._pieces.extend(json.loads(self._recogniser.Result()).get("result", []))

    def _words(self) -> Iterable[Word]:
        length, lead = self._fed / RATE, QUIET_BEFORE / RATE
        for piece in self._pieces:
            start, end = (min(max(round(piece[edge] - lead, 3), 0.0), length) for edge in ("start", "end"))
            yield Word(self._sorted_out(piece["word"]), round(float(piece["conf"]), 4), start, end)

    def _sorted_out(self, word: str) -> str:
        """A model with a fixed graph hears all its words: those not asked for are OTHER."""
        if self._model.runtime_grammar or self._grammar is None or word in self._grammar.words:
            return word
        return OTHER


def decode(model: Model, samples: Samples, grammar: Grammar | None) -> Decoded:
    """What was said in one utterance: int16 samples at RATE, mono."""
    decoder = Decoder(model, grammar)
    decoder.feed(samples)
    return decoder.finish()


def _entries(grammar: Grammar, model: Model) -> list[str]:
    """What vosk is told may be said: the phrases, examples of numbers, and OTHER.

    Vosk weighs a word by how often it is named: where there are many examples the rest is named more often, or it would
    be drowned.
    """
    shown = examples(grammar.phrases)
    times = 1 + len(shown) // EXAMPLES_TO_ONE
    fence = (OTHER,) * times if model.rejects else ()
    return [*grammar.phrases * times, *shown, *fence]


def _recogniser(model: Model, grammar: Grammar | None) -> Any | None:
    """vosk's recogniser; None for a grammar in which nothing can be said (an empty one ends the process in vosk)."""
    if grammar is not None and not grammar.phrases:
        return None
    vosk = import_vosk()
    if grammar is None or not model.runtime_grammar:
        recogniser = vosk.KaldiRecognizer(model.handle, RATE)
    else:
        recogniser = vosk.KaldiRecognizer(model.handle, RATE, json.dumps(_entries(grammar, model)))
    recogniser.SetWords(True)
    return recogniser
