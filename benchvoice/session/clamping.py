"""What a torque is likely to clamp, for one who asks: with its scatter, against the proof load, never as a permission.

The method and its scatter are `tighten.advice`'s; proof loads are of ISO 898-1 and SAE J429.
"""

from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.models import Step
from benchvoice.quantity.rounding import round_digits
from benchvoice.session.fasteners import Task, is_done, tasks_of
from benchvoice.session.lubrication import on_threads
from benchvoice.session.state import State
from benchvoice.speech.say import say_count, say_quantity
from benchvoice.tighten.advice import SCATTER, ClampAdvice, method_of, torque_advice
from benchvoice.tighten.lubricant import condition_of
from benchvoice.tighten.strength import strength_of
from benchvoice.tighten.threads import parse_thread

_SHARES = {
    Decimal("0.35"): "a third",
    Decimal("0.25"): "a quarter",
}


def clamp_words(state: State, step: Step) -> str:
    """About nineteen kilonewtons, a quarter either way: fifty to ninety five per cent of proof load."""
    tasks = [task for task in tasks_of(state, step) if task.stage.torque is not None]
    if not tasks:
        return "Only a torque tells a clamp load, and this step has none"
    open_ = [task for task in tasks if is_done(state.facts, task) < frozenset(task.positions)]
    return _of(state, open_[0] if open_ else tasks[-1])


def _of(state: State, task: Task) -> str:
    group, torque = task.group, task.stage.torque
    assert torque is not None
    if group.size is None or group.property_class is None:
        return f"The size and the class of the {group.what} aren't declared"
    found = on_threads(state.facts, task.part.group)
    said = task.part.thread if found is None else found.entry.condition
    condition = condition_of(said or "")
    if condition is None:
        return f"The condition of the thread isn't {'declared' if found is None else 'known'} for the {group.what}"
    try:
        thread = parse_thread(group.size)
        strength = strength_of(group.property_class, thread)
    except BenchvoiceError as fault:
        return str(fault)
    load = torque_advice(torque.value, torque.unit, condition, thread, strength)
    share = _SHARES[SCATTER[method_of(condition)]]
    past = ". That may be past it" if load.past_proof else ""
    words = f"At {say_quantity(torque.value, torque.unit)}, {condition.name}, about {_load(load.likely)}"
    return f"{words}, {share} either way: {_of_proof(load)}{past}. Reckoned, not a figure to set by"


def _of_proof(found: ClampAdvice) -> str:
    """Least and greatest in steps of five per cent, rounded outwards."""
    low, high = 5 * floor(20 * found.least / found.proof), 5 * ceil(20 * found.greatest / found.proof)
    return f"{say_count(low)} to {say_count(high)} per cent of proof load"


def _load(load: Fraction) -> str:
    """A load to two figures, in kilonewtons from one upwards."""
    if load < 1000:
        return say_quantity(round_digits(load, 2), "N")
    rounded = round_digits(load / 1000, 2)
    whole = rounded.to_integral_value()
    return say_quantity(whole if whole == rounded else rounded, "kN")
