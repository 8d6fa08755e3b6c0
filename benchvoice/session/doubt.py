"""How much doubt is in a reading or a computed value: its uncertainty budget, from what is known of its instruments."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.gauges import gauge_of, stated_at
from benchvoice.procedure.models import Measure
from benchvoice.quantity.budget import Effect, Gauge, carried, of_instrument, of_spread, span
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.session.entries import Reading
from benchvoice.session.facts import Row
from benchvoice.session.instruments import instrument_of
from benchvoice.session.readings import at_place
from benchvoice.session.sources import Inputs, inputs_of, value_of
from benchvoice.session.state import State

Effects = tuple[Effect, ...]
Value = Callable[[Sequence[Decimal]], Decimal]


def effects_on(state: State, row: Row[Reading], *, of_repeats: bool = False) -> Effects | None:
    """Every source of doubt in a reading, in the reading's unit; None where not even its instrument's is known.

    The spread of the readings at its place counts where a step asks for repeats, or where the reading is one of those
    that a mean is of. It says nothing of one that was chosen before the others, which may have been wrong.
    """
    entry = row.entry
    if entry.paper is not None:
        return None  # nobody here knows what it was measured with
    if entry.counts_as == "computed":
        return _on_computed(state, row)
    if entry.counts_as == "mean":
        return _on_mean(state, row)
    measure = state.step(entry.step).measure
    gauge = _gauge(state, measure, row) if measure is not None else None
    if measure is None or gauge is None:
        return None
    if entry.value is None:
        return _on_interval(gauge, entry)
    own = of_instrument(gauge, entry.unit, entry.resolution if measure.uncertainty is None else None)
    if own is None:
        return None
    known = span(gauge.repeatability, gauge.unit, entry.unit) if gauge.repeatability is not None else None
    known_too = [own, *_master(measure, entry)]
    repeats = _repeats(state, entry) if of_repeats or measure.repeats > 1 else ()
    spread = of_spread(f"spread of {entry.step} {', '.join(entry.place)}", repeats, known)
    return tuple(known_too) if spread is None else (*known_too, spread)


def _master(measure: Measure, entry: Reading) -> Effects:
    """What a setting master adds: the same error in every reading that was set by it (GUM 4.3.3)."""
    if measure.master is None or measure.master.uncertainty is None:
        return ()
    stated = measure.master.uncertainty
    return (Effect(source=f"master of {entry.step}", u=span(stated.value, stated.unit, entry.unit) / 2, shared=True),)


def _gauge(state: State, measure: Measure, row: Row[Reading]) -> Gauge | None:
    """What is known of the instrument that a reading was taken with, where it can read such a thing at all."""
    entry = row.entry
    gauge = stated_at(entry.step, measure)
    if gauge is None:
        instrument = instrument_of(state, row)
        gauge = None if instrument is None else gauge_of(instrument)
    return gauge if gauge is not None and kind_of(gauge.unit) == kind_of(entry.unit) else None


def _on_interval(gauge: Gauge, entry: Reading) -> Effects | None:
    """An interval is its own doubt: only what is stated of the instrument (how true its leaves are) comes on top."""
    if gauge.stated is None:
        return None if gauge.resolution is None else ()
    own = of_instrument(gauge, entry.unit)
    return None if own is None else (own,)


def _repeats(state: State, entry: Reading) -> list[Decimal]:
    """All plain readings at a reading's place that count, in its unit."""
    rows = at_place(state.facts, entry.step, entry.place)
    return [
        to_decimal(convert(row.entry.value, row.entry.unit, entry.unit))
        for row in rows
        if row.entry.value is not None and kind_of(row.entry.unit) == kind_of(entry.unit)
    ]


def _on_mean(state: State, row: Row[Reading]) -> Effects | None:
    rows = [each for each in state.facts.all(Reading) if each.n in row.entry.from_entries]
    unit = row.entry.unit

    def mean(values: Sequence[Decimal]) -> Decimal:
        sizes = [convert(value, each.entry.unit, unit) for value, each in zip(values, rows, strict=True)]
        return to_decimal(sum(sizes, Fraction(0)) / len(sizes))

    return _carried(state, rows, mean, of_repeats=True)


def _on_computed(state: State, row: Row[Reading]) -> Effects | None:
    entry = row.entry
    step = state.step(entry.step)
    assert step.measure is not None
    computed = step.measure.computed.get(entry.what)
    inputs = inputs_of(state, step, computed, entry.place) if computed is not None else None
    if computed is None or inputs is None:
        return None
    rows = _rows(inputs)

    def value(values: Sequence[Decimal]) -> Decimal:
        moved = {each.n: size for each, size in zip(rows, values, strict=True)}
        return value_of(state, computed, inputs, entry.unit, moved)

    return _carried(state, rows, value)


def _rows(inputs: Inputs) -> list[Row[Reading]]:
    """The readings among inputs, each once."""
    return list({each.n: each for found in inputs.values() for each in found if isinstance(each, Row)}.values())


def _carried(state: State, rows: Sequence[Row[Reading]], value: Value, *, of_repeats: bool = False) -> Effects | None:
    own = [effects_on(state, row, of_repeats=of_repeats) for row in rows]
    known = [each for each in own if each is not None]
    values = [row.entry.value for row in rows if row.entry.value is not None]
    if len(known) < len(rows) or len(values) < len(rows):
        return None
    return carried(value, values, known)
