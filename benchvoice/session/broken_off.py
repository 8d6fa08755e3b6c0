"""A stage that was broken off, by a restart of the program or by "lost my place": what its kind makes of it.

What was done after the last word nobody has said. Torque begins again from one; stretch and drag are read before
anything is turned. An angle can't be seen afterwards: only what was said one by one counts, and what a line painted
beforehand shows; any other that was turned is spent. It is said or asked unprompted, once a resumption.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Answered, Checked, Restarted, Resumed, StepEntered, Tightened, WentBack
from benchvoice.session.fasteners import Task, current_task, is_done, order_numbers, still_open
from benchvoice.session.hearing import position_names
from benchvoice.session.losing import being_redone, lost_place
from benchvoice.session.moves import write_done
from benchvoice.session.plan import resting_on
from benchvoice.session.positions import bare_positions, say_numbers
from benchvoice.session.questions import yes_or_no
from benchvoice.session.scrap import scrap_position
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count

OTHERS, BY_LINE, SPENT = "broken off", "broken off, by the line", "confirm spent"
ASKED = ("angle", "turns")
"""Ways of tightening that nothing shows afterwards: what was turned is asked."""
QUESTIONS = frozenset({OTHERS, BY_LINE, SPENT})
"""Names of the questions here: the facts ask them anyway, so that a command may come first."""

_NONE = ("none", "none turned", "no others", "no other", "nothing", "nothing turned", "no")
_LINE = (
    *("painted line", "a painted line", "there is a painted line", "there's a painted line", "line painted", "yes"),
    *("by the line", "by the painted line", "there is", "there is one"),
)
_UNKNOWN = ("i don't know", "don't know", "not sure", "i'm not sure", "no idea", "unknown")
_BY_LINE = (" by the line", " by the painted line", " line painted", " by its line", " by their lines")
_LINE_SHOWS = ("by the line ", "by the painted line ", "the line shows ", "the line says ")
_TURNED = (" turned", " were turned", " was turned", " have been turned", " has been turned", " have turned")


def broken_off(state: State, step: Step) -> Task | None:
    """The stage in hand, when it was begun before the program was last started, or its place was lost in it."""
    task = current_task(state, step)
    if task is None or task.part.each_read is not None or not still_open(state.facts, task):
        return None
    at, settled = _interrupted(state, task), state.talk.taken_up
    if task.stage.way in ASKED:
        settled = max((row.n for row in state.facts.of(Answered) if row.entry.question == OTHERS), default=0)
    if at <= settled or not _was_begun(state, task, at):
        return None
    if task.stage.way in ("torque", "hand"):
        again = being_redone(state, task) or task.positions
        return task if is_done(state.facts, task) & set(again) else None
    return task


def _interrupted(state: State, task: Task) -> int:
    """The line that broke the stage off last: a resumption, or a place that was lost in a stage that must be asked."""
    resumed, key = state.facts.last(Resumed), (task.step.step, task.part.group, task.number)
    lost = [
        row.n
        for row in state.facts.of(Restarted)
        if task.stage.way in ASKED and (row.entry.step, row.entry.group, row.entry.stage) == key
    ]
    return max((resumed.n if resumed is not None else 0, *lost))


def _was_begun(state: State, task: Task, at: int) -> bool:
    """Whether line `at` came when this very stage was in hand: entered, not undone, and nothing of it came since."""
    step, facts = task.step, state.facts
    undone = [
        row.n for row in facts.of(WentBack) if step.step in resting_on(state.procedure, row.entry.step_to)
    ]
    entered = [row.n for row in facts.of(StepEntered) if row.entry.step == step.step]
    came_later = [
        *(row.n for row in facts.of(Tightened) if step.step == row.entry.step or task.part.group == row.entry.group),
        *(row.n for row in facts.of(Checked) if row.entry.step == step.step),
    ]
    return any(max(undone, default=0) < n < at for n in entered) and all(n < at for n in came_later)


def take_up(turn: Turn, step: Step) -> bool:
    """Say or ask what becomes of a stage that was broken off; True while an answer is waited for."""
    task = broken_off(turn.state, step)
    if task is None:
        return False
    if task.stage.way in ASKED:
        turn.ask(_which_others(turn.state, task))
        return True
    turn.talk(taken_up=_interrupted(turn.state, task))
    lost_place(turn, step, "broken off")
    return False


def _which_others(state: State, task: Task) -> Question:
    done = len(is_done(state.facts, task))
    after, others = (f"after {say_count(done)}", " others") if done else ("before any was said", "")
    prompt = f"Which{others} have been turned, or is there a painted line?"
    resumed = state.facts.last(Resumed)
    if resumed is not None and resumed.n == _interrupted(state, task):
        prompt = f"Stage {say_count(task.number)} was broken off {after}. {prompt}"

    def take(turn: Turn, text: str) -> bool:
        if text in _LINE:
            turn.understood("painted line")
            turn.ask(_by_line(task, done))
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


def _by_line(task: Task, done: int) -> Question:
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

    others = " others" if done else ""
    prompt = f"Which{others} does the line show turned?"
    return Question(name=BY_LINE, prompt=prompt, take=take, phrases=("none", "turned"), about="positions")


def _take_named(turn: Turn, task: Task, text: str) -> bool:
    """Others by their numbers: they count by a painted line alone."""
    words = _without(text, _BY_LINE)
    for lead in _LINE_SHOWS:
        words = words.removeprefix(lead)
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
    write_done(turn, task, names, "turned before, by the painted line")
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
