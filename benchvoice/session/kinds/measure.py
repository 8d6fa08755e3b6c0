"""Measure: readings at places, taken in any order, echoed and judged at once.

Doubt is never guessed away: a reading that can be misheard, or that is odd, is read back and stored only after "yes".
"""

from decimal import Decimal

from benchvoice.procedure.models import Measure, Step
from benchvoice.procedure.places import places_of
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.session.computing import Result, update_computed
from benchvoice.session.deciding import ask_decision, ask_which
from benchvoice.session.entries import Override, Place, Reading, Remeasured, Verdict, Zeroed
from benchvoice.session.facts import Instant, Row
from benchvoice.session.hearing import leading_place, named_place
from benchvoice.session.questions import yes_or_no
from benchvoice.session.readings import (
    Bandwidth,
    at_place,
    bounds_at,
    still_needed,
    taken,
    to_choose,
    to_decide,
    verdict_on,
    was_remeasured,
)
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.session.zeros import STANDS, zero_moved
from benchvoice.speech.readings import Action, Context, SpokenReading, parse_reading
from benchvoice.speech.say import say_limits, say_list, say_number, say_place, say_quantity, say_read_back

ODD = 3
"""A reading further out than this many widths of its limits is asked about once."""


def _measure(step: Step) -> Measure:
    assert step.measure is not None
    return step.measure


def band_at(state: State, step: Step, place: Place) -> Bandwidth | None:
    """The limits in force at a place of a measure step."""
    measure = _measure(step)
    return bounds_at(state, measure.limits, tuple(measure.places), place)


# Asking -------------------------------------------------------------------------------------------------------------


def _opening(_state: State, step: Step) -> tuple[str, ...]:
    measure = _measure(step)
    if measure.again and measure.reason is not None:
        return (f"Read again: {measure.reason}",)
    return ()


def _ask(turn: Turn, step: Step) -> bool:
    measure = _measure(step)
    _remeasure_if_declared(turn, step)
    update_computed(turn)
    facts = turn.state.facts
    if measure.zero_check and not _zeroed(turn.state, step, "first"):
        _ask_zero(turn, step, "first")
        return True
    unsettled = to_choose(facts, step)
    if unsettled and turn.state.talk.again is None:
        turn.ask(ask_which(step, unsettled[0], at_place(facts, step.step, unsettled[0])))
        return True
    undecided = to_decide(facts, step)
    if undecided and turn.state.talk.again is None:
        turn.ask(ask_decision(turn.state, step, undecided[0]))
        return True
    if turn.state.talk.again is not None:
        turn.say(say_place(turn.state.talk.again, tuple(measure.places)))
        return True
    return _ask_place(turn, step) or _ask_last_zero(turn, step)


def _ask_place(turn: Turn, step: Step) -> bool:
    measure = _measure(step)
    todo = still_needed(turn.state.facts, step)
    if not todo:
        return False
    before, place = turn.state.talk.place, todo[0]
    if before == place and measure.repeats == 1:
        return True
    first = before is None
    axes = tuple(measure.places)
    where = say_place(place, axes, before)
    turn.talk(place=place)
    turn.say(_before(measure, place))
    if measure.repeats > 1:
        done = len(at_place(turn.state.facts, step.step, place))
        where = f"{where}, {_NTH[min(done, len(_NTH) - 1)]} reading" if where else f"{_NTH[min(done, 4)]} reading"
    turn.say(f"{where}, {measure.what}" if first and where else where or measure.what)
    say_now = measure.say_limits == "before" or (first and measure.say_limits == "first place")
    band = band_at(turn.state, step, place)
    if say_now and band is not None:
        turn.say(say_limits(band.low, band.high, measure.unit))
    return True


def _before(measure: Measure, place: Place) -> str:
    """What to do before the reading at a place; a table names it by the value of one axis."""
    before = measure.before_each
    if before is None:
        return ""
    if isinstance(before, str):
        return before.replace("{place}", say_place(place, tuple(measure.places)))
    return next((before[value] for value in place if value in before), "")


_NTH = ("first", "second", "third", "fourth", "next")


def _remeasure_if_declared(turn: Turn, step: Step) -> None:
    """A step that reads again what an earlier one read makes those readings void, with its own reason, once."""
    measure = _measure(step)
    if taken(turn.state.facts, step.step):
        return
    for earlier in measure.again:
        rows = tuple(row.n for row in taken(turn.state.facts, earlier))
        if rows:
            turn.write(Remeasured(step=earlier, entries=rows, reason=measure.reason or "read again"))


