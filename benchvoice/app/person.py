"""A careful person who does the work by the book: what they would say next, worked out from what is asked.

The demonstration lets such a person speak; tests let them type. They know what a gauge would show and what a mark
says, never what the assistant has in mind: every answer is words, and goes through the ear or the keyboard.
"""

from collections.abc import Mapping
from decimal import Decimal

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import every_place, places_of
from benchvoice.quantity.packs import missing
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.alternating import reading_due
from benchvoice.session.counting import counts_owed
from benchvoice.session.evenness import known
from benchvoice.session.facts import Instant
from benchvoice.session.fasteners import Task, current_task, hold_point, order_numbers, still_open
from benchvoice.session.instruments import Tool, candidates, tool
from benchvoice.session.kinds.check import answers_of
from benchvoice.session.left_over import ASKED
from benchvoice.session.marks import expected_of
from benchvoice.session.measured import is_measured
from benchvoice.session.packing import every_way
from benchvoice.session.plan import current_step
from benchvoice.session.readings import standing, still_needed
from benchvoice.session.settings import number_on, refuses_for
from benchvoice.session.state import State
from benchvoice.session.stock import at_hand, packs_owed, say_piece, standing_packs
from benchvoice.session.taking import band_at
from benchvoice.session.using import ANOTHER
from benchvoice.session.warmth import warmth_of
from benchvoice.session.windows import barring, window_of
from benchvoice.session.zeros import awaits_zero
from benchvoice.speech.say import say_count, say_number, say_quantity
from benchvoice.speech.spelling import say_mark

Answers = Mapping[str, str]
"""Answers to particulars and options by name; the first choice, or no, where none is given."""


def next_words(state: State, now: Instant, answers: Answers | None = None) -> str | None:
    """What a careful person says next; "@+…" where they wait; None when the work is over."""
    known = answers or {}
    if state.closed:
        return None
    question = state.talk.question
    if question is not None:
        return _to_question(state, now, known)
    step = current_step(state)
    if step is None:
        return "close the build"
    window = barring(state, step, now)
    if window is not None:
        return f"@+{max(1, int(window.left) + 1)}s"
    return _to_step(state, step, now)


def _to_question(state: State, now: Instant, known: Answers) -> str:
    question, step = state.talk.question, current_step(state)
    assert question is not None
    name = question.name
    if name in state.procedure.particulars:
        return known.get(name, state.procedure.particulars[name].choices[0])
    if name in state.procedure.options:
        return known.get(name, "no")
    fixed = {"who is on": "ann", "warning": "understood", "what is seen": "towards the fan end", "touched": "nothing"}
    fixed[ASKED] = "no"
    if name in fixed:
        return fixed[name]
    if name == "changed build":
        return "take it as it is now because it is the same machine"
    if name == "decision":
        return "use as is because the drawing allows it"
    if step is not None and step.tighten is not None and name == "instrument":
        return _wrench(state, step)
    if name == "override":
        return "use it because there is no other"
    if name == "out of range":
        return "take it because it can be seen"
    if name == "which stands":
        return "second"
    if name == "label":
        return {
            "spelling": "hotel four one seven",
            "date": f"december {say_count(20)} {say_count(now.at.year % 100 + 2)}",
        }.get(question.about, question.phrases[0])
    if step is not None and name == "temperature":
        return _as_warm(state, step)
    if step is not None and name == "thread":
        task = current_task(state, step)
        return (task.part.thread if task is not None else None) or question.phrases[0]
    if step is not None and name == "count":
        return say_count(counts_owed(state, step)[0].expected)
    if step is not None and name == "setting":
        task = current_task(state, step)
        assert task is not None
        value, unit = number_on(state, task)
        return say_quantity(_short(value), unit)
    if step is not None and name == "hold point":
        task = current_task(state, step)
        graded = hold_point(task) if task is not None else None
        assert graded is not None
        return graded.passes[0]
    if "yes" in question.phrases:
        return "yes"
    return question.phrases[0] if question.phrases else "because it is so"


def _as_warm(state: State, step: Step) -> str:
    """A temperature like those that were read, else of a mild day."""
    warmth = warmth_of(step)
    assert warmth is not None
    assert warmth.even is not None
    read = known(state, step, warmth.even)
    return say_quantity(read[0].low, read[0].unit) if read else say_quantity(Decimal(20), warmth.even.unit)


def _wrench(state: State, step: Step) -> str:
    """The first wrench of the register that can be set to what the step asks; else the procedure's own."""
    task = current_task(state, step)
    wrench = task.part.wrench if task is not None else None
    assert wrench is not None
    refuses = refuses_for(step, wrench)
    fit = (each for each in candidates(state, wrench) if not refuses(state, Tool(each.instrument())))
    return next((each.names[0] for each in fit), ANOTHER)


def _short(value: Decimal) -> Decimal:
    whole = value.to_integral_value()
    return whole if whole == value else value.normalize()


