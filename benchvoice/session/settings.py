"""The wrench: what number to set for a stage, and asking what it is set to. The figure is never offered."""

import re
from decimal import Decimal

from benchvoice.procedure.inputs import constant
from benchvoice.procedure.models import Adapter as Declared
from benchvoice.procedure.models import Step, Tighten
from benchvoice.quantity.instruments import Instrument
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import SetRead
from benchvoice.session.fasteners import Task, order_numbers, setting_read, tasks_of
from benchvoice.session.figures import note_figure
from benchvoice.session.instruments import Tool, tool
from benchvoice.session.positions import spoilt_position
from benchvoice.session.readings import taken
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.session.using import Refuses, ask_instrument
from benchvoice.speech.readings import Action, Context, parse_reading
from benchvoice.speech.say import say_limits, say_number, say_quantity
from benchvoice.tighten.wrench import Adapter, Setting, WrenchError, number_to_set
from benchvoice.tighten.wrench import Wrench as RealWrench


def needs_setting(task: Task) -> bool:
    """Whether a stage asks what the wrench is set to."""
    return task.stage.torque is not None and task.part.wrench is not None


def number_on(state: State, task: Task, used: Tool | None = None) -> tuple[Decimal, str]:
    """The number to set on the wrench for a stage, and its unit; WrenchError where the wrench can't be set so.

    The wrench in use, unless another is given. A nut's drag is added to what is asked.
    """
    setting = setting_on(state, task, used)
    return setting.mark, setting.unit


def setting_on(state: State, task: Task, used: Tool | None = None, part: Declared | None = None) -> Setting:
    """What to set on the wrench for a stage, exactly and to the nearest mark; WrenchError where it can't be set so.

    With the part's own adapter, unless another is given.
    """
    assert task.stage.torque is not None
    used = used or tool(state, task.part.wrench)
    assert used is not None
    part = part or task.part.adapter
    adapter = Adapter(length=part.length, lever=part.lever, angle=part.angle) if part else None
    drag = drag_of(state, task.part)
    return number_to_set(task.stage.torque, _real(used.instrument), adapter=adapter, drag=drag)


def _real(wrench: Instrument) -> RealWrench:
    if wrench.low is None or wrench.high is None or wrench.resolution is None:
        raise WrenchError(f"the range and the step of {wrench.id} aren't known: take another wrench")
    deviates = {} if wrench.class_percent is None else {"class_percent": wrench.class_percent}
    return RealWrench(low=wrench.low, high=wrench.high, step=wrench.resolution, unit=wrench.unit, **deviates)


def drag_of(state: State, part: Tighten) -> Quantity | None:
    """The torque that the part's nuts drag with before they seat: declared, or read at a step; None: none."""
    if part.drag is None:
        return None
    size = constant(part.drag)
    if size is not None:
        return size
    rows = taken(state.facts, part.drag)
    if not rows or rows[-1].entry.value is None:
        raise WrenchError(f"the drag of {part.drag.replace('_', ' ')} isn't read yet: read it first")
    return Quantity(value=rows[-1].entry.value, unit=rows[-1].entry.unit)


def refuses_for(step: Step, name: str) -> Refuses:
    """Why a wrench can't be set to what the stages of a step ask of it, before the first of them begins."""

    def refuses(state: State, used: Tool) -> str:
        for task in tasks_of(state, step):
            if needs_setting(task) and task.part.wrench == name:
                try:
                    number_on(state, task, used)
                except WrenchError:
                    return _refusal(task, used)
        return ""

    return refuses


def ask_wrench(turn: Turn, step: Step, task: Task) -> bool:
    """Ask which wrench is used, or for an override, before a stage's setting; False where nothing is to be asked."""
    name = task.part.wrench
    if name is None or not needs_setting(task) or setting_read(turn.state.facts, task) is not None:
        return False
    return ask_instrument(turn, step, name, refuses_for(step, name))


def to_set(state: State, task: Task, figure: str) -> str:
    """The figure of a stage, and the number to set where adapter or drag make it another."""
    if not needs_setting(task) or (task.part.adapter is None and task.part.drag is None):
        return figure
    try:
        value, unit = number_on(state, task)
        drag = drag_of(state, task.part)
    except WrenchError as fault:
        return str(fault)
    added = f" and {say_quantity(drag.value, drag.unit)} of drag" if drag is not None else ""
    adapter = "with the adapter " if task.part.adapter is not None else ""
    return f"{figure}{added}; {adapter}set {say_quantity(value, unit)}"


def _refusal(task: Task, used: Tool) -> str:
    """Twenty five newton metres can't be set on wrench one, two to twelve newton metres."""
    asked, wrench = task.stage.torque, used.instrument
    assert asked is not None
    added = " with what is added to it" if task.part.adapter is not None or task.part.drag is not None else ""
    reach = say_limits(wrench.low, wrench.high, wrench.unit)
    return f"{say_quantity(asked.value, asked.unit)}{added} can't be set on {used.called}, {reach}"


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
    if spoilt_position(text, order_numbers(turn.state.procedure, task.part.group)) is not None:
        return False
    heard = parse_reading(text, Context(unit=unit, work=turn.state.procedure.work, what="torque"))
    if heard.action is Action.NOT_A_VALUE or (heard.action is Action.ASK and _POSITIONS.search(text)):
        return False
    if heard.value is None or heard.unit is None or heard.action not in (Action.TAKE, Action.READ_BACK):
        turn.unclear(heard.reason or "not one number")
        turn.say(f"{heard.reason or 'I am not sure'}. Say it again", tone="not heard")
        return True
    turn.understood("setting")
    used = tool(turn.state, task.part.wrench)
    right = convert(heard.value, heard.unit, unit) == convert(value, unit, unit)
    turn.write(
        SetRead(
            step=step.step,
            group=task.part.group,
            stage=task.number,
            wrench=used.instrument.id if used is not None else task.part.wrench,
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
        note_figure(turn, heard.value, heard.unit)
    else:
        # The figure to set is not offered: a person who is told it says it back. "What torque" gives it.
        turn.say(f"{say_quantity(heard.value, heard.unit)} is not this stage's. Set it and say it again")
        turn.talk(question=setting_question(turn.state, step, task, ""))
    return True
