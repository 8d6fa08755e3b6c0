"""A number that was broken off, "two point": held until its rest comes, and then asked, never taken.

It lives in the talk and dies with the process. Whatever else is said drops it, and what it was said for is asked again
whole; talk and noise leave it. The ear waits inside an utterance by itself; a half comes here when somebody types, when
that wait is over, or when a warning had to be spoken in the middle.
"""

from dataclasses import dataclass, replace
from decimal import Decimal

from benchvoice.session.alternating import reading_due
from benchvoice.session.facts import Instant
from benchvoice.session.hearing import leading_place
from benchvoice.session.plan import current_step
from benchvoice.session.state import Question, State
from benchvoice.session.taking import measure_of
from benchvoice.session.turn import Turn
from benchvoice.session.zeros import awaits_zero
from benchvoice.speech import pauses, shapes
from benchvoice.speech.measures import measures
from benchvoice.speech.say import say_place
from benchvoice.speech.tokens import words_of

WAIT = Decimal(8)
"""Seconds of silence inside something unfinished, as the ear waits too."""
IN_TWO = "said in two parts"

STOPPING = ("hold on", "hang on", "stop", "wait")
_READ_ANYWAY = frozenset({"confirm reading", "decision", "which stands"})
"""Questions over a reading that another reading may follow unasked."""


@dataclass(frozen=True, slots=True)
class Half:
    """What was said of a number, and what it was said for."""

    words: str
    since: Instant
    waited: Decimal
    """Seconds of silence that had passed by then."""
    step: str | None
    question: Question | None


def held_half(state: State) -> Half | None:
    """The half that is held, while what it was said for is still asked."""
    half, step = state.talk.half, current_step(state)
    if half is None or half.question is not state.talk.question or half.step != (step.step if step else None):
        return None
    return half


def left(state: State, now: Instant) -> Decimal | None:
    """Seconds until a half is given up; None where none is held."""
    half = held_half(state)
    return None if half is None or state.held else WAIT - half.waited - (now.elapsed - half.since.elapsed)


def is_half(state: State, text: str) -> bool:
    """Whether the words are the beginning of a number, where one is asked."""
    words = words_of(_without_place(state, text))
    begun = shapes.has_number(words) or bool(shapes.PIECES & set(words))
    begun &= words[:1] not in (("and",), ("in",), ("of",), ("to",), ("the",))
    number = begun and shapes.all_number_words(words) and words.count("point") <= 1
    return number and pauses.unfinished(text) and _asks_number(state)


def is_number(state: State, text: str) -> bool:
    """Whether the words are a number by themselves, whatever is made of it."""
    return bool(measures(words_of(_without_place(state, text))))


def _without_place(state: State, text: str) -> str:
    step = current_step(state)
    if step is None or step.measure is None:
        return text
    return leading_place(text, step.measure.places, state.talk.place)[1]


def _asks_number(state: State) -> bool:
    question, step = state.talk.question, current_step(state)
    if question is not None and question.about in ("reading", "count"):
        return True
    if step is None or (question is not None and question.name not in _READ_ANYWAY):
        return False
    return step.measure is not None or reading_due(state, step) is not None


def stopped(state: State, text: str) -> str:
    """Only "hold on" or "stop" where the ear heard it in one with half a number: "two point hold on"."""
    tail = next((each for each in STOPPING if text.endswith(f" {each}")), "")
    return tail if tail and is_half(state, text.removesuffix(f" {tail}")) else text


def keep(turn: Turn, words: str) -> None:
    """Keep a half and say nothing: what follows it may be close."""
    turn.understood("half a number")
    question, step = turn.state.talk.question, current_step(turn.state)
    if question is not None and question.name == "confirm reading":
        question = None  # another reading has begun
    waited = turn.utterance.waited if turn.utterance is not None else Decimal(0)
    half = Half(words, turn.now, waited, step.step if step else None, question)
    turn.talk(half=half, question=question)


def wait_anew(turn: Turn) -> None:
    """Something was said in the middle of it: the wait begins again."""
    half = held_half(turn.state)
    if half is not None:
        turn.talk(half=replace(half, since=turn.now, waited=Decimal(0)))


def give_up(turn: Turn) -> bool:
    """Say what alone was heard once the wait is over, and ask again; True when the work asks by itself."""
    half, over = held_half(turn.state), left(turn.state, turn.now)
    if half is None or over is None or over > 0:
        return False
    turn.say(f'I heard only "{half.words}"')
    return ask_whole(turn)


def ask_whole(turn: Turn) -> bool:
    """Drop a half and ask what it was said for again; True when the work asks by itself."""
    turn.talk(half=None)
    question, step, place = turn.state.talk.question, current_step(turn.state), turn.state.talk.place
    if question is not None:
        turn.say(question.prompt)
        return False
    again = turn.state.talk.again
    place = again if again is not None else place
    if step is None or step.measure is None or place is None or awaits_zero(turn.state, step) is not None:
        turn.talk(told=None, place=None)
        return True
    measure = measure_of(step)
    where = say_place(place, tuple(measure.places))
    turn.say(f"{where}, {measure.what}" if where else measure.what)
    return False
