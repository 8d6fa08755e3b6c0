"""Fasteners after "lost my place", or in a stage that a restart broke off: the safe restart of its kind."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Tightened
from benchvoice.session.fasteners import (
    Task,
    current_task,
    is_done,
    left_positions,
    order_numbers,
    outcomes,
    still_open,
)
from benchvoice.session.moves import restart_stage
from benchvoice.session.positions import say_numbers
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count


def lost_place(turn: Turn, step: Step, why: str = "lost my place") -> bool:
    """Torque: the stage again from one. Angle: what was said stands, the rest is asked. Stretch, drag: read first."""
    task = current_task(turn.state, step)
    if task is None or not still_open(turn.state.facts, task):
        return False
    _RESTARTS[task.stage.way](turn, task, why)
    return True


def being_redone(state: State, task: Task) -> tuple[str, ...]:
    """Positions that have a new fastener since every other was through the stage; none while the stage itself is open.

    Their place was lost among themselves alone: the others stand.
    """
    scrapped = {
        row.entry.position: row.n
        for row in state.facts.of(Tightened)
        if row.entry.group == task.part.group
        and row.entry.purpose == task.part.purpose
        and row.entry.outcome == "scrap"
    }
    newest = max(scrapped.values(), default=0)
    rows, left = outcomes(state.facts, task), left_positions(state.facts, task)
    sound = {name for name, row in rows.items() if row.entry.outcome == "done" and row.n < newest}
    again = tuple(name for name in task.positions if name not in sound and name not in left)
    return again if sound and set(again) <= scrapped.keys() else ()


def _from_one(turn: Turn, task: Task, why: str) -> None:
    again = being_redone(turn.state, task)
    restart_stage(turn, task, why, again or task.positions)
    if not again:
        turn.say("This stage again from one")
        return
    numbers = order_numbers(turn.state.procedure, task.part.group)
    turn.say(f"This stage again at {say_numbers(numbers[name] for name in again)}. The others stand")


def _ask_which(turn: Turn, task: Task, why: str) -> None:
    """What was said stands; what else was turned is asked where the work goes on."""
    restart_stage(turn, task, why, ())
    done = len(is_done(turn.state.facts, task))
    turn.say(f"{say_count(done)} said one by one {'stand' if done > 1 else 'stands'}" if done else "")
    turn.say("Any other that was turned is spent: new fastener, all its stages")


def _measure(turn: Turn, task: Task, _why: str) -> None:
    done = len(is_done(turn.state.facts, task))
    turn.say(f"{say_count(done)} read" if done else "", f"Measure {'the others ' if done else ''}before you turn any")


def _read_drag(turn: Turn, task: Task, why: str) -> None:
    restart_stage(turn, task, why, ())
    turn.say("Read the drag before you draw it up. Never slacken back")


_RESTARTS = {
    "torque": _from_one,
    "hand": _from_one,
    "turns": _ask_which,
    "angle": _ask_which,
    "stretch": _measure,
    "drag": _read_drag,
}
