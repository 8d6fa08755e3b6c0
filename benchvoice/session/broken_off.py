"""A stage that was broken off by a restart of the program: what its kind makes of it, unprompted, once a resumption.

Some of its fasteners were said, and what was done after the last one nobody has said. Torque begins again from one;
stretch and drag are read anyway. An angle can't be seen afterwards: only what was said one by one counts, and what a
line painted beforehand shows; any other that was turned is spent.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Answered, Resumed, Tightened
from benchvoice.session.fasteners import Task, current_task, is_done, order_numbers, still_open
from benchvoice.session.hearing import position_names
from benchvoice.session.losing import lost_place
from benchvoice.session.moves import write_done
from benchvoice.session.positions import bare_positions, say_numbers
from benchvoice.session.questions import yes_or_no
from benchvoice.session.scrap import scrap_position
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count

OTHERS, BY_LINE, SPENT = "broken off", "broken off, by the line", "confirm spent"
QUESTIONS = frozenset({OTHERS, BY_LINE, SPENT})
"""Names of the questions here: the facts ask them anyway, so that a command may come first."""

_NONE = ("none", "none turned", "no others", "no other", "nothing", "nothing turned", "no")
_LINE = ("painted line", "a painted line", "there is a painted line", "there's a painted line", "line painted")
_UNKNOWN = ("i don't know", "don't know", "not sure", "i'm not sure", "no idea", "unknown")
_BY_LINE = (" by the line", " by the painted line", " line painted", " by its line", " by their lines")
_TURNED = (" turned", " were turned", " was turned", " have been turned", " has been turned", " have turned")


def broken_off(state: State, step: Step) -> Task | None:
    """The stage in hand, when its fasteners that count were all said before the program was last started."""
    task, resumed = current_task(state, step), state.facts.last(Resumed)
    if task is None or resumed is None or state.talk.taken_up >= resumed.n or task.part.each_read is not None:
        return None
    if not still_open(state.facts, task) or not is_done(state.facts, task):
        return None
    newest = max(
        (row for row in state.facts.of(Tightened) if row.entry.group == task.part.group), key=lambda row: row.n
    )
    here = (newest.entry.step, newest.entry.stage, newest.entry.outcome) == (step.step, task.number, "done")
    answered = any(row.entry.question == OTHERS and row.n > resumed.n for row in state.facts.of(Answered))
    return task if here and newest.n < resumed.n and not answered else None


def take_up(turn: Turn, step: Step) -> bool:
    """Say or ask what becomes of a stage that was broken off; True while an answer is waited for."""
    task = broken_off(turn.state, step)
    if task is None:
        return False
    if task.stage.way in ("angle", "turns"):
        turn.ask(_which_others(turn.state, task))
        return True
    resumed = turn.state.facts.last(Resumed)
    turn.talk(taken_up=resumed.n if resumed is not None else 0)
    lost_place(turn, step, "broken off")
    return False


def _which_others(state: State, task: Task) -> Question:
    done = say_count(len(is_done(state.facts, task)))
    prompt = (
        f"Stage {say_count(task.number)} was broken off after {done}. "
        "Which others have been turned, or is there a painted line?"
    )

    def take(turn: Turn, text: str) -> bool:
        if text in _LINE:
            turn.understood("painted line")
            turn.ask(_by_line(task))
            return True
        if text in _UNKNOWN:
            turn.understood("unknown")
            _ask_spent(turn, task, still_open(turn.state.facts, task), text)
            return True
        if text in _NONE:
            turn.understood("none turned")
            _settle(turn, task, "none")
            return True
        return _take_named(turn, task, text)

    phrases = ("none", "painted line", "i don't know", "by the line", "turned")
    return Question(name=OTHERS, prompt=prompt, take=take, phrases=phrases, about="positions")


def _by_line(task: Task) -> Question:
    """Which fasteners the line painted beforehand shows as turned: these count."""

    def take(turn: Turn, text: str) -> bool:
        if text in _NONE:
            turn.understood("none turned")
            _settle(turn, task, "none, by the painted line")
            return True
        names = _names(turn.state, task, _without(text, _BY_LINE))
        if names is None:
            return False
        turn.understood("turned, by the painted line")
        _count(turn, task, names, text)
        return True

    prompt = "Which others does the line show turned?"
    return Question(name=BY_LINE, prompt=prompt, take=take, phrases=("none", "turned"), about="positions")


def _take_named(turn: Turn, task: Task, text: str) -> bool:
    """Others by their numbers: they count by a painted line alone."""
    words = _without(text, _BY_LINE)
    names = _names(turn.state, task, words)
    if names is None:
        return False
    turn.understood("turned, by the painted line" if words != text else "turned")
    if words != text or not names:
        _count(turn, task, names, text)
    else:
        _ask_spent(turn, task, names, text)
    return True


def _names(state: State, task: Task, text: str) -> tuple[str, ...] | None:
    """The fasteners named that are open in the stage; None where the words name none of the stage."""
    numbers = order_numbers(state.procedure, task.part.group)
    names = position_names(bare_positions(_without(text, _TURNED)), numbers)
    if not names or not set(names) <= {*still_open(state.facts, task), *is_done(state.facts, task)}:
        return None
    return tuple(name for name in names if name in still_open(state.facts, task))


def _without(text: str, tails: tuple[str, ...]) -> str:
    tail = next((each for each in sorted(tails, key=len, reverse=True) if text.endswith(each)), "")
    return text.removesuffix(tail)


def _settle(turn: Turn, task: Task, answer: str) -> None:
    turn.write(Answered(question=OTHERS, answer=answer, step=task.step.step))
    turn.talk(question=None, told=None)


def _count(turn: Turn, task: Task, names: tuple[str, ...], text: str) -> None:
    _settle(turn, task, text)
    write_done(turn, task, names, "turned before the restart, by the painted line")
    done, open_ = len(is_done(turn.state.facts, task)), len(still_open(turn.state.facts, task))
    turn.say(f"{say_count(done)} done, {say_count(open_)} open" if open_ else f"{say_count(done)} done")


def _ask_spent(turn: Turn, task: Task, names: tuple[str, ...], text: str) -> None:
    """Without a painted line they are spent: said back before it is done."""
    numbers = order_numbers(turn.state.procedure, task.part.group)
    which = say_numbers([numbers[name] for name in names])

    def yes(inner: Turn) -> None:
        _settle(inner, task, text)
        for name in names:
            scrap_position(inner, task, name, "broken off, angle unknown")
        inner.say("Not counted until new ones have been through every stage")

    def no(inner: Turn) -> None:
        inner.talk(told=None)

    prompt = f"{which}, no painted line: spent, new fastener, all its stages. Yes or no?"
    turn.ask(yes_or_no(SPENT, prompt, yes, no))
