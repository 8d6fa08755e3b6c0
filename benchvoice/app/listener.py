"""From sound in a room to events: utterances found, decoded with the grammar of the moment, kept with their sound."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import numpy as np

from benchvoice.ear.confidence import Policy, Trust, probability, trust
from benchvoice.ear.decode import Decoded, grammar_for
from benchvoice.ear.model import Model
from benchvoice.ear.stream import Ear, Listening
from benchvoice.ear.stream import Utterance as Spoken
from benchvoice.log import keep_grammar, write_clip
from benchvoice.room import BLOCK, RATE, Room
from benchvoice.session.entries import Sound, Word
from benchvoice.session.events import Utterance
from benchvoice.session.facts import Instant
from benchvoice.session.sayable import sayable, unfinished
from benchvoice.session.state import State
from benchvoice.speech.homophones import settle_homophones

END_MS = 600
"""Silence that ends an utterance."""
UNSURE = "I am not sure of the words"
BROKEN_OFF = "I broke it off for a warning"
PATIENCE_S = 4
"""Seconds for which a window's word waits on somebody who goes on speaking."""


@dataclass(frozen=True, slots=True)
class Listener:
    """Listens in a room with a model. `people` are names that may be said."""

    room: Room
    model: Model
    folder: Path
    people: tuple[str, ...] = ()

    def listening(self, state: State) -> Listening:
        """What is listened for just now."""
        return Listening(grammar_for(self.model, sayable(state, self.people)), END_MS, unfinished)

    def utterances(
        self,
        state: Callable[[], State],
        now: Callable[[], Instant],
        tick: Callable[[], bool],
        overdue: Callable[[], bool] = lambda: False,
    ) -> Iterator[Utterance]:
        """Utterances as they end. `tick` is called now and then, between blocks; true: it has spoken.

        While somebody speaks nothing is said, but for what is `overdue`: a silence in the middle of a number is used
        for it, and speech that goes on is broken off. What was heard until then comes first, and is not trusted.
        """
        ear = Ear(self.model, self.listening(state()))
        late = 0
        for block in self.room.blocks():
            for spoken in ear.feed(np.frombuffer(block, dtype="<i2").astype(np.int16)):
                yield from self._event(spoken, state(), now())
                ear.reset()
                ear.listen_for(self.listening(state()))
            late = late + 1 if ear.hearing and overdue() else 0
            if late and (ear.waiting or late * BLOCK >= PATIENCE_S * RATE):
                for spoken in ear.flush():
                    yield from self._event(spoken, state(), now(), broken_off=True)
                tick()
                ear.reset()
                ear.listen_for(self.listening(state()))
            elif not ear.hearing and tick():
                ear.reset()
                ear.listen_for(self.listening(state()))
        for spoken in ear.flush():
            yield from self._event(spoken, state(), now())

    def _event(self, spoken: Spoken, state: State, now: Instant, *, broken_off: bool = False) -> Iterator[Utterance]:
        """The event that an utterance makes: none where no word was understood, or while holding on."""
        level = trust(spoken.decoded, self.model.policy, any_words=state.takes_any_words)
        if level is Trust.REFUSE or (state.held and spoken.decoded.text != "carry on"):
            return
        yield Utterance(
            now=now,
            text=" ".join(settle_homophones(spoken.decoded.known)),
            via="voice",
            words=words_of(spoken.decoded),
            sound=self._keep(spoken),
            confidence=_confidence(spoken.decoded, self.model.policy),
            doubtful=BROKEN_OFF if broken_off else None if level is Trust.ACCEPT else UNSURE,
            waited=Decimal(0) if broken_off else _thousandths(spoken.silent_s),
        )

    def _keep(self, spoken: Spoken) -> Sound:
        clip = write_clip(self.folder, spoken.samples)
        phrases = spoken.grammar.phrases if spoken.grammar is not None else ()
        return Sound(
            clip=clip.file,
            clip_sha256=clip.sha256,
            grammar=keep_grammar(self.folder, phrases),
            model=self.model.hash,
        )


def words_of(decoded: Decoded) -> tuple[Word, ...]:
    """The words with their confidences, to three decimals."""
    return tuple(Word(word=word.word, confidence=_thousandths(word.confidence)) for word in decoded.words)


def _confidence(decoded: Decoded, policy: Policy) -> Decimal | None:
    """How likely all the words are right."""
    return _thousandths(probability(decoded, policy)) if decoded.known else None


def _thousandths(value: float) -> Decimal:
    return Decimal(round(value * 1000)) / 1000


__all__ = ["RATE", "Listener", "words_of"]
