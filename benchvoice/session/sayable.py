"""What a person may say just now: the phrases for the ear's grammar, and how patient the ear must be."""

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import places_of
from benchvoice.procedure.words import written_words
from benchvoice.session.alternating import reading_due
from benchvoice.session.bans import sayable_breaks
from benchvoice.session.commands import COMMANDS
from benchvoice.session.counting import counts_owed
from benchvoice.session.evenness import context_of
from benchvoice.session.fasteners import parts_of, whole_order
from benchvoice.session.from_paper import paper_phrases
from benchvoice.session.kinds import KINDS
from benchvoice.session.plan import current_step
from benchvoice.session.questions import is_yes_or_no
from benchvoice.session.state import State
from benchvoice.session.taking import context_at
from benchvoice.speech import pauses
from benchvoice.speech.dates import date_words
from benchvoice.speech.homophones import settle_homophones
from benchvoice.speech.places import Axes
from benchvoice.speech.readings import Context
from benchvoice.speech.vocabulary import duration_words, mark_words, number_words, place_vocabulary, reading_words

_GLUE = "a an and are as at by for from in is it not of off on or out that the then to was were with"
"""What holds a remark together, besides the words of the procedure."""


def sayable(state: State, people: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Every phrase and word that may be said now, for a grammar. During "hold on" that is "carry on" alone."""
    if state.held:
        return ("carry on",)
    found: dict[str, None] = {}
    for command in COMMANDS:
        found.update(dict.fromkeys(command.phrases(state)))
    found.update(dict.fromkeys(_answers(state, people)))
    for name in people:
        found[f"{name} is taking over"] = None
    return tuple(phrase for phrase in found if phrase)


def _answers(state: State, people: tuple[str, ...]) -> tuple[str, ...]:
    question, step = state.talk.question, current_step(state)
    words: list[str] = []
    about: set[str] = set()
    if question is not None:
        words.extend(question.phrases)
        about.add(question.about)
    if step is not None:
        kind = KINDS[step.kind]
        words.extend(kind.phrases(state, step))
        about |= kind.about(state, step)
        if counts_owed(state, step):
            about.add("count")
        words.extend(_by_about(state, step, about))
        words.extend(sayable_breaks(state))
    if "name" in about:
        words.extend(people)
    if "words" in about:
        words.extend(sorted({*_GLUE.split(), *written_words(state.procedure)}))
    if about & {"spelling", "product"} and not is_yes_or_no(question):
        words.extend(sorted(mark_words()))  # not beside yes or no: a yes in noise is an "s"
    if "date" in about:
        words.extend(sorted(date_words() | number_words()))
    return tuple(words)


def _by_about(state: State, step: Step, about: set[str]) -> list[str]:
    words: list[str] = []
    if "reading" in about:
        words.extend(sorted(reading_words(_context(state, step))))
        words.extend(paper_phrases())
    if "temperature" in about and step.measure is not None and step.measure.warmth is not None:
        even = step.measure.warmth.even
        words.extend(sorted(reading_words(context_of(state, even, ""))) if even is not None else ())
    if "duration" in about:
        words.extend(sorted(duration_words() | {"ago", "over"}))
    if about & {"count", "positions"}:
        words.extend(sorted(number_words()))
    if "places" in about:
        words.extend(sorted(place_vocabulary(_axes(step) or _every_axis(state))))
        words.extend(sorted(number_words()))
    if "positions" in about:
        for part in parts_of(step):
            words.extend(sorted(place_vocabulary({"": whole_order(state.procedure, part.group)})))
    return words


def _axes(step: Step) -> Axes:
    for part in (step.measure, step.check, step.mark, step.look):
        if part is not None:
            return part.places
    return {}


def _every_axis(state: State) -> Axes:
    """The axes of all readings, for questions about where something is: touched, scored, tight."""
    return {
        axis: values
        for step in state.procedure.steps
        if step.measure is not None
        for axis, values in step.measure.places.items()
    }


def _context(state: State, step: Step) -> Context:
    due = reading_due(state, step)
    if due is not None:
        return context_at(state, due[1], due[2])
    if step.measure is not None:
        place = state.talk.place if state.talk.place is not None else places_of(step.measure)[0]
        return context_at(state, step, place)
    for part in parts_of(step):
        if part.wrench is not None:
            return Context(unit=state.procedure.wrenches[part.wrench].unit, work=state.procedure.work, what="torque")
    return Context(work=state.procedure.work)


def unfinished(words: tuple[str, ...]) -> bool:
    """Whether what was said so far can't be the end: "two point", "four and", "all but"."""
    settled = settle_homophones(words)
    return bool(settled) and (settled[-1] in _OPEN_ENDED or pauses.unfinished(" ".join(settled)))


_OPEN_ENDED = frozenset({"but", "because", "number", "the"})
"""Besides what can't end a number."""
