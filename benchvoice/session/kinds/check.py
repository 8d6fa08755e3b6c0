"""Check: how something feels or looks, graded by its answers; also the hold points between stages of tightening."""

from collections.abc import Callable

from benchvoice.procedure.models import Graded, Step
from benchvoice.procedure.places import every_place
from benchvoice.session.entries import Checked, Place
from benchvoice.session.facts import Facts, Instant
from benchvoice.session.hearing import leading_place
from benchvoice.session.questions import free_words, plain
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.session.ways import fail_back
from benchvoice.speech.say import say_place


def answers_of(graded: Graded) -> tuple[str, ...]:
    """Every answer to a graded question."""
    return (*graded.passes, *graded.further, *graded.fails)


def grade(
    turn: Turn,
    graded: Graded,
    text: str,
    note: Callable[[Turn, str, str | None, bool], None],
) -> bool:
    """Take an answer to a graded question; `note` gets the answer, where it is, and whether it passed."""
    said = _bare(text)
    answer = next((each for each in answers_of(graded) if plain(each) == said), None)
    if answer is None:
        return _with_its_place(turn, graded, said, note)
    turn.understood(answer)
    turn.talk(question=None)
    if answer in graded.passes:
        note(turn, answer, None, True)
    elif answer in graded.further:
        prompt = graded.further[answer]

        def then(inner: Turn, where: str) -> None:
            note(inner, answer, where, False)

        turn.ask(free_words("where", prompt if prompt.endswith("?") else f"{prompt}?", then, about="places"))
    else:
        note(turn, answer, None, False)
    return True


def _bare(text: str) -> str:
    """An answer without "it's" or "it turns" before it."""
    words = plain(text)
    for lead in ("it's ", "it is ", "its ", "it turns ", "turns ", "it feels ", "feels "):
        words = words.removeprefix(lead)
    return words


def _with_its_place(turn: Turn, graded: Graded, said: str, note: Callable[[Turn, str, str | None, bool], None]) -> bool:
    """An answer with where it is in the same breath: "tight spot at number four"."""
    for answer in graded.further:
        if said.startswith(f"{plain(answer)} "):
            where = said.removeprefix(f"{plain(answer)} ")
            for lead in ("at ", "on ", "in ", "near "):
                where = where.removeprefix(lead)
            turn.understood(answer)
            turn.talk(question=None)
            note(turn, answer, where, False)
            return True
    return False


def _open_places(facts: Facts, step: Step) -> tuple[Place, ...]:
    assert step.check is not None
    passed: dict[Place, bool] = {}
    for row in facts.of(Checked):
        if row.entry.step == step.step:
            passed[row.entry.place] = row.entry.passed
    return tuple(place for place in every_place(step.check.places) if not passed.get(place))


def _opening(_state: State, step: Step) -> tuple[str, ...]:
    assert step.check is not None
    return (step.check.ask,)


def _ask(turn: Turn, step: Step) -> bool:
    assert step.check is not None
    todo = _open_places(turn.state.facts, step)
    if not todo:
        return False
    if step.check.places and turn.state.talk.place != todo[0]:
        axes = tuple(step.check.places)
        turn.say(say_place(todo[0], axes, turn.state.talk.place))
        turn.talk(place=todo[0])
    return True


def _take(turn: Turn, step: Step, text: str) -> bool:
    assert step.check is not None
    todo = _open_places(turn.state.facts, step)
    if not todo:
        return False
    words = text.removeprefix("all ") if step.check.places else text
    if words != text and any(plain(words) == plain(each) for each in step.check.passes):
        turn.understood(text)
        for place in todo:
            turn.write(Checked(step=step.step, place=place, answer=words, passed=True))
        return True
    named, rest = leading_place(text, step.check.places)

    def note(inner: Turn, answer: str, where: str | None, passed: bool) -> None:
        assert step.check is not None
        here = named or todo[0]
        inner.write(Checked(step=step.step, place=here, answer=answer, where=where, passed=passed))
        if passed:
            return
        if step.check.way_back(answer) is not None:
            fail_back(inner, step, step.check, answer, where)
        else:
            inner.say(f"{answer}: that does not pass. Put it right and say how it is, or leave it for later")

    return grade(turn, step.check, rest if named else text, note)


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    assert step.check is not None
    axes = tuple(step.check.places)
    if not axes:
        return (f"the answer to: {step.check.ask}",) if _open_places(state.facts, step) else ()
    return tuple(say_place(place, axes) for place in _open_places(state.facts, step))


def _phrases(_state: State, step: Step) -> tuple[str, ...]:
    assert step.check is not None
    return answers_of(step.check)


CHECK = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    phrases=_phrases,
    about=lambda _state, step: frozenset({"places"} if step.check and step.check.places else set()),
)
