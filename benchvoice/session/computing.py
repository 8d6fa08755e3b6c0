"""Values computed from readings, kept up to date: written when their inputs are all there, void when one changes."""

from dataclasses import dataclass
from decimal import Decimal

from benchvoice.procedure.models import Band, Choose, Computed, Step
from benchvoice.session.entries import Answered, NoLongerCounts, PackTaken, Place, Reading, StepClosed, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.plan import fitted_steps, title_of
from benchvoice.session.sources import Inputs, computed_row, inputs_of, places_of_computed, value_of
from benchvoice.session.turn import Turn
from benchvoice.session.verdicts import verdict_on


@dataclass(frozen=True, slots=True)
class Result:
    """A computed value that was just written, and what it is against its limits."""

    step: Step
    name: str
    computed: Computed
    row: Row[Reading]
    verdict: Verdict | None


def update_computed(turn: Turn, *, anew: bool = False) -> tuple[Result, ...]:
    """Write every computed value whose inputs are complete and have changed; void those whose inputs are not.

    `anew` works out also those whose readings are the same: an answer, and with it a master's size, may have changed.
    """
    results: list[Result] = []
    for step in fitted_steps(turn.state):
        if step.measure is None:
            continue
        for name, computed in step.measure.computed.items():
            for place in places_of_computed(step.measure, computed):
                result = _update(turn, step, name, computed, place, anew)
                if result is not None:
                    results.append(result)
    return tuple(results)


def _update(turn: Turn, step: Step, name: str, computed: Computed, place: Place, anew: bool) -> Result | None:
    assert step.measure is not None
    inputs = inputs_of(turn.state, step, computed, place)
    old = computed_row(turn.state.facts, step.step, name, place)
    if inputs is None:
        if old is not None:
            _void(turn, old, name, "a reading it came from doesn't count any more")
        return None
    used = _used(inputs)
    if old is not None and old.entry.from_entries == used and not anew:
        return None
    unit = computed.unit or step.measure.unit
    value = value_of(turn.state, computed, inputs, unit)
    if old is not None:
        if old.entry.from_entries == used and old.entry.value == value:
            return None
        _void(turn, old, name, "computed again from new readings")
    n = turn.write(
        Reading(
            step=step.step,
            what=name,
            place=place,
            value=value,
            unit=unit,
            said="",
            low=value,
            high=value,
            counts_as="computed",
            from_entries=used,
        )
    )
    row = next(row for row in reversed(turn.state.facts.of(Reading)) if row.n == n)
    _choose_anew(turn, f"{step.step}.{name}", value)
    verdict = verdict_on(turn.state, step, row, computed)
    if verdict is not None:
        turn.write(verdict)
        if verdict.outcome != "in limits":
            _open_again(turn, step)
    return Result(step, name, computed, row, verdict)


def _void(turn: Turn, row: Row[Reading], name: str, why: str) -> None:
    """Make a computed value void, and with it a pack that was chosen for it: its step opens again to choose anew."""
    facts = turn.state.facts
    judged = [each.n for each in facts.of(Verdict) if each.entry.reading == row.n]
    packs = [each for each in facts.of(PackTaken) if each.entry.reading == row.n]
    shut = [each.n for each in facts.of(StepClosed) if packs and each.entry.step == row.entry.step]
    entries = (row.n, *judged, *(each.n for each in packs), *shut)
    turn.write(NoLongerCounts(entries=entries, what=name.replace("_", " "), reason=why))
    turn.say(*(f"{', '.join((each.entry.pack, *each.entry.place))} back in the tray" for each in packs))


def _used(inputs: Inputs) -> tuple[int, ...]:
    return tuple(sorted({each.n for found in inputs.values() for each in found if isinstance(each, Row)}))


def _open_again(turn: Turn, step: Step) -> None:
    """A step that was closed and whose value is not in limits now owes a decision."""
    closed = (row for row in turn.state.facts.of(StepClosed) if row.entry.step == step.step)
    shut = tuple(row.n for row in closed if row.entry.how == "done")
    if shut:
        turn.write(NoLongerCounts(entries=shut, what=title_of(step), reason="computed again, and not in limits"))
        turn.say(f"{title_of(step)} opens again")


def chosen_by(choose: Choose, value: Decimal) -> str | None:
    """What a computed value chooses: the first answer whose band holds it; None where none does."""
    return next((answer for answer, band in choose.bands.items() if _inside(value, band)), None)


def _inside(value: Decimal, band: Band) -> bool:
    low, high = band
    return (low is None or value >= low) and (high is None or value <= high)


def _choose_anew(turn: Turn, by: str, value: Decimal) -> None:
    """A value that has changed may choose otherwise: then the choice doesn't count any more, and its step opens."""
    for step in fitted_steps(turn.state):
        choose = step.choose
        if choose is None or choose.by != by:
            continue
        rows = [row for row in turn.state.facts.of(Answered) if row.entry.question == choose.name]
        if not rows or rows[-1].entry.step != step.step or rows[-1].entry.answer == chosen_by(choose, value):
            continue
        shut = [row.n for row in turn.state.facts.of(StepClosed) if row.entry.step == step.step]
        turn.write(NoLongerCounts(entries=(rows[-1].n, *shut), what=title_of(step), reason="its value has changed"))
        turn.say(f"{title_of(step)} opens again")
