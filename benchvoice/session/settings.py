"""The wrench: what number to set for a stage, and asking what it is set to. The figure is never offered."""

import re
from decimal import Decimal

from benchvoice.procedure.models import Step, Wrench
from benchvoice.quantity.units import convert
from benchvoice.session.entries import SetRead
from benchvoice.session.fasteners import (
    Task,
)
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import Action, Context, parse_reading
from benchvoice.speech.say import say_number, say_quantity
from benchvoice.tighten.wrench import Adapter, WrenchError, number_to_set
from benchvoice.tighten.wrench import Wrench as RealWrench


def needs_setting(task: Task) -> bool:
    """Whether a stage asks what the wrench is set to."""
    return task.stage.torque is not None and task.part.wrench is not None


def number_on(state: State, task: Task) -> tuple[Decimal, str]:
    """The number to set on the wrench for a stage, and its unit; WrenchError where the wrench can't be set so."""
    assert task.stage.torque is not None
    assert task.part.wrench is not None
    wrench = real_wrench(state.procedure.wrenches[task.part.wrench])
    part = task.part.adapter
    adapter = Adapter(length=part.length, lever=part.lever, angle=part.angle) if part else None
    setting = number_to_set(task.stage.torque, wrench, adapter=adapter)
    return setting.mark, setting.unit


def real_wrench(wrench: Wrench) -> RealWrench:
    """A wrench of the document as the arithmetic has it."""
    low, high = wrench.range
    return RealWrench(low=low, high=high, step=wrench.step, unit=wrench.unit, class_percent=wrench.class_percent)


def setting_question(state: State, step: Step, task: Task, header: str) -> Question:
    """Ask what the wrench is set to, after the stage's name where that was not said yet."""
    assert task.part.wrench is not None
    adapter = " with the adapter" if task.part.adapter else ""
    prompt = f"{header + '. ' if header else ''}What's the wrench set to{adapter}?"

    def take(turn: Turn, text: str) -> bool:
        return _take_setting(turn, step, task, text)

    return Question(name="setting", prompt=prompt, take=take, about="reading")


_POSITIONS = re.compile(r"\b(done|tight|torqued|all|number)\b")
"""Words that speak of fasteners, not of what the wrench is set to."""


def _take_setting(turn: Turn, step: Step, task: Task, text: str) -> bool:
    assert task.part.wrench is not None
    try:
        value, unit = number_on(turn.state, task)
    except WrenchError as fault:
        turn.say(str(fault))
        return True
    heard = parse_reading(text, Context(unit=unit, work=turn.state.procedure.work, what="torque"))
    if heard.action is Action.NOT_A_VALUE or (heard.action is Action.ASK and _POSITIONS.search(text)):
        return False
    if heard.value is None or heard.unit is None or heard.action not in (Action.TAKE, Action.READ_BACK):
        turn.unclear(heard.reason or "not one number")
        turn.say(f"{heard.reason or 'I am not sure'}. Say it again", tone="not heard")
        return True
    turn.understood("setting")
    right = convert(heard.value, heard.unit, unit) == convert(value, unit, unit)
    turn.write(
        SetRead(
            step=step.step,
            group=task.part.group,
            stage=task.number,
            wrench=task.part.wrench,
            value=heard.value,
            unit=heard.unit,
            said=text,
            expected=value,
            expected_unit=unit,
            accepted=right,
        )
    )
    if right:
        turn.talk(question=None)
        turn.say(say_number(heard.value))
    else:
        # The figure to set is not offered: a person who is told it says it back. "What torque" gives it.
        turn.say(f"{say_quantity(heard.value, heard.unit)} is not this stage's. Set it and say it again")
        turn.talk(question=setting_question(turn.state, step, task, ""))
    return True
