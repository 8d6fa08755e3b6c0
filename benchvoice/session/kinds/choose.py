"""Choose: ask particulars and options at this step, or let a computed value choose."""

from benchvoice.procedure.models import Step
from benchvoice.quantity.values import Quantity
from benchvoice.session.computing import chosen_by
from benchvoice.session.entries import Answered, Reading
from benchvoice.session.facts import Instant, Row
from benchvoice.session.judging import judge_again
from benchvoice.session.plan import answered, answers
from benchvoice.session.questions import listed, one_of, yes_or_no
from benchvoice.session.sources import computed_row, places_of_computed
from benchvoice.session.state import Question, State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_number, say_quantity


def particular_question(state: State, name: str, step: str | None) -> Question:
    """Ask a particular (echoed, then yes or no) or an option (yes or no)."""
    if name in state.procedure.options:
        option = state.procedure.options[name]

        def note(answer: str) -> "_Noter":
            return _Noter(name, answer, step)

        return yes_or_no(name, option.ask, note("yes"), note("no"))
    particular = state.procedure.particulars[name]

    def then(turn: Turn, choice: str) -> None:
        def again(inner: Turn) -> None:
            inner.ask(particular_question(inner.state, name, step))

        echo = f"{choice}{_stands_for(particular.sizes.get(choice))}. Yes or no?"
        turn.ask(yes_or_no(f"confirm {name}", echo, _Noter(name, choice, step), again))

    return one_of(name, f"{particular.ask} {_spoken(particular.choices)}", particular.choices, then)


class _Noter:
    """Writes an answer; a callable so that yes and no share it."""

    def __init__(self, name: str, answer: str, step: str | None) -> None:
        self.name, self.answer, self.step = name, answer, step

    def __call__(self, turn: Turn) -> None:
        turn.write(answered(turn.state.procedure, self.name, self.answer, self.step))
        judge_again(turn)


def _stands_for(size: Quantity | None) -> str:
    """The actual size behind a size name, as it is said after it: ", ten thou under"."""
    if size is None or size.value == 0:
        return ""
    return f", {say_quantity(abs(size.value), size.unit)} {'over' if size.value > 0 else 'under'}"


def _spoken(choices: tuple[str, ...]) -> str:
    text = listed(choices, "or")
    return text[0].upper() + text[1:]


def _todo(state: State, step: Step) -> tuple[str, ...]:
    assert step.choose is not None
    given = answers(state.facts)
    names = (*step.choose.ask, *((step.choose.name,) if step.choose.name else ()))
    return tuple(name for name in names if name not in given)


def _ask(turn: Turn, step: Step) -> bool:
    assert step.choose is not None
    for name in _todo(turn.state, step):
        if name == step.choose.name and step.choose.by is not None:
            return _choose_by_value(turn, step, name)
        turn.ask(particular_question(turn.state, name, step.step))
        return True
    return False


def _choose_by_value(turn: Turn, step: Step, name: str) -> bool:
    """Let a computed value choose; True (wait) where it is missing or fits none."""
    assert step.choose is not None
    row = _value(turn.state, step.choose.by or "")
    if row is None or row.entry.value is None:
        turn.say(f"{name.replace('_', ' ')} waits for a value that is not there yet")
        return True
    choice = chosen_by(step.choose, row.entry.value)
    value = say_number(row.entry.value)
    what = row.entry.what.replace("_", " ")
    if choice is None:
        if turn.state.talk.told != step.step:
            turn.talk(told=step.step)
            turn.say(f"{what} is {value}: none of {listed(step.choose.bands, 'and')} fits. Measure again, or go back")
        return True
    turn.write(Answered(question=name, answer=choice, step=step.step))
    turn.say(f"{what} is {value}{_whose(turn.state, row)}: {choice}")
    judge_again(turn)
    return False


def _whose(state: State, row: Row[Reading]) -> str:
    """Which place a greatest or least value was read at, when the step has one axis and one place has that value."""
    inputs = [each for each in state.facts.of(Reading) if each.n in row.entry.from_entries]
    same = {each.entry.place for each in inputs if each.entry.value == row.entry.value and each.entry.place}
    if len(same) != 1:
        return ""
    return f", number {next(iter(same))[0]}"


def _value(state: State, by: str) -> Row[Reading] | None:
    name, _, which = by.partition(".")
    measure = state.step(name).measure
    assert measure is not None
    places = places_of_computed(measure, measure.computed[which])
    return computed_row(state.facts, name, which, places[0])


def _take(_turn: Turn, _step: Step, _text: str) -> bool:
    return False


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    return tuple(name.replace("_", " ") for name in _todo(state, step))


CHOOSE = Kind(opening=lambda _state, _step: (), ask=_ask, take=_take, owes=_owes, by_itself=True)
