"""A reading, from words to the log: taken, read back or asked again, then judged, echoed and computed from.

Doubt is never guessed away: a reading that can be misheard, or that is odd, is read back and stored only after "yes".
"""

from decimal import Decimal

from benchvoice.procedure.models import Measure, Step
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.session.computing import Result, update_computed
from benchvoice.session.entries import Paper, Place, Reading, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.figures import note_figure
from benchvoice.session.instruments import tool
from benchvoice.session.matching import void_matches
from benchvoice.session.means import judges_mean, mean_when_complete
from benchvoice.session.questions import yes_or_no
from benchvoice.session.readings import (
    Bandwidth,
    at_place,
    bounds_at,
    limits_in_force,
    was_remeasured,
)
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.session.using import ask_about_range, out_of_range
from benchvoice.session.verdicts import verdict_on
from benchvoice.speech.readings import Action, Context, SpokenReading
from benchvoice.speech.say import say_limits, say_list, say_number, say_place, say_quantity, say_read_back, to_say

ODD = 3
"""A reading further out than this many widths of its limits is asked about once."""


def measure_of(step: Step) -> Measure:
    """What a measure step asks."""
    assert step.measure is not None
    return step.measure


def band_at(state: State, step: Step, place: Place) -> Bandwidth | None:
    """The limits in force at a place of a measure step; for repeats without their own, those of their mean."""
    measure = measure_of(step)
    limits = limits_in_force(state, step)
    if limits is None and measure.repeats > 1:
        means = (each.limits for each in measure.computed.values() if each.kind == "mean" and not each.of)
        limits = next((each for each in means if each is not None), None)
    return bounds_at(state, limits, tuple(measure.places), place)


def context_at(state: State, step: Step, place: Place) -> Context:
    """What the parser must know to understand a reading at a place."""
    measure = measure_of(step)
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
    used = tool(state, measure.instrument)
    if used is None or used.instrument.resolution is None:
        return None
    return to_decimal(convert(used.instrument.resolution, used.instrument.unit, measure.unit))


def take_reading(
    turn: Turn,
    step: Step,
    place: Place,
    heard: SpokenReading,
    words: str,
    counts_as: str = "first",
    *,
    paper: Paper | None = None,
) -> bool:
    """Store a reading, or read it back, or ask again, as the words allow; `paper` is what it was read off."""
    if heard.action is Action.NOT_A_VALUE:
        return False
    doubtful = turn.utterance.doubtful if turn.utterance else None
    if heard.action is Action.ASK:
        turn.unclear(heard.reason or "more than one number is possible")
        turn.say(_ask_again_words(heard), tone="not heard")
        turn.talk(question=None)
        return True
    turn.understood("reading")
    odd = _is_odd(band_at(turn.state, step, place), heard, measure_of(step).unit)
    if heard.action is Action.READ_BACK or doubtful or odd:
        read_back(turn, step, place, heard, words, counts_as, odd=odd, paper=paper)
        return True
    store_reading(turn, step, place, heard, words, counts_as, paper=paper)
    return True


def _ask_again_words(heard: SpokenReading) -> str:
    """Why it is asked again. Figures are named only where the words were a number: talk may hold any of them."""
    if len(heard.candidates) > 1 and not heard.other_words:
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