def _to_step(state: State, step: Step, now: Instant) -> str:
    if step.measure is not None:
        return _reading(state, step)
    if step.mark is not None:
        return _mark(state, step)
    if step.check is not None:
        return step.check.passes[0]
    if step.tighten is not None:
        return _fasteners(state, step)
    if step.wait is not None:
        return _window(state, step, now)
    return "done"


def _reading(state: State, step: Step) -> str:
    measure = step.measure
    assert measure is not None
    if awaits_zero(state, step) is not None:
        return "zero"
    todo = still_needed(state.facts, step)
    if not todo and state.talk.again is None:
        return _more_shims(state, step) or "done"
    place = state.talk.again or (todo[0] if todo else places_of(measure)[0])
    return good_reading(state, step, place)


def _pack_in_hand(state: State, step: Step) -> Decimal | None:
    """The size of the one pack that the step speaks of."""
    packs = [row.entry.total for row in standing_packs(state.facts).values() if row.entry.step in step.recalls]
    return packs[0] if len(packs) == 1 else None


def _more_shims(state: State, step: Step) -> str | None:
    """What is fetched for the tray when nothing in it makes a pack that is owed."""
    for wanted in packs_owed(state, step):
        if not every_way(state, wanted):
            most = wanted.pieces * len(wanted.names)
            sizes = missing(at_hand(state, wanted.stock), wanted.low, wanted.high, most)
            return f"add to the tray one of {say_piece(sizes[0], wanted.unit)}" if sizes else None
    return None


def good_reading(state: State, step: Step, place: tuple[str, ...]) -> str:
    """What a gauge would show of a sound part: the middle of the limits, with the figures that the step needs."""
    measure = step.measure
    assert measure is not None
    band = band_at(state, step, place)
    step_size = measure.resolution
    used = tool(state, measure.instrument)
    if step_size is None and used is not None and used.instrument.resolution is not None:
        step_size = to_decimal(convert(used.instrument.resolution, used.instrument.unit, measure.unit))
    step_size = step_size or Decimal("0.1")
    low = band.low if band is not None else None
    high = band.high if band is not None else None
    if low is None and high is None:
        value = _pack_in_hand(state, step) or (Decimal(400) if measure.unit == "g" else Decimal(2))
        reach = used.instrument.high if used is not None and used.instrument.unit == measure.unit else None
        value = value if reach is None else min(value, reach / 2)
    elif low is None or high is None:
        edge = high if high is not None else low
        assert edge is not None
        value = edge / 2 if low is None else edge + step_size
    else:
        value = (low + high) / 2
    value = (value / step_size).to_integral_value() * step_size
    if low is not None and value < low:
        value += step_size
    value = value.quantize(step_size) if step_size < 1 else value.to_integral_value()
    words = say_number(value)
    if measure.height:
        return f"{say_number(abs(value))} {'below' if value < 0 else 'proud'}"
    return words if measure.unit in ("in", "mm") else say_quantity(value, measure.unit, fractions=False)


def _mark(state: State, step: Step) -> str:
    assert step.mark is not None
    place = next(iter(every_place(step.mark.places)))
    seen = {row.entry.place for row in _marks(state, step)}
    place = next((each for each in every_place(step.mark.places) if each not in seen), place)
    expected, _why = expected_of(state, step, place)
    if expected is None:
        return say_mark("H417")
    return expected if expected.isalpha() and len(expected) > 2 else say_mark(expected)


def _marks(state: State, step: Step):  # type: ignore[no-untyped-def]
    from benchvoice.session.entries import Mark

    return [row for row in state.facts.of(Mark) if row.entry.step == step.step and row.entry.matches is not False]


def _fasteners(state: State, step: Step) -> str:
    due = reading_due(state, step)
    if due is not None:
        return good_reading(state, due[1], due[2])
    task = current_task(state, step)
    if task is None:
        return "done"
    open_ = still_open(state.facts, task)
    numbers = order_numbers(state.procedure, task.part.group)
    if not open_:
        return "next"  # what was left for later stays so
    if is_measured(task):
        return _measured(state, task, open_[0])
    if task.part.one_at_a_time or task.stage.angle is not None:
        return f"number {say_count(numbers[open_[0]])} done"
    return f"all {say_count(len(open_))} done"


def _measured(state: State, task: Task, position: str) -> str:
    """What a gauge would show of a sound fastener: the middle of its limits, over its free length."""
    low, high = task.stage.stretch or task.stage.drag or (None, None)
    assert low is not None
    assert high is not None
    middle = (low + high) / 2
    if task.stage.free is None:
        return say_number(middle.quantize(low))
    free = standing(state.facts, state.step(task.stage.free), (position,))
    assert free is not None
    assert free.entry.value is not None
    unit = free.entry.unit
    tight = free.entry.value + to_decimal(convert(middle, task.stage.unit or unit, unit))
    return say_number(tight.quantize(free.entry.value))


def _window(state: State, step: Step, now: Instant) -> str:
    assert step.wait is not None
    window = window_of(state.facts, step.step, now)
    if window is None:
        return step.wait.starts_at or "done"
    if window.is_open_time:
        return "done"
    return f"@+{max(1, int(window.left) + 1)}s"


__all__ = ["answers_of", "good_reading", "next_words"]
