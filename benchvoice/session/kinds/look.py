"""Look and say: an observation kept in the person's own words (and sound), said again where it matters later."""

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import every_place
from benchvoice.session.entries import Place, Remembered
from benchvoice.session.facts import Facts, Instant
from benchvoice.session.questions import free_words
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_place


def _open_places(facts: Facts, step: Step) -> tuple[Place, ...]:
    assert step.look is not None
    seen = {row.entry.place for row in facts.of(Remembered) if row.entry.step == step.step and row.entry.observed}
    return tuple(place for place in every_place(step.look.places) if place not in seen)


def _opening(_state: State, step: Step) -> tuple[str, ...]:
    assert step.look is not None
    return (step.look.say,)


def _ask(turn: Turn, step: Step) -> bool:
    assert step.look is not None
    todo = _open_places(turn.state.facts, step)
    if not todo:
        return False
    place = todo[0]

    def then(inner: Turn, text: str) -> None:
        inner.write(Remembered(text=text, step=step.step, place=place, observed=True, clip=inner.clip))
        inner.say(text)

    turn.ask(free_words("what is seen", say_place(place, tuple(step.look.places)), then))
    return True


def _take(_turn: Turn, _step: Step, _text: str) -> bool:
    return False


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    assert step.look is not None
    axes = tuple(step.look.places)
    return tuple(f"what you see {say_place(place, axes)}".strip() for place in _open_places(state.facts, step))


LOOK = Kind(opening=_opening, ask=_ask, take=_take, owes=_owes, by_itself=True)
