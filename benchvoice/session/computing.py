"""Values computed from readings, kept up to date: written when their inputs are all there, void when one changes."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from benchvoice.procedure.inputs import constant, sources_of
from benchvoice.procedure.models import Computed, Measure, Step
from benchvoice.procedure.places import every_place, places_of
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import NoLongerCounts, Place, Reading, Verdict
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import answers, fitted_steps
from benchvoice.session.readings import all_standing, verdict_on
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


def update_computed(turn: Turn) -> tuple[Result, ...]:
    """Write every computed value whose inputs are complete and have changed; void those whose inputs are not."""
    results: list[Result] = []
    for step in fitted_steps(turn.state):
        if step.measure is None:
            continue
        for name, computed in step.measure.computed.items():
            for place in places_of_computed(step.measure, computed):
                result = _update(turn, step, name, computed, place)
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


def _update(turn: Turn, step: Step, name: str, computed: Computed, place: Place) -> Result | None:
    assert step.measure is not None
    inputs = _inputs(turn.state, step, computed, place)
    old = computed_row(turn.state.facts, step.step, name, place)
    if inputs is None:
        if old is not None:
            _void(turn, old, name, "a reading it came from doesn't count any more")
        return None
    used = inputs.rows
    if old is not None and old.entry.from_entries == used:
        return None
    if old is not None:
        _void(turn, old, name, "computed again from new readings")
    unit = computed.unit or step.measure.unit
    found = COMPUTED[computed.kind](**inputs.values)
    value = to_decimal(convert(found.value, found.unit, unit) * Fraction(computed.factor or 1))
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
    judged = [each.n for each in turn.state.facts.of(Verdict) if each.entry.reading == row.n]
    turn.write(NoLongerCounts(entries=(row.n, *judged), what=name.replace("_", " "), reason=why))


@dataclass(frozen=True, slots=True)
class _Inputs:
    """What a computed value is made of: values by input, and the readings among them."""

    values: dict[str, tuple[Quantity, ...]]
    rows: tuple[int, ...]


def _inputs(state: State, step: Step, computed: Computed, place: Place) -> _Inputs | None:
    """The values of each input, or None while a reading is missing."""
    kept = dict(zip(computed.per, place, strict=False))
    values: dict[str, tuple[Quantity, ...]] = {}
    used: set[int] = set()
    for key, sources in sources_of(step.step, computed).items():
        found: list[Quantity] = []
        for source in sources:
            size = constant(source)
            if size is not None:
                found.append(size)
                continue
            rows = tuple(_source(state, source, kept))
            if not rows:
                return None
            for row in rows:
                if row is None:
                    return None
                used.add(row.n)
                found.append(_absolute(state, row))
        values[key] = tuple(found)
    return _Inputs(values, tuple(sorted(used)))


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
    rows = all_standing(state.facts, step)
    for place in places_of(measure):
        if not _agrees(dict(zip(measure.places, place, strict=False)), kept):
            continue
        here = [row for row in rows if row.entry.place == place and row.entry.value is not None]
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
