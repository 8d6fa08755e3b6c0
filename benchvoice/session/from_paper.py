"""Figures read off paper: kept with their source, never as measured now, and nothing where the doing itself counts.

"Off bo's sheet of yesterday, two and a quarter"; "two and a quarter from the paper"; "the card says nine".
"""

import re
from dataclasses import dataclass

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Paper, SaidLater
from benchvoice.session.kinds import KINDS
from benchvoice.session.kinds.measure import place_for
from benchvoice.session.taking import context_at, take_reading
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import parse_reading

PAPERS = ("paper", "sheet", "card", "list", "book")
WHEN = ("yesterday", "last night", "last week", "last month", "last year", "this morning", "the other day")
_THING = f"(?P<what>{'|'.join(PAPERS)})"
_OWNER = r"(?:the|my|our|(?P<whose>[a-z]+)'s)"
_AFTER = rf"(?: (?:by|of) (?P<by>(?!yesterday|last|this|the)[a-z]+))?(?: (?:of |from )?(?P<when>{'|'.join(WHEN)}))?"
_NAMED = f"(?:from|off|by) {_OWNER} {_THING}{_AFTER}"
_FORMS = tuple(
    re.compile(form)
    for form in (f"{_NAMED} (?P<rest>.+)", f"(?P<rest>.+) {_NAMED}", f"{_OWNER} {_THING}{_AFTER} says (?P<rest>.+)")
)


@dataclass(frozen=True, slots=True)
class ReadOff:
    """An utterance that says where it was read off, and what is left of it."""

    paper: Paper
    rest: str


def read_off(text: str) -> ReadOff | None:
    """The source that a whole utterance names, and its other words; None where it names none."""
    words = " ".join(text.replace(",", " ").split())
    for form in _FORMS:
        found = form.fullmatch(words)
        if found is not None:
            paper = Paper(what=found["what"], whose=found["whose"] or found["by"], when=found["when"])
            return ReadOff(paper, found["rest"])
    return None


def paper_phrases() -> tuple[str, ...]:
    """What the ear listens for where readings are taken."""
    return (*(f"{off} the {what}" for off in ("from", "off") for what in PAPERS), *WHEN, "by", "says")


def take_answer(turn: Turn, step: Step, text: str) -> bool:
    """Let a step take an answer; one that was read off paper is kept with its source. False where it is none."""
    found = read_off(text)
    if found is None:
        return KINDS[step.kind].take(turn, step, text)
    if step.measure is not None and not step.witness:
        return _reading(turn, step, found)
    return _counts_for_nothing(turn, step, found, text)


def _reading(turn: Turn, step: Step, found: ReadOff) -> bool:
    place, words = place_for(turn, step, found.rest)
    if place is None:
        return False
    heard = parse_reading(words, context_at(turn.state, step, place))
    return take_reading(turn, step, place, heard, words, paper=found.paper)


def _counts_for_nothing(turn: Turn, step: Step, found: ReadOff, text: str) -> bool:
    """What must be done or seen counts only then: it is kept as said later."""
    if not KINDS[step.kind].take(Turn(turn.state, turn.now, turn.utterance), step, found.rest):
        return False
    turn.understood("from paper")
    turn.write(SaidLater(step=step.step, text=text, paper=found.paper))
    why = "a witness must see it" if step.witness else "it must be done"
    turn.say(f"Kept as from the {found.paper.what}. It closes nothing: {why}")
    return True