def read_back(
    turn: Turn,
    step: Step,
    place: Place,
    heard: SpokenReading,
    words: str,
    counts_as: str,
    *,
    odd: bool,
    paper: Paper | None = None,
) -> None:
    """Say it figure by figure, and keep it only after "yes"."""
    assert heard.value is not None or heard.low is not None or heard.high is not None

    def keep(inner: Turn) -> None:
        store_reading(inner, step, place, heard, words, counts_as, confirmed=True, paper=paper)

    def drop(inner: Turn) -> None:
        inner.talk(place=place)
        inner.say("Say it again")

    value = heard.value if heard.value is not None else heard.high if heard.high is not None else heard.low
    assert value is not None
    asked = "Is that what it says?" if odd and heard.action is not Action.READ_BACK else "Yes or no?"
    prompt = f"{say_read_back(value, heard.unit or measure_of(step).unit)}. {asked}"
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
    paper: Paper | None = None,
) -> None:
    """Write a reading and its verdict, echo both, and keep computed values up to date."""
    measure = measure_of(step)
    past = out_of_range(turn.state, step, (heard.low, heard.high), heard.unit or measure.unit)
    if past and paper is None:

        def go_on(inner: Turn) -> None:
            store_reading(inner, step, place, heard, words, counts_as, confirmed=confirmed, replaces=replaces)

        ask_about_range(turn, step, past, go_on)
        return
    read = _reading(turn, step, place, heard, words)
    how = {"counts_as": _counts_as(turn.state, step, place, counts_as), "confirmed": confirmed, "replaces": replaces}
    source = {"paper": paper, "instrument": None} if paper is not None else {}
    n = turn.write(Reading.model_validate({**read, **how, **source}))
    turn.talk(again=None, again_reason=None, place=place)
    _judge_and_echo(turn, step, next(row for row in reversed(turn.state.facts.of(Reading)) if row.n == n))
    say_results(turn, update_computed(turn))
    void_matches(turn)


def _counts_as(state: State, step: Step, place: Place, counts_as: str) -> str:
    """What a reading counts as: a first one beside another is a repeat, after the part changed a re-measurement."""
    if counts_as != "first":
        return counts_as
    if at_place(state.facts, step.step, place):
        return "repeat"
    return "re-measurement" if was_remeasured(state.facts, step.step, place) else counts_as


def _reading(turn: Turn, step: Step, place: Place, heard: SpokenReading, words: str) -> dict[str, object]:
    """What was read, where, with what, and how it was heard."""
    measure = measure_of(step)
    said_before = measure.say_limits in ("before", "first place") and turn.state.talk.place == place
    return {
        "step": step.step,
        "what": measure.what,
        "place": place,
        "value": heard.value if heard.action is not Action.BOUND else None,
        "unit": heard.unit or measure.unit,
        "said": words,
        "low": heard.low,
        "high": heard.high,
        "resolution": heard.resolution,
        "instrument": used_at(turn.state, measure),
        "confidence": turn.utterance.confidence if turn.utterance else None,
        "clip": turn.clip,
        "limits_said_before": said_before,
    }


def _judge_and_echo(turn: Turn, step: Step, row: Row[Reading]) -> None:
    """Write the verdict on a reading, or on the mean that it completes, and echo it."""
    alone = not judges_mean(step) or row.entry.value is None
    verdict = verdict_on(turn.state, step, row) if alone else None
    if verdict is not None:
        turn.write(verdict)
    _echo(turn, row, verdict)
    if not alone:
        mean_when_complete(turn, step, row.entry.place)


def used_at(state: State, measure: Measure) -> str | None:
    """Id of the instrument that a reading is taken with; None where the step names none."""
    used = tool(state, measure.instrument)
    return measure.instrument if used is None else used.instrument.id


def _echo(turn: Turn, row: Row[Reading], verdict: Verdict | None) -> None:
    source = f", from the {row.entry.paper.what}" if row.entry.paper is not None else ""
    spoken = f"{say_reading(row.entry)}{source}"
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
    """Say computed values that are over or under, or that the procedure wants said; doubt is asked about anyway."""
    for result in results:
        value = result.row.entry.value
        if value is None:
            continue
        out = result.verdict is not None and result.verdict.outcome in ("over", "under")
        if result.computed.say is None and not out:
            continue
        name = result.computed.say or result.name.replace("_", " ")
        axes = tuple(result.computed.per)
        where = say_place(result.row.entry.place, axes)
        amount = say_quantity(to_say(value, result.row.entry.unit), result.row.entry.unit)
        note_figure(turn, value, result.row.entry.unit)
        verdict = f", {result.verdict.outcome}" if result.verdict else ""
        turn.say(f"{where + ', ' if where else ''}{name} {amount}{verdict}")
