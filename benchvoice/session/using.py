"""Which instrument: asked where the register has several, and a spoken override with a reason where one objects."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.models import Step
from benchvoice.quantity.instruments import due_date, objections
from benchvoice.session.entries import InstrumentTaken, Override
from benchvoice.session.instruments import Tool, against, candidates, needs_choice, overridden, own, tool
from benchvoice.session.questions import all_the_same, listed
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.about import say_about
from benchvoice.speech.say import say_count, say_limits, say_quantity

ANOTHER = "another"
"""None of the register's: the procedure's own figures hold."""
OTHER_INSTRUMENT = "another instrument"
USE_IT = "use it"
Refuses = Callable[[State, Tool], str]
"""Why an instrument can't do what is asked here, in a sentence; empty when it can."""


def can_do(_state: State, _tool: Tool) -> str:
    """Any instrument of the kind will do."""
    return ""


def ask_instrument(turn: Turn, step: Step, name: str | None, refuses: Refuses = can_do) -> bool:
    """Ask which instrument is used, or for an override where it is overdue; False where nothing is to be asked."""
    if name is None:
        return False
    if needs_choice(turn.state, name):
        turn.ask(which_instrument(turn.state, step, name, refuses))
        return True
    used = tool(turn.state, name)
    if used is None:
        return False
    fault = refuses(turn.state, used)
    if fault and candidates(turn.state, name):
        turn.say(fault)
        turn.ask(which_instrument(turn.state, step, name, refuses))
        return True
    found = against(turn.state, used, turn.now)
    if found:
        turn.ask(_overdue(turn.state, step, name, used, found[0], turn.now.at.date(), refuses))
        return True
    return False


def which_instrument(state: State, step: Step, name: str, refuses: Refuses = can_do) -> Question:
    """Which dial indicator: dial one, dial two, or another?"""
    known = candidates(state, name)
    by_words = {words.lower(): each for each in known for words in each.names}
    names = tuple(each.names[0] for each in known)
    asked = own(state, name)
    prompt = f"Which {asked.kind if asked else 'instrument'}: {listed((*names, ANOTHER))}?"

    def take(turn: Turn, text: str) -> bool:
        words = text.removeprefix("the ")
        if words not in (ANOTHER, OTHER_INSTRUMENT) and words not in by_words:
            return False
        chosen = by_words.get(words)
        turn.understood("instrument")
        used = Tool(chosen.instrument(), chosen.used) if chosen is not None else _own_tool(turn.state, name)
        fault = refuses(turn.state, used) if used is not None else ""
        if fault:
            turn.say(fault)
            turn.ask(which_instrument(turn.state, step, name, refuses))
            return True
        turn.write(InstrumentTaken(step=step.step, name=name, id=chosen.id if chosen is not None else None))
        turn.talk(question=None)
        if chosen is None or used is None:
            turn.say("The procedure's own figures then")
        elif not against(turn.state, used, turn.now):  # else its name comes with what stands against it
            turn.say(used.called)
        return True

    return Question(name="instrument", prompt=prompt, take=take, phrases=(*names, ANOTHER))


def _own_tool(state: State, name: str) -> Tool | None:
    found = own(state, name)
    return None if found is None else Tool(found)


def _overdue(state: State, step: Step, name: str, used: Tool, what: str, today: date, refuses: Refuses) -> Question:
    """An instrument whose calibration is due: used with a reason, or another one."""
    others = bool(candidates(state, name))
    ways = (f"{USE_IT} because", *((OTHER_INSTRUMENT,) if others else ()))
    or_another = f", or {OTHER_INSTRUMENT}" if others else ""
    prompt = f"{used.called}: {_due_words(used, what, today)}. Use it, and why{or_another}?"

    def take(turn: Turn, text: str) -> bool:
        if others and text in (OTHER_INSTRUMENT, ANOTHER):
            turn.understood("instrument")
            turn.ask(which_instrument(turn.state, step, name, refuses))
            return True
        return _take_override(turn, step, used, what, text, lambda inner: None)

    return Question(name="override", prompt=prompt, take=take, phrases=ways)