# Zero checks --------------------------------------------------------------------------------------------------------


def _zeroed(state: State, step: Step, when: str) -> bool:
    good = (row.entry for row in state.facts.of(Zeroed) if row.entry.step == step.step and row.entry.good)
    if any(entry.when == when for entry in good):
        return True
    let = (row.entry for row in state.facts.of(Override) if row.entry.step == step.step)
    return when == "last" and any(entry.what == STANDS for entry in let)


def _ask_last_zero(turn: Turn, step: Step) -> bool:
    if not _measure(step).zero_check or _zeroed(turn.state, step, "last"):
        return False
    _ask_zero(turn, step, "last")
    return True


def _ask_zero(turn: Turn, step: Step, when: str) -> None:
    measure = _measure(step)
    key = f"zero {step.step} {when}"
    if turn.state.talk.told == key:
        return
    turn.talk(told=key)
    on = f" on the {measure.master.what}" if measure.master else ""
    turn.say(f"Zero{on}: what does it read?" if when == "first" else f"Zero again{on}: what does it read?")


def awaits_zero(state: State, step: Step) -> str | None:
    """Which zero check the step waits for: the first, the last, or none."""
    measure = _measure(step)
    if not measure.zero_check:
        return None
    if not _zeroed(state, step, "first"):
        return "first"
    if not still_needed(state.facts, step) and not _zeroed(state, step, "last"):
        return "last"
    return None


def _take_zero(turn: Turn, step: Step, heard: SpokenReading, when: str) -> bool:
    if heard.value is None or heard.action not in (Action.TAKE, Action.READ_BACK):
        return False
    measure = _measure(step)
    turn.understood("zero check")
    good = heard.value == 0
    turn.write(
        Zeroed.model_validate(
            {
                "step": step.step,
                "instrument": measure.instrument or "",
                "value": heard.value,
                "unit": heard.unit or measure.unit,
                "when": when,
                "good": good,
            }
        )
    )
    turn.talk(told=None)
    if good:
        turn.say("Zero")
    elif when == "first":
        turn.say("Set it to zero and read it again")
    else:
        zero_moved(turn, step, heard)
    return True


# Taking a reading ---------------------------------------------------------------------------------------------------


def context_at(state: State, step: Step, place: Place) -> Context:
    """What the parser must know to understand a reading at a place."""
    measure = _measure(step)
    band = band_at(state, step, place)
    return Context(
        unit=measure.unit,
        work=state.procedure.work,
        low=band.low if band else None,
        high=band.high if band else None,
        what=f"{measure.what}, height" if measure.height else measure.what,
        per_division=measure.per_division,
        resolution=measure.resolution or _shown(state, measure),
    )


def _shown(state: State, measure: Measure) -> Decimal | None:
    """The smallest step that the step's instrument shows, in the step's unit."""
    instrument = state.procedure.instruments.get(measure.instrument or "")
    if instrument is None or instrument.resolution is None:
        return None
    return to_decimal(convert(instrument.resolution, instrument.unit, measure.unit))


def _place_for(turn: Turn, step: Step, text: str) -> tuple[Place | None, str]:
    """The place that a reading is for, and the words of the reading itself."""
    measure = _measure(step)
    place, rest = leading_place(text, measure.places)
    if place is not None and rest:
        return place, rest
    if turn.state.talk.again is not None:
        return turn.state.talk.again, text
    todo = still_needed(turn.state.facts, step)
    here = turn.state.talk.place
    if here is not None and (here in todo or not todo):
        return here, text
    return (todo[0] if todo else None), text


def _take(turn: Turn, step: Step, text: str) -> bool:
    measure = _measure(step)
    named = named_place(text, measure.places)
    if named is not None and measure.places:
        return _go_to_place(turn, step, named)
    place, words = _place_for(turn, step, text)
    if place is None or place not in places_of(measure):
        return False
    if words in SAME_AGAIN:
        return _take_same(turn, step, place, words)
    heard = parse_reading(words, context_at(turn.state, step, place))
    when = awaits_zero(turn.state, step)
    if when is not None and words == text and turn.state.talk.again is None:
        return _take_zero(turn, step, heard, when)
    return take_reading(turn, step, place, heard, words)


