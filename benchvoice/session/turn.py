"""One turn: what an event does to the state, gathered in order.

A turn is the only thing here that changes while it runs; it lives inside one call of `step` and what leaves it is a
new state and a tuple of effects. Every sentence is collected and spoken at the end, after every entry was written.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from benchvoice.session.effects import Effect, End, LookAtBuilds, Say, Tone, Write
from benchvoice.session.entries import Entry, Heard, Said, Unclear
from benchvoice.session.events import Utterance
from benchvoice.session.facts import Instant
from benchvoice.session.state import Question, State


class Turn:
    """Collects entries and sentences while an event is worked on."""

    def __init__(self, state: State, now: Instant, utterance: Utterance | None = None) -> None:
        self.state = state
        self.now = now
        self.utterance = utterance
        self.began = state.facts.count
        self._effects: list[Effect] = []
        self._sentences: list[str] = []
        self._last = ""
        self._tone: Tone | None = None
        self._heard = utterance is None
        self._meaning = "answer"

    # what was heard

    def understood(self, meaning: str) -> None:
        """Name what the utterance was taken for; the heard entry is written before anything it leads to."""
        self._meaning = meaning

    def unclear(self, reason: str) -> None:
        """Keep an utterance that was not understood, with the reason; nothing else comes of it."""
        if self._heard or self.utterance is None:
            return
        self._heard = True
        said = self.utterance
        self._append(Unclear(text=said.text, words=said.words, reason=reason, via=said.via, sound=said.sound))

    def doubt(self, why: str) -> None:
        """Trust the words no more than words that the ear is not sure of: whatever they are, they are asked about."""
        if self.utterance is not None:
            self.utterance = replace(self.utterance, doubtful=self.utterance.doubtful or why)

    def forget(self) -> None:
        """Keep nothing of the utterance: what is said during "hold on" is nobody's business."""
        self._heard = True

    @property
    def unclear_because(self) -> str | None:
        """Why the utterance was kept as one that was not understood; None where it was not."""
        entries = (effect.entry for effect in self._effects if isinstance(effect, Write))
        return next((entry.reason for entry in entries if isinstance(entry, Unclear)), None)

    @property
    def speaks(self) -> bool:
        """Whether anything will be said at the end of it."""
        return bool(self._sentences)

    @property
    def ended(self) -> bool:
        """Whether the conversation ends with this turn."""
        return any(isinstance(effect, End) for effect in self._effects)

    @property
    def looks(self) -> bool:
        """Whether the edge is to look at other builds: what comes next waits for what it sees."""
        return any(isinstance(effect, LookAtBuilds) for effect in self._effects)

    def _note_heard(self) -> None:
        if self._heard or self.utterance is None:
            return
        self._heard = True
        said = self.utterance
        self._append(Heard(text=said.text, words=said.words, understood=self._meaning, via=said.via, sound=said.sound))

    @property
    def clip(self) -> str | None:
        """The clip of the utterance, when there is one."""
        return self.utterance.sound.clip if self.utterance and self.utterance.sound else None

    # what comes of it

    def write(self, entry: Entry) -> int:
        """Add an entry to the log; returns its line number."""
        self._note_heard()
        return self._append(entry)

    def _append(self, entry: Entry) -> int:
        facts = self.state.facts.add(entry, self.now)
        self.state = replace(self.state, facts=facts)
        self._effects.append(Write(entry, self.now, facts.person))
        return facts.count

    def do(self, effect: Effect) -> None:
        """Have something else done, in its place among the writes."""
        self._note_heard()
        self._effects.append(effect)

    def say(self, *sentences: str, tone: Tone | None = None) -> None:
        """Speak at the end of the turn."""
        self._sentences.extend(sentence for sentence in sentences if sentence)
        self._tone = tone or self._tone

    def say_last(self, sentence: str) -> None:
        """End what is said with a sentence that "again" does not repeat."""
        self._last = sentence

    def ask(self, question: Question | None) -> None:
        """Ask and wait for the answer (None: wait for nothing in particular)."""
        self.talk(question=question)
        if question is not None:
            self.say(question.prompt)

    def talk(self, **changes: Any) -> None:
        """Change what the conversation remembers."""
        self.state = replace(self.state, talk=replace(self.state.talk, **changes))

    def end(self) -> tuple[State, tuple[Effect, ...]]:
        """The state and the effects, the words last."""
        self._note_heard()
        text = join(self._sentences)
        if text:
            whole = join((text, self._last))
            self._append(Said(text=whole))
            self._effects.append(Say(whole, self._tone))
            self.talk(last_said=text)
        return self.state, tuple(self._effects)


def join(sentences: Iterable[str]) -> str:
    """Sentences as one text: each begins with a capital and ends with a stop."""
    whole = []
    for sentence in sentences:
        text = sentence.strip()
        if not text:
            continue
        text = text[0].upper() + text[1:]
        whole.append(text if text[-1] in ".?!" else text + ".")
    return " ".join(whole)
