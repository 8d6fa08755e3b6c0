"""Tighten: a group of fasteners in stages, one by one or a stage at a time.

A stage closes only on positions said, or on a spoken count equal to its fasteners. While it runs the assistant is
silent until spoken to. "Done" alone closes nothing here.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.alternating import ask_reading_due, owed_readings, reading_due, refused_many, take_reading_due
from benchvoice.session.broken_off import broken_off, take_up
from benchvoice.session.entries import Checked, ClosedLater, LeftForLater
from benchvoice.session.facts import Instant
from benchvoice.session.fasteners import (
    Task,
    current_task,
    hold_answer,
    hold_point,
    is_done,
    left_positions,
    order_numbers,
    setting_read,
    still_open,
    tasks_of,
)
from benchvoice.session.hearing import position_names
from benchvoice.session.kinds.check import answers_of, grade
from benchvoice.session.losing import lost_place
from benchvoice.session.measured import ask_next, is_measured, stage_key, take_measured
from benchvoice.session.moves import open_left, write_done
from benchvoice.session.positions import Said, bare_positions, plain_positions, say_numbers, understand_positions
from benchvoice.session.questions import one_of, reason
from benchvoice.session.scrap import take_spoilt
from benchvoice.session.settings import ask_wrench, needs_setting, setting_question, to_set
from benchvoice.session.state import Question, State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.session.ways import fail_back
from benchvoice.speech.say import say_count, say_limits, say_list, say_quantity

# Asking -------------------------------------------------------------------------------------------------------------


def _ask(turn: Turn, step: Step) -> bool:
    if take_up(turn, step):
        return True
    if ask_reading_due(turn, step):
        return True
    task = current_task(turn.state, step)
    if task is None:
        return False
    if not still_open(turn.state.facts, task):
        if turn.state.talk.told == _waiting(task):
            return True
        turn.ask(_hold_question(step, task))
        return True
    header = _header(turn.state, step, task)
    if ask_wrench(turn, step, task):
        return True
    if needs_setting(task) and setting_read(turn.state.facts, task) is None:
        said = turn.state.talk.told == f"header {task.number} {task.part.group}"
        turn.talk(told=f"header {task.number} {task.part.group}")
        turn.ask(setting_question(turn.state, step, task, "" if said else header))
        return True
    key = stage_key(task)
    if turn.state.talk.told == f"next {key}":
        turn.say(ask_next(turn.state, task))
        turn.talk(told=key)
    if turn.state.talk.told != key:
        turn.say("" if turn.state.talk.told == f"header {task.number} {task.part.group}" else header)
        turn.say(*_instruction(turn.state, task))
        turn.talk(told=key)
        if is_measured(task):
            turn.say(ask_next(turn.state, task))
    return True


def _waiting(task: Task) -> str:
    """What the talk remembers while positions were left and the person may yet do them: silence, no hold point."""
    return f"left {task.step.step} {task.number}"


def _header(state: State, step: Step, task: Task) -> str:
    stages = sum(1 for each in tasks_of(state, step) if each.part is task.part)
    which = f", stage {say_count(task.number)}" if task.number > 1 or stages > 1 else ""
    trial = ", trial" if task.part.purpose == "trial" else ""
    return f"{task.group.what}{trial}{which}"


def _instruction(state: State, task: Task) -> tuple[str, ...]:
    """What to do in a stage, figure first, said once."""
    said: list[str] = []
    if not needs_setting(task):
        said.append(_figure(task))
    if task.stage.back_first is not None:
        said.append(f"First back {say_quantity(task.stage.back_first, 'turn')}, one at a time")
    names = still_open(state.facts, task)
    numbers = order_numbers(state.procedure, task.part.group)
    if len(numbers) > 1:
        said.append(f"{say_numbers([numbers[name] for name in names])}, {_order_words(task)}")
    special = [f"{say_count(numbers[name])} takes {what}" for name, what in task.group.takes.items() if name in names]
    said.extend(special)
    if task.part.fasteners in ("new", "old") and task.number == 1:
        said.append(f"{task.part.fasteners} ones")
    if (task.part.one_at_a_time or task.stage.angle is not None) and not is_measured(task):
        said.append("Say each as it is done")
    return tuple(said)


def _order_words(task: Task) -> str:
    order = task.part.order if task.part.order is not None else task.group.order
    return order if isinstance(order, str) else "in the order painted"


def _figure(task: Task) -> str:
    stage = task.stage
    if stage.torque is not None:
        return say_quantity(stage.torque.value, stage.torque.unit)
    if stage.angle is not None:
        return f"plus {say_quantity(stage.angle.value, stage.angle.unit)}"
    if stage.stretch is not None:
        return f"stretch {say_limits(*stage.stretch, stage.unit)}"
    if stage.drag is not None:
        return f"drag {say_limits(*stage.drag, stage.unit)}"
    if stage.turns is not None:
        return say_quantity(stage.turns, "turn")
    return stage.hand or "by hand"


# Positions ----------------------------------------------------------------------------------------------------------


def _take(turn: Turn, step: Step, text: str) -> bool:
    """What is said before a stage that was broken off is taken up counts for nothing: that comes first."""
    if broken_off(turn.state, step) is None:
        return _take_said(turn, step, text)
    if not _take_said(Turn(turn.state, turn.now, turn.utterance), step, text):
        return False
    turn.understood("broken off first")
    turn.say("Not counted")
    return True


def _take_said(turn: Turn, step: Step, text: str) -> bool:
    if take_reading_due(turn, step, text):
        return True
    task = current_task(turn.state, step)
    if task is None:
        return False
    if _take_left(turn, step, text):
        return True
    if take_spoilt(turn, task, text):
        return True
    open_ = still_open(turn.state.facts, task)
    if not open_:
        question = _hold_question(step, task)
        return question.take(turn, text)
    if is_measured(task):
        return take_measured(turn, task, text)
    numbers = order_numbers(turn.state.procedure, task.part.group)
    words, left = plain_positions(text), left_positions(turn.state.facts, task)
    said = understand_positions(words, numbers, open_, touched=bool(is_done(turn.state.facts, task)), left=left)
    if said is None:
        return False
    turn.understood(said.meaning)
    if refused_many(turn, task, said):
        return True
    if needs_setting(task) and setting_read(turn.state.facts, task) is None:
        turn.say("Not counted")
        return True
    _apply(turn, step, task, said)
    return True


def _take_left(turn: Turn, step: Step, text: str) -> bool:
    """Positions that the person left in a stage of this step, and has done now."""
    for task in tasks_of(turn.state, step):
        left = tuple(name for name in task.positions if name in _left_here(turn.state, task))
        if not left:
            continue
        numbers = order_numbers(turn.state.procedure, task.part.group)
        names = position_names(bare_positions(text), numbers)
        if names and set(names) <= set(left):
            turn.understood("left, now done")
            _mark_done(turn, step, task, names)
            return True
    return False


def _left_here(state: State, task: Task) -> frozenset[str]:
    """Positions that the person left for later in this step and that this stage still lacks."""
    said = {
        name
        for row in open_left(state)
        if row.entry.step == task.step.step and row.entry.closed_by is None
        for name in row.entry.positions
    }
    return frozenset(said - is_done(state.facts, task))


def _go_on(turn: Turn, step: Step) -> bool:
    """ "Done" or "next" with positions left goes on to the hold point, or to the next stage."""
    task = current_task(turn.state, step)
    if task is None or turn.state.talk.told != _waiting(task):
        return False
    turn.understood("go on")
    turn.talk(told=None)
    return True


def _apply(turn: Turn, step: Step, task: Task, said: Said) -> None:
    if said.meaning == "which is meant":
        number = said.count or 0

        def then(inner: Turn, choice: str) -> None:
            if choice.startswith("number"):
                _mark_done(inner, step, task, said.positions)
            else:
                _short_count(inner, task, number)

        choices = (f"number {say_count(number)}", f"{say_count(number)} of them")
        turn.ask(
            one_of("which is meant", f"Number {say_count(number)}, or {say_count(number)} of them?", choices, then)
        )
    elif said.meaning == "no count":
        turn.say("Not counted. How many is that")
    elif said.meaning == "short count":
        _short_count(turn, task, said.count or 0)
    elif said.meaning == "all but":
        open_ = still_open(turn.state.facts, task)
        write_done(turn, task, tuple(name for name in open_ if name not in said.positions))
        _leave(turn, step, task, said.positions)
    else:
        _mark_done(turn, step, task, said.positions)


def _short_count(turn: Turn, task: Task, number: int) -> None:
    """A count that is not the whole stage closes nothing."""
    open_ = still_open(turn.state.facts, task)
    turn.say(f"{say_count(number)} is not {say_count(len(open_))}. Say which are done, or all but which")


def _mark_done(turn: Turn, step: Step, task: Task, positions: tuple[str, ...]) -> None:
    """Write positions as done, and say how far the stage has come."""
    if set(positions) <= is_done(turn.state.facts, task):
        turn.say("Done already")
        return
    write_done(turn, task, positions)
    _close_left(turn, step, task, positions)
    if turn.state.talk.told == _waiting(task):
        turn.talk(told=None)
    open_ = still_open(turn.state.facts, task)
    done = len(is_done(turn.state.facts, task))
    if not open_:
        turn.say(f"{say_count(done)} of {say_count(len(task.positions))}")
    elif len(positions) > 1:
        turn.say(f"{say_count(done)} done, {say_count(len(open_))} open")


def _close_left(turn: Turn, step: Step, task: Task, positions: tuple[str, ...]) -> None:
    """Positions that the person had left for later in this step and has now done."""
    done = {*positions, *is_done(turn.state.facts, task)}
    for row in open_left(turn.state):
        if row.entry.step == step.step and row.entry.positions and set(row.entry.positions) <= done:
            turn.write(ClosedLater(entry=row.n, step=step.step, what=row.entry.what))


def _leave(turn: Turn, step: Step, task: Task, positions: tuple[str, ...]) -> None:
    done = len(is_done(turn.state.facts, task))
    numbers = order_numbers(turn.state.procedure, task.part.group)
    names = say_list([say_count(numbers[name]) for name in positions])

    def why(inner: Turn, words: str) -> None:
        inner.write(LeftForLater(step=step.step, what=task.group.what, positions=positions, reason=words))
        inner.say(f"{names} left for later in this stage")
        inner.talk(told=_waiting(task))

    turn.say(f"{say_count(done)} done, {names} open")
    turn.ask(reason("Why?", why))


# Hold points --------------------------------------------------------------------------------------------------------


def _hold_question(step: Step, task: Task) -> Question:
    graded = hold_point(task)
    assert graded is not None

    def note(turn: Turn, answer: str, where: str | None, passed: bool) -> None:
        turn.write(
            Checked(step=step.step, stage=task.number, group=task.part.group, answer=answer, where=where, passed=passed)
        )
        if passed:
            turn.say(answer)
        else:
            fail_back(turn, step, graded, answer, where)

    def take(turn: Turn, text: str) -> bool:
        return grade(turn, graded, text, note)

    return Question(name="hold point", prompt=f"Hold point: {graded.ask}", take=take, phrases=answers_of(graded))


# What can be asked about it -----------------------------------------------------------------------------------------


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    owed = [*owed_readings(state, step)]
    for task in tasks_of(state, step):
        open_ = still_open(state.facts, task)
        if open_:
            of = "of the " if len(open_) == 1 < len(task.positions) else ""
            owed.append(f"{say_count(len(open_))} {of}{task.group.what} in stage {say_count(task.number)}")
        elif hold_point(task) and hold_answer(state.facts, task) is None:
            owed.append("the hold point")
    return tuple(owed)


def _torque(state: State, step: Step) -> str:
    task = current_task(state, step) or tasks_of(state, step)[-1]
    return to_set(state, task, _figure(task))


def _left(state: State, step: Step) -> str:
    task = current_task(state, step)
    if task is None:
        return "None"
    open_ = still_open(state.facts, task)
    numbers = order_numbers(state.procedure, task.part.group)
    names = say_numbers([numbers[name] for name in open_]) if open_ else ""
    later = left_positions(state.facts, task)
    return f"{say_count(len(open_))} of {say_count(len(task.positions))}{': ' + names if names else ''}" + (
        f"; {say_count(len(later))} left for later" if later else ""
    )


def _phrases(state: State, step: Step) -> tuple[str, ...]:
    task = current_task(state, step)
    if task is None:
        return ()
    return ("done", "number", "all but", "all", "of them", "to")


def _about(state: State, step: Step) -> frozenset[str]:
    if reading_due(state, step) is not None:
        return frozenset({"reading"})
    task = current_task(state, step)
    reads = task is not None and is_measured(task)
    return frozenset({"count", "positions", "figures"} if reads else {"count", "positions"})


TIGHTEN = Kind(
    opening=lambda _state, _step: (),
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    torque=_torque,
    limits=lambda state, step: _torque(state, step),
    left=_left,
    phrases=_phrases,
    done=_go_on,
    about=_about,
    lost=lost_place,
)
