"""Mark: letters and digits read off a part, read back, and compared with what is expected."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Answered, Mark, NoLongerCounts, Place
from benchvoice.session.facts import Instant
from benchvoice.session.marks import expected_of, is_same, todo_of
from benchvoice.session.moves import go_back
from benchvoice.session.questions import listed, one_of, plain, yes_or_no
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_place
from benchvoice.speech.spelling import say_mark, spelt


def _opening(_state: State, step: Step) -> tuple[str, ...]:
    assert step.mark is not None
    return (f"Read {step.mark.read}",)


def _ask(turn: Turn, step: Step) -> bool:
    assert step.mark is not None
    todo = todo_of(turn.state, step)
    if not todo:
        return False
    if step.mark.places and turn.state.talk.place != todo[0]:
        turn.say(say_place(todo[0], tuple(step.mark.places), turn.state.talk.place))
        turn.talk(place=todo[0])
    return True


def _read(step: Step, text: str) -> str | None:
    """The mark that the words spell, or a whole answer that is a word (plain)."""
    assert step.mark is not None
    whole = next((word for word in _words(step) if plain(word) == plain(text)), None)
    return whole if whole is not None else spelt(text)


def _words(step: Step) -> tuple[str, ...]:
    assert step.mark is not None
    expected = step.mark.expected
    marks = tuple(expected.marks.values()) if expected else ()
    return (*step.mark.words, *(mark for mark in marks if mark.isalpha() and len(mark) > 2), "plain", "none")


def _take(turn: Turn, step: Step, text: str) -> bool:
    assert step.mark is not None
    todo = todo_of(turn.state, step)
    value = _read(step, text) if todo else None
    if value is None:
        return False
    turn.understood("mark")
    place = todo[0]
    expected, why = expected_of(turn.state, step, place)
    if expected is None:

        def keep(inner: Turn) -> None:
            _write(inner, step, place, value, text, None, None)

        def again(inner: Turn) -> None:
            inner.say("Say it again")

        turn.ask(yes_or_no("confirm mark", f"{say_mark(value)}. Yes or no?", keep, again))
        return True
    matches = is_same(value, expected)
    _write(turn, step, place, value, text, expected, matches)
    if matches:
        turn.say(f"{say_mark(value)}, as expected")
    else:
        turn.say(f"{say_mark(value)}. I expected {say_mark(expected)}{f' for {why}' if why else ''}")
        _no_match(turn, step)
    return True


def _write(
    turn: Turn, step: Step, place: Place, value: str, said: str, expected: str | None, matches: bool | None
) -> None:
    assert step.mark is not None
    turn.write(
        Mark(
            step=step.step, read=step.mark.read, place=place, value=value, said=said, expected=expected, matches=matches
        )
    )


def _no_match(turn: Turn, step: Step) -> None:
    """Stop: wrong part or wrong answer? The way out may name causes of its own."""
    assert step.mark is not None
    way = step.mark.otherwise
    if way is not None and way.say:
        turn.say(way.say)
    if way is None or way.back_to is None:
        turn.say("Stop. Read it again, or find the right part")
        return
    causes = way.back_to if isinstance(way.back_to, dict) else {"wrong part": step.step, "wrong answer": way.back_to}
    prompt = way.ask or f"Stop: {listed(causes)}?"

    def then(inner: Turn, cause: str) -> None:
        target = causes[cause]
        if target == step.step:
            inner.say("Find the right part and read it")
            return
        send_back(inner, step, target, cause)

    turn.ask(one_of("no match", prompt, causes, then))


def send_back(turn: Turn, step: Step, target: str, why: str) -> None:
    """Go back to a step, or to the step that asks a particular, whose answer then doesn't count any more."""
    if target in turn.state.procedure.particulars or target in turn.state.procedure.options:
        rows = tuple(row.n for row in turn.state.facts.of(Answered) if row.entry.question == target)
        if rows:
            turn.write(NoLongerCounts(entries=rows, what=target.replace("_", " "), reason=why))
        asks = [each for each in turn.state.procedure.steps if each.choose and target in each.choose.ask]
        if not asks:
            return
        target = asks[0].step
    go_back(turn, turn.state.step(target), step, why)


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    assert step.mark is not None
    what = step.mark.read
    axes = tuple(step.mark.places)
    return tuple(f"{what} {say_place(place, axes)}".strip() for place in todo_of(state, step))


MARK = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    phrases=lambda _state, step: _words(step),
    about=lambda _state, _step: frozenset({"spelling"}),
)
