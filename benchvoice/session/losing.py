"""Fasteners after "lost my place", or in a stage that a restart broke off: the safe restart of its kind."""

from benchvoice.procedure.models import Step
from benchvoice.session.fasteners import Task, current_task, is_done, still_open
from benchvoice.session.moves import restart_stage
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count


def lost_place(turn: Turn, step: Step, why: str = "lost my place") -> bool:
    """Torque: the stage again from one. Angle: only what was said stands. Stretch, drag: what is read tells."""
    task = current_task(turn.state, step)
    if task is None or not still_open(turn.state.facts, task):
        return False
    _RESTARTS[task.stage.way](turn, task, why)
    return True


def _from_one(turn: Turn, task: Task, why: str) -> None:
    restart_stage(turn, task.step, task.part.group, task.number, why)
    turn.say("This stage again from one")


def _only_said(turn: Turn, task: Task, _why: str) -> None:
    done = len(is_done(turn.state.facts, task))
    stand = f"{say_count(done)} said one by one stand. " if done else ""
    turn.say(f"{stand}Any other that was turned is spent: new fastener, all its stages")


def _measure(turn: Turn, task: Task, _why: str) -> None:
    done = len(is_done(turn.state.facts, task))
    turn.say(f"{say_count(done)} read. Measure the others")


def _read_drag(turn: Turn, _task: Task, _why: str) -> None:
    turn.say("Read the drag before you draw it up. Never slacken back")


_RESTARTS = {
    "torque": _from_one,
    "hand": _from_one,
    "turns": _only_said,
    "angle": _only_said,
    "stretch": _measure,
    "drag": _read_drag,
}