def _take_override(turn: Turn, step: Step, used: Tool, what: str, text: str, then: Callable[[Turn], None]) -> bool:
    """ "Use it because …", or "use it" and the reason when it is asked for."""
    def write(inner: Turn, why: str) -> None:
        inner.talk(question=None)
        name = used.instrument.id
        inner.write(Override(what=f"{name}: {what}", reason=why, step=step.step, instrument=name))
        inner.say("Noted")
        then(inner)

    return all_the_same(turn, text, (USE_IT, "use it anyway", "take it", "take it anyway"), "override", write)


def _due_words(used: Tool, what: str, today: date) -> str:
    due = due_date(used.instrument)
    if due is not None and what.endswith(due.isoformat()):
        days = (today - due).days
        return f"calibration was due {say_count(days)} {'day' if days == 1 else 'days'} ago"
    uses = used.instrument.due.uses
    return f"calibration was due after {say_count(uses)} uses" if uses is not None else what


# Readings outside the range -------------------------------------------------------------------------------------------


def out_of_range(state: State, step: Step, ends: tuple[Decimal | None, Decimal | None], unit: str) -> str:
    """What stands against a reading: that its instrument doesn't reach so far; empty when it does or was overridden."""
    measure = step.measure
    used = tool(state, measure.instrument) if measure is not None else None
    if measure is None or used is None or measure.master is not None:
        return ""
    for end in ends:
        for found in _range_objections(used, end, unit):
            if not overridden(state.facts, used.instrument.id, found, step.step):
                return found
    return ""


def _range_objections(used: Tool, value: Decimal | None, unit: str) -> tuple[str, ...]:
    if value is None:
        return ()
    try:
        found = objections(used.instrument, on=date.min, value=value, unit=unit)
    except BenchvoiceError:
        return ()
    return tuple(each for each in found if "its range" in each)


def ask_about_range(turn: Turn, step: Step, what: str, then: Callable[[Turn], None]) -> None:
    """A reading that its instrument can't show: taken with a reason, or read again."""
    used = tool(turn.state, step.measure.instrument if step.measure is not None else None)
    assert used is not None
    where = "above" if what.startswith("above") else "below"
    reach = say_limits(used.instrument.low, used.instrument.high, used.instrument.unit)
    prompt = f"That is {where} what the {used.called} reads, {reach}. Take it, and why, or measure again?"

    def take(inner: Turn, text: str) -> bool:
        if text in ("measure again", "again", "no", "wrong"):
            inner.understood("measure again")
            inner.talk(question=None)
            inner.say("Say it again")
            return True
        return _take_override(inner, step, used, what, text, then)

    turn.ask(Question(name="out of range", prompt=prompt, take=take, phrases=("measure again", "take it because")))


# What can be asked ----------------------------------------------------------------------------------------------------


def about(used: Tool, today: date) -> str:
    """What is known of an instrument, in one sentence: how far and how well it reads, and when it is due."""
    known = used.instrument
    parts = [used.called]
    if known.low is not None or known.high is not None:
        parts.append(say_limits(known.low, known.high, known.unit))
    if known.class_percent is not None:
        parts.append(f"class {say_quantity(known.class_percent, 'percent')}")
    if known.uncertainty:
        parts.append(f"give or take {say_about(known.uncertainty, known.unit)}")
    elif known.resolution is not None:
        parts.append(f"in steps of {say_about(known.resolution, known.unit)}")
    due = due_date(known)
    if due is not None:
        days = (due - today).days
        when = f"due in {say_count(days)} days" if days >= 0 else f"was due {say_count(-days)} days ago"
        parts.append(f"calibration {when}")
    return ", ".join(parts)
