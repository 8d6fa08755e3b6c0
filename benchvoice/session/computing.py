"""Values computed from readings, kept up to date: written when their inputs are all there, void when one changes."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.inputs import constant, sources_of
from benchvoice.procedure.models import Computed, Measure, Step
from benchvoice.procedure.places import every_place, places_of
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import NoLongerCounts, PackTaken, Place, Reading, StepClosed, Verdict
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import answers, fitted_steps
from benchvoice.session.readings import standing_at, verdict_on
from benchvoice.session.state import State
from benchvoice.session.turn import Turn


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


def places_of_computed(measure: Measure, computed: Computed) -> tuple[Place, ...]:
    """The places at which a value is computed: one for each combination of the axes that stay."""
    return every_place({axis: measure.places[axis] for axis in computed.per if axis in measure.places})


def computed_row(facts: Facts, step: str, name: str, place: Place) -> Row[Reading] | None:
    """The computed value of that name at a place, when it counts."""
    return facts.worked_out(_computed).get((step, name, place))


def _computed(facts: Facts) -> dict[tuple[str, str, Place], Row[Reading]]:
    return {
        (row.entry.step, row.entry.what, row.entry.place): row
        for row in facts.of(Reading)
        if row.entry.counts_as == "computed"
    }


def _update(turn: Turn, step: Step, name: str, computed: Computed, place: Place, anew: bool) -> Result | None:
    assert step.measure is not None
    inputs = _inputs(turn.state, step, computed, place)
    old = computed_row(turn.state.facts, step.step, name, place)
    if inputs is None:
        if old is not None:
            _void(turn, old, name, "a reading it came from doesn't count any more")
        return None
    used = _used(inputs)
    if old is not None and old.entry.from_entries == used and not anew:
        return None
    unit = computed.unit or step.measure.unit
    value = _value(turn.state, computed, inputs, unit)
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
    verdict = verdict_on(turn.state, step, row, computed)
    if verdict is not None:
        turn.write(verdict)
    return Result(step, name, computed, row, verdict)


def _void(turn: Turn, row: Row[Reading], name: str, why: str) -> None:
    """Make a computed value void, and with it a pack that was chosen for it: its step opens again to choose anew."""
    facts = turn.state.facts
    judged = [each.n for each in facts.of(Verdict) if each.entry.reading == row.n]
    packs = [each for each in facts.of(PackTaken) if each.entry.reading == row.n]
    shut = [each.n for each in facts.of(StepClosed) if packs and each.entry.step == row.entry.step]
    entries = (row.n, *judged, *(each.n for each in packs), *shut)
    turn.write(NoLongerCounts(entries=entries, what=name.replace("_", " "), reason=why))
    turn.say(*(f"{each.entry.pack} back in the tray" for each in packs))


_Inputs = dict[str, tuple[Row[Reading] | Quantity, ...]]
"""What a computed value is made of, by input: readings and constants."""


def _used(inputs: _Inputs) -> tuple[int, ...]:
    return tuple(sorted({each.n for found in inputs.values() for each in found if isinstance(each, Row)}))


def _value(state: State, computed: Computed, inputs: _Inputs, unit: str) -> Decimal:
    values = {
        key: tuple(_absolute(state, each) if isinstance(each, Row) else each for each in found)
        for key, found in inputs.items()
    }
    result = COMPUTED[computed.kind](**values)
    return to_decimal(convert(result.value, result.unit, unit) * Fraction(computed.factor or 1))


def _inputs(state: State, step: Step, computed: Computed, place: Place) -> _Inputs | None:
    """The readings and constants of each input, or None while a reading is missing."""
    kept = dict(zip(computed.per, place, strict=False))
    inputs: _Inputs = {}
    for key, sources in sources_of(step.step, computed).items():
        found: list[Row[Reading] | Quantity] = []
        for source in sources:
            size = constant(source)
            if size is not None:
                found.append(size)
                continue
            rows = _source_rows(state, source, kept)
            if rows is None:
                return None
            found.extend(rows)
        inputs[key] = tuple(found)
    return inputs


def _source_rows(state: State, source: str, kept: dict[str, str]) -> tuple[Row[Reading], ...] | None:
    """Every reading of a source, or None as soon as one is missing."""
    rows: list[Row[Reading]] = []
    for row in _source(state, source, kept):
        if row is None:
            return None
        rows.append(row)
    return tuple(rows) or None


def _source(state: State, source: str, kept: dict[str, str]) -> Iterator[Row[Reading] | None]:
    """The readings of a source at every place that agrees with the kept axes; None for each that is missing."""
    name, _, which = source.partition(".")
    step = state.step(name)
    measure = step.measure
    assert measure is not None
    if which:
        computed = measure.computed[which]
        for place in places_of_computed(measure, computed):
            if _agrees(dict(zip(computed.per, place, strict=False)), kept):
                yield computed_row(state.facts, name, which, place)
        return
    for place in places_of(measure):
        if not _agrees(dict(zip(measure.places, place, strict=False)), kept):
            continue
        here = [row for row in standing_at(state.facts, step, place) if row.entry.value is not None]
        if len(here) < measure.repeats:
            yield None
        yield from here


def _agrees(place: dict[str, str], kept: dict[str, str]) -> bool:
    return all(kept.get(axis, value) == value for axis, value in place.items())


def _absolute(state: State, row: Row[Reading]) -> Quantity:
    """A reading as a size: the master's size and the deviation from it where there is a master."""
    entry = row.entry
    assert entry.value is not None
    said = Quantity(value=entry.value, unit=entry.unit)
    measure = state.step(entry.step).measure
    if measure is None or measure.master is None or entry.counts_as == "computed":
        return said
    master = measure.master.size
    if isinstance(master, dict):
        known = answers(state.facts).get(measure.master.by or "", "")
        if known not in master:
            return said
        master = master[known]
    size = convert(entry.value, entry.unit, master.unit) + convert(master.value, master.unit, master.unit)
    return Quantity(value=to_decimal(size), unit=master.unit)
