"""What a torque, an angle or a stretch is likely to clamp, for one who asks: with its scatter, against the proof load.

Never a permission. The method and its scatter are `tighten.advice`'s; proof loads are of ISO 898-1 and SAE J429.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.grips import bolt_of
from benchvoice.procedure.models import Stage, Step
from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.entries import Reading
from benchvoice.session.fasteners import Task, is_done, tasks_of
from benchvoice.session.lubrication import on_threads
from benchvoice.session.plan import fitted_steps
from benchvoice.session.state import State
from benchvoice.speech.say import say_count, say_limits, say_quantity
from benchvoice.tighten.advice import (
    SCATTER,
    ClampAdvice,
    Method,
    angle_advice,
    method_of,
    snug_load,
    stretch_advice,
    torque_advice,
)
from benchvoice.tighten.lubricant import condition_of
from benchvoice.tighten.strength import Strength, strength_of
from benchvoice.tighten.threads import Thread, parse_thread

_SHARES = {
    Decimal("0.35"): "a third",
    Decimal("0.25"): "a quarter",
    Decimal("0.15"): "fifteen per cent",
    Decimal("0.05"): "five per cent",
}


def clamp_words(state: State, step: Step) -> str:
    """About nineteen kilonewtons, a quarter either way: fifty to ninety five per cent of proof load."""
    tasks = [task for task in tasks_of(state, step) if _tells(task.stage)]
    if not tasks:
        return "Only a torque, an angle or a stretch tells a clamp load, and this step has none"
    open_ = [task for task in tasks if is_done(state.facts, task) < frozenset(task.positions)]
    return _of(state, open_[0] if open_ else tasks[-1])


def _tells(stage: Stage) -> bool:
    return stage.way in ("torque", "angle", "stretch") or (stage.turns or 0) > 0


def _of(state: State, task: Task) -> str:
    group, stage = task.group, task.stage
    if group.size is None or group.property_class is None:
        return f"The size and the class of the {group.what} aren't declared"
    if stage.torque is None and group.grip is None:
        return f"How much of the {group.what} stretches isn't declared"
    try:
        thread = parse_thread(group.size)
        bolt = Bolt(thread, strength_of(group.property_class, thread))
        said = _by_stretch(state, task, bolt) if stage.stretch is not None else _by_turning(state, task, bolt)
    except BenchvoiceError as fault:
        return str(fault)
    return said if isinstance(said, str) else f"{said.how}, {_sentence(said)}. Reckoned, not a figure to set by"


@dataclass(frozen=True, slots=True)
class Bolt:
    """What is declared of each fastener."""

    thread: Thread
    strength: Strength


@dataclass(frozen=True, slots=True)
class Told:
    """How it was reckoned, in words; advice; how far it scatters, in words."""

    how: str
    advice: ClampAdvice
    share: str


def _by_stretch(state: State, task: Task, bolt: Bolt) -> Told | str:
    """By the stretch that was read last in this stage, else by all that it may be."""
    assert task.stage.stretch is not None
    assert task.group.grip is not None
    low, high = task.stage.stretch
    unit = task.stage.unit or "mm"
    of = (task.step.step, "stretch")
    read = [row.entry for row in state.facts.of(Reading) if (row.entry.step, row.entry.what) == of]
    if read and read[-1].value is not None:
        low, high, unit = read[-1].value, read[-1].value, read[-1].unit
    if low is None or high is None:
        return "A stretch that is open at one end tells no clamp load before it is read"
    sections = bolt_of(task.group.grip, bolt.thread)
    ends = (convert(low, unit, "mm"), convert(high, unit, "mm"))
    advice = stretch_advice(*ends, sections, bolt.thread, bolt.strength)
    longer = say_quantity(low, unit) if low == high else say_limits(low, high, unit)
    return Told(f"{longer} longer", advice, _SHARES[SCATTER[Method.STRETCH]])


def _by_turning(state: State, task: Task, bolt: Bolt) -> Told | str:
    """By a torque, or by an angle from the torque before it."""
    snug = task if task.stage.torque is not None else _snug(state, task)
    if snug is None or snug.stage.torque is None:
        return "No torque comes before this angle, so nobody knows what it starts from"
    found = on_threads(state.facts, task.part.group)
    condition = condition_of((snug.part.thread if found is None else found.entry.condition) or "")
    if condition is None:
        return f"The condition of the thread isn't {'declared' if found is None else 'known'} for the {task.group.what}"
    torque = snug.stage.torque
    said = f"At {say_quantity(torque.value, torque.unit)}, {condition.name}"
    if snug is task:
        advice = torque_advice(torque.value, torque.unit, condition, bolt.thread, bolt.strength)
        return Told(said, advice, _SHARES[SCATTER[method_of(condition)]])
    grip = task.group.grip
    assert grip is not None
    degrees = _degrees(task.stage)
    advice = angle_advice(
        degrees,
        snug_load(torque.value, torque.unit, condition, bolt.thread),
        bolt_of(grip, bolt.thread),
        bolt.thread,
        bolt.strength,
        grip.joint.in_unit("N_per_mm") if grip.joint is not None else None,
    )
    rigid = "" if grip.joint is not None else ", if what it clamps doesn't give"
    said = f"{said}, and {say_quantity(to_decimal(degrees), 'deg')}{rigid}"
    return Told(said, advice, _SHARES[SCATTER[Method.ANGLE]])


def _degrees(stage: Stage) -> Fraction:
    if stage.angle is not None:
        return stage.angle.in_unit("deg")
    return Fraction(stage.turns or 0) * 360


def _snug(state: State, task: Task) -> Task | None:
    """The torque that an angle of a group starts from: the last one before it, in this step or an earlier one."""
    found: Task | None = None
    for step in fitted_steps(state):
        for each in tasks_of(state, step):
            if each.step.step == task.step.step and each.number == task.number and each.part is task.part:
                return found
            same = (each.part.group, each.part.purpose) == (task.part.group, task.part.purpose)
            if same and each.stage.torque is not None and set(task.positions) <= set(each.positions):
                found = each
    return found


def _sentence(told: Told) -> str:
    """About so much, so far either way, against the proof load, in steps of five per cent rounded outwards."""
    found, share = told.advice, told.share
    low, high = 5 * floor(20 * found.least / found.proof), 5 * ceil(20 * found.greatest / found.proof)
    yields = ", where it yields" if found.past_yield else ""
    past = ". That may be past it" if found.past_proof else ""
    proof = f"{say_count(low)} to {say_count(high)} per cent of proof load{past}"
    return f"about {_load(found.likely)}{yields}, {share} either way: {proof}"


def _load(load: Fraction) -> str:
    """A load to two figures, in kilonewtons from one upwards."""
    if load < 1000:
        return say_quantity(round_digits(load, 2), "N")
    rounded = round_digits(load / 1000, 2)
    whole = rounded.to_integral_value()
    return say_quantity(whole if whole == rounded else rounded, "kN")
