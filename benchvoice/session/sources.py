"""Where computed values come from: the readings and constants of each input, as sizes, and the value they make."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.inputs import constant, source_of, sources_of
from benchvoice.procedure.models import Computed, Measure, Step
from benchvoice.procedure.places import every_place, places_of
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import Place, Reading
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import answers
from benchvoice.session.readings import standing_at
from benchvoice.session.state import State

Inputs = Mapping[str, tuple[Row[Reading] | Quantity, ...]]
"""What a computed value is made of, by input: readings and constants."""


PLACES = 10
"""Decimals of a computed value: what never ends, such as a third or a volume, is rounded there."""


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


def value_of(
    state: State, computed: Computed, inputs: Inputs, unit: str, moved: Mapping[int, Decimal] | None = None
) -> Decimal:
    """What the inputs make, in a unit. `moved` puts other values in place of those of readings, by their line."""
    values = {
        key: tuple(_absolute(state, each, moved or {}) if isinstance(each, Row) else each for each in found)
        for key, found in inputs.items()
    }
    result = COMPUTED[computed.kind](**values)
    return to_decimal(convert(result.value, result.unit, unit) * Fraction(computed.factor or 1), PLACES)


def inputs_of(state: State, step: Step, computed: Computed, place: Place) -> Inputs | None:
    """The readings and constants of each input, or None while a reading is missing."""
    kept = dict(zip(computed.per, place, strict=False))
    inputs: dict[str, tuple[Row[Reading] | Quantity, ...]] = {}
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
    of = source_of(source)
    step = state.step(of.step)
    measure = step.measure
    assert measure is not None
    if of.computed:
        computed = measure.computed[of.computed]
        for place in _agreeing(places_of_computed(measure, computed), computed.per, of.at, kept):
            yield computed_row(state.facts, of.step, of.computed, place)
        return
    for place in _agreeing(places_of(measure), tuple(measure.places), of.at, kept):
        here = [row for row in standing_at(state.facts, step, place) if row.entry.value is not None]
        if len(here) < measure.repeats:
            yield None
        yield from here


def _agreeing(places: Iterable[Place], axes: tuple[str, ...], at: str, kept: dict[str, str]) -> Iterator[Place]:
    """The places that have the value `at` where there is one, and the kept value of every axis that is kept."""
    wanted = [(nth, kept[axis]) for nth, axis in enumerate(axes) if axis in kept]
    for place in places:
        if (not at or at in place) and all(place[nth] == value for nth, value in wanted):
            yield place


def _absolute(state: State, row: Row[Reading], moved: Mapping[int, Decimal]) -> Quantity:
    """A reading as a size: the master's size and the deviation from it where there is a master."""
    entry = row.entry
    assert entry.value is not None
    value = moved.get(row.n, entry.value)
    said = Quantity(value=value, unit=entry.unit)
    measure = state.step(entry.step).measure
    if measure is None or measure.master is None or entry.counts_as == "computed":
        return said
    master = measure.master.size
    if isinstance(master, dict):
        known = answers(state.facts).get(measure.master.by or "", "")
        if known not in master:
            return said
        master = master[known]
    size = convert(value, entry.unit, master.unit) + convert(master.value, master.unit, master.unit)
    return Quantity(value=to_decimal(size), unit=master.unit)