SAME_AGAIN = ("same again", "the same again", "same")


def _take_same(turn: Turn, step: Step, place: Place, words: str) -> bool:
    """The last reading of this set once more: read back in full, kept with the words, never twice running."""
    rows = taken(turn.state.facts, step.step)
    if not rows or rows[-1].entry.said in SAME_AGAIN or rows[-1].entry.value is None:
        turn.unclear("same again, twice running" if rows else "nothing was read yet")
        turn.say("Say the reading", tone="not heard")
        return True
    last = rows[-1].entry
    same = SpokenReading(
        action=Action.READ_BACK,
        value=last.value,
        unit=last.unit,
        low=last.low,
        high=last.high,
        resolution=last.resolution,
    )
    turn.understood("reading")
    _read_back(turn, step, place, same, words, "first", odd=False)
    return True


def _go_to_place(turn: Turn, step: Step, place: Place) -> bool:
    if place not in places_of(_measure(step)):
        return False
    turn.understood("place")
    turn.talk(place=place, question=None)
    turn.say(say_place(place, tuple(_measure(step).places)))
    if at_place(turn.state.facts, step.step, place):
        turn.talk(again=place)
    return True


def take_reading(
    turn: Turn, step: Step, place: Place, heard: SpokenReading, words: str, counts_as: str = "first"
) -> bool:
    """Store a reading, or read it back, or ask again, as the words allow."""
    if heard.action is Action.NOT_A_VALUE:
        return False
    doubtful = turn.utterance.doubtful if turn.utterance else None
    if heard.action is Action.ASK:
        turn.unclear(heard.reason or "more than one number is possible")
        turn.say(_ask_again_words(heard), tone="not heard")
        turn.talk(question=None)
        return True
    turn.understood("reading")
    odd = _is_odd(band_at(turn.state, step, place), heard, _measure(step).unit)
    if heard.action is Action.READ_BACK or doubtful or odd:
        _read_back(turn, step, place, heard, words, counts_as, odd=odd)
        return True
    store_reading(turn, step, place, heard, words, counts_as)
    return True


def _ask_again_words(heard: SpokenReading) -> str:
    if len(heard.candidates) > 1:
        return f"{say_list([say_digits_of(each) for each in heard.candidates[:3]], last='or')}? Say it again"
    return f"{heard.reason or 'I am not sure'}. Say it again"


def say_digits_of(candidate: str) -> str:
    """A candidate as the parser gives it ("0.005 in", "2.50") in words."""
    figures, _, unit = candidate.partition(" ")
    try:
        value = Decimal(figures)
    except ArithmeticError:
        return candidate
    return say_quantity(value, unit) if unit in _SAYABLE else say_number(value)


_SAYABLE = frozenset({"in", "thou", "mm", "um", "N_m", "ft_lb", "in_lb", "kgf_m", "kgf_cm", "deg", "bar", "psi", "g"})


def _is_odd(band: Bandwidth | None, heard: SpokenReading, unit: str) -> bool:
    """Far outside the limits: more than three of their widths (or of the one limit) away."""
    if band is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != kind_of(unit):
        return False
    value = convert(heard.value, heard.unit, unit)
    width = abs(band.high - band.low) if band.low is not None and band.high is not None else None
    span = width or abs(band.high if band.high is not None else band.low or Decimal(0))
    if not span:
        return False
    over = band.high is not None and value > band.high + ODD * span
    under = band.low is not None and value < band.low - ODD * span
    return over or under


def _read_back(
    turn: Turn, step: Step, place: Place, heard: SpokenReading, words: str, counts_as: str, *, odd: bool
) -> None:
    assert heard.value is not None or heard.low is not None or heard.high is not None

    def keep(inner: Turn) -> None:
        store_reading(inner, step, place, heard, words, counts_as, confirmed=True)

    def drop(inner: Turn) -> None:
        inner.talk(place=place)
        inner.say("Say it again")

    value = heard.value if heard.value is not None else heard.high if heard.high is not None else heard.low
    assert value is not None
    asked = "Is that what it says?" if odd and heard.action is not Action.READ_BACK else "Yes or no?"
    prompt = f"{say_read_back(value, heard.unit or _measure(step).unit)}. {asked}"
    turn.ask(yes_or_no("confirm reading", prompt, keep, drop))


def store_reading(
    turn: Turn,
    step: Step,
    place: Place,
    heard: SpokenReading,
    words: str,
    counts_as: str = "first",
    *,
    confirmed: bool = False,
    replaces: int | None = None,
) -> None:
    """Write a reading and its verdict, echo both, and keep computed values up to date."""
    measure = _measure(step)
    before = at_place(turn.state.facts, step.step, place)
    if counts_as == "first":
        counts_as = "repeat" if before else "re-measurement" if was_remeasured(turn.state.facts, step.step, place) else counts_as
    said_before = measure.say_limits in ("before", "first place") and turn.state.talk.place == place
    n = turn.write(
        Reading.model_validate(
            {
                "step": step.step,
                "what": measure.what,
                "place": place,
                "value": heard.value if heard.action is not Action.BOUND else None,
                "unit": heard.unit or measure.unit,
                "said": words,
                "low": heard.low,
                "high": heard.high,
                "resolution": heard.resolution,
                "instrument": measure.instrument,
                "confidence": turn.utterance.confidence if turn.utterance else None,
                "clip": turn.clip,
                "limits_said_before": said_before,
                "confirmed": confirmed,
                "counts_as": counts_as,
                "replaces": replaces,
            }
        )
    )
    row = next(row for row in reversed(turn.state.facts.of(Reading)) if row.n == n)
    verdict = verdict_on(turn.state, step, row)
    if verdict is not None:
        turn.write(verdict)
    turn.talk(again=None, again_reason=None, place=place)
    _echo(turn, row, verdict)
    say_results(turn, update_computed(turn))


def _echo(turn: Turn, row: Row[Reading], verdict: Verdict | None) -> None:
    spoken = say_reading(row.entry)
    if verdict is None:
        turn.say(spoken)
    elif verdict.outcome == "in limits":
        turn.say(f"{spoken}, in limits")
    # What is not in limits is said by the question that follows it.


def say_reading(entry: Reading) -> str:
    """A reading in words: the value, or the interval it lies in."""
    if entry.value is not None:
        return say_number(entry.value, fractions=entry.unit in ("thou", "tenth"))
    return say_limits(entry.low, entry.high, entry.unit)


def say_results(turn: Turn, results: tuple[Result, ...]) -> None:
    """Say computed values that are not in limits, or that the procedure wants said."""
    for result in results:
        value = result.row.entry.value
        if value is None:
            continue
        out = result.verdict is not None and result.verdict.outcome != "in limits"
        if result.computed.say is None and not out:
            continue
        name = result.computed.say or result.name.replace("_", " ")
        axes = tuple(result.computed.per)
        where = say_place(result.row.entry.place, axes)
        amount = say_quantity(value, result.row.entry.unit)
        verdict = f", {result.verdict.outcome}" if result.verdict else ""
        turn.say(f"{where + ', ' if where else ''}{name} {amount}{verdict}")


# What can be asked about it -----------------------------------------------------------------------------------------


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    measure = _measure(step)
    axes = tuple(measure.places)
    owed = [
        f"a decision on {say_place(row.entry.place, axes) or measure.what}" for row in to_decide(state.facts, step)
    ]
    owed += [f"which reading stands, {say_place(place, axes)}" for place in to_choose(state.facts, step)]
    owed += [say_place(place, axes) or measure.what for place in still_needed(state.facts, step)]
    if awaits_zero(state, step) is not None:
        owed.append("the zero check")
    return tuple(owed)


def _limits(state: State, step: Step) -> str:
    measure = _measure(step)
    place = state.talk.again or state.talk.place
    todo = still_needed(state.facts, step)
    place = place if place is not None else (todo[0] if todo else places_of(measure)[0])
    band = band_at(state, step, place)
    if band is None:
        return "No limits are given here"
    return say_limits(band.low, band.high, measure.unit)


def _left(state: State, step: Step) -> str:
    todo, every = still_needed(state.facts, step), places_of(_measure(step))
    axes = tuple(_measure(step).places)
    if not todo:
        return "None"
    names = say_list([say_place(place, axes) for place in todo[:6]]) if axes else ""
    return f"{say_number(len(todo))} of {say_number(len(every))}{': ' + names if names else ''}"


MEASURE = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    limits=_limits,
    left=_left,
    about=lambda _state, _step: frozenset({"reading", "places"}),
)
