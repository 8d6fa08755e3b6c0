"""Computed values: declared kinds, inputs that are there, enough readings, units that go together."""

from collections.abc import Iterator
from itertools import product

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.faults import listed, nearest
from benchvoice.procedure.inputs import EXPANDS, Source, constant, is_constant, source_of, sources_of
from benchvoice.procedure.models import Choose, Computed, Measure, Step
from benchvoice.procedure.places import places_of
from benchvoice.procedure.rules.book import Book, Finding
from benchvoice.procedure.rules.readings import limits_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.computed import COMPUTED, ComputedKind, Input
from benchvoice.quantity.thermal import EXPANSION
from benchvoice.quantity.units import kind_of


def findings(book: Book) -> Iterator[Finding]:
    """Faults of computed values, and of choices that they make."""
    for at, path, step in book.steps:
        if step.measure is not None:
            for name in step.measure.computed:
                yield from _computed(book, at, (*path, "measure", "computed", name), step, name)
        if step.choose is not None and step.choose.by is not None:
            yield from _choice(book, at, (*path, "choose"), step.choose)


def _computed(book: Book, at: int, path: Path, step: Step, name: str) -> Iterator[Finding]:
    measure = step.measure
    assert measure is not None
    computed = measure.computed[name]
    kind = COMPUTED.get(computed.kind)
    if kind is None:
        yield Finding((*path, "kind"), f"there is no kind {computed.kind}", nearest(computed.kind, COMPUTED))
        return
    yield from _axes(path, measure, computed)
    if computed.material is not None and computed.material not in EXPANSION:
        what = f"there is no expansion of {computed.material} here"
        yield Finding((*path, "material"), what, nearest(computed.material, EXPANSION))
        return
    axes = {axis: measure.places[axis] for axis in computed.per if axis in measure.places}
    if computed.limits is not None:
        yield from limits_of(book, (*path, "limits"), computed.limits, axes, computed.unit or measure.unit)
    found = list(_inputs(book, at, path, step, name, kind))
    yield from found
    if not found:
        yield from _units(book, path, step, computed, kind)
    if computed.stock is not None:
        yield from book.unknown((*path, "stock"), "stock", computed.stock, book.procedure.stock)
        yield from _stock(book, path, computed, computed.unit or measure.unit)


def _stock(book: Book, path: Path, computed: Computed, unit: str) -> Iterator[Finding]:
    """A pack is of the same kind as the value it is made for, and may be a little off."""
    stock = book.procedure.stock.get(computed.stock or "")
    if stock is not None and kind_of(stock.unit) != kind_of(unit):
        what = f"{computed.stock} is in {stock.unit}, a {kind_of(stock.unit)}, and this is a {kind_of(unit)}"
        yield Finding((*path, "stock"), what, "name another stock or correct the unit")
    if computed.within is None or computed.within < 0:
        yield Finding((*path, "stock"), "how far may the pack be off?", "add within, such as within: 0.02")


def _axes(path: Path, measure: Measure, computed: Computed) -> Iterator[Finding]:
    for axis in computed.per:
        if axis not in measure.places:
            yield Finding((*path, "per"), f"this step has no axis {axis}", nearest(axis, measure.places))


def _inputs(book: Book, at: int, path: Path, step: Step, name: str, kind: ComputedKind) -> Iterator[Finding]:
    assert step.measure is not None
    computed = step.measure.computed[name]
    sources = sources_of(step.step, computed)
    for key in sources:
        if key not in kind.inputs:
            yield Finding((*path, "of", key), f"{kind.name} has no input {key}", nearest(key, kind.inputs))
    missing = [key for key in kind.inputs if key not in sources]
    if EXPANDS in missing:
        yield Finding(path, f"{kind.name} needs to know what the part is made of", "add material, such as steel")
        missing.remove(EXPANDS)
    if missing:
        yield Finding(path, f"{kind.name} lacks its input {listed(missing)}", "say under of where it comes from")
    for key in (key for key in sources if key in kind.inputs):
        where = (*path, "of", key) if computed.of else path
        found = [finding for source in sources[key] for finding in _source(book, at, where, step, name, source)]
        yield from found
        if not found:
            yield from _enough(book, where, step, name, (kind, key))


def _source(book: Book, at: int, path: Path, step: Step, name: str, source: str) -> Iterator[Finding]:
    """One source: a size that makes sense, or a step and value that are there and come early enough."""
    assert step.measure is not None
    if is_constant(source):
        try:
            constant(source)
        except BenchvoiceError as fault:
            yield Finding(path, str(fault).partition(": ")[0], "write a size such as 67.5 mm")
        return
    named = source_of(source)
    of, which = named.step, named.computed
    other = book.step(of)
    if other is None or other.measure is None:
        measures = [each.step for each in book.procedure.steps if each.measure is not None]
        yield from book.unknown(path, "measure step", of, measures)
        return
    values = [value for axis in other.measure.places.values() for value in axis]
    if named.at and named.at not in values:
        yield Finding(path, f"{of} has no place {named.at}", nearest(named.at, values))
        return
    if which and which not in other.measure.computed:
        what = f"{of} computes no {which}"
        yield Finding(path, what, nearest(which, other.measure.computed))
        return
    if of == step.step and which:
        names = list(step.measure.computed)
        if names.index(which) >= names.index(name):
            yield Finding(path, f"{which} is computed only after this", "put it before this one")
            return
    if book.at(of) > at:
        yield Finding(path, f"{of} comes only after this step", "compute it there, or later")


def _enough(book: Book, path: Path, step: Step, name: str, wanted: tuple[ComputedKind, str]) -> Iterator[Finding]:
    """The sources of an input together give as many values as its kind takes."""
    assert step.measure is not None
    kind, key = wanted
    needed = kind.inputs[key]
    count = 0
    for source in sources_of(step.step, step.measure.computed[name])[key]:
        of = source_of(source)
        other = book.step(of.step)
        if is_constant(source):
            count += 1
        elif other is not None and other.measure is not None:
            count += _count(step.measure, step.measure.computed[name], other.measure, of)
        else:
            return
    if count < needed.least or (needed.most is not None and count > needed.most):
        what = f"{kind.name} takes {_how_many(needed)} for {key}, and this gives {count}"
        yield Finding(path, what, "name under per the axes that stay, or measure as many")


def _how_many(needed: Input) -> str:
    if needed.most is None:
        return f"at least {needed.least}"
    return str(needed.least) if needed.least == needed.most else f"{needed.least} to {needed.most}"


def _count(measure: Measure, computed: Computed, source: Measure, of: Source) -> int:
    """How many values of a source go into one computed value: the fewest over the places that stay."""
    which = of.computed
    axes = source.computed[which].per if which else tuple(source.places)
    places = list(product(*(source.places[axis] for axis in axes if axis in source.places))) if which else None
    all_places = places if places is not None else list(places_of(source))
    kept = [axis for axis in computed.per if axis in axes and axis in measure.places]
    counts: dict[tuple[str, ...], int] = {}
    for place in all_places:
        if of.at and of.at not in place:
            continue
        here = dict(zip(axes, place, strict=False))
        stays = tuple(here[axis] for axis in kept)
        counts[stays] = counts.get(stays, 0) + 1
    repeats = 1 if which else source.repeats
    return min(counts.values(), default=0) * repeats


def _units(book: Book, path: Path, step: Step, computed: Computed, kind: ComputedKind) -> Iterator[Finding]:
    """The inputs' units go together and give the unit that is wanted."""
    assert step.measure is not None
    units: dict[str, str] = {}
    for key, sources in sources_of(step.step, computed).items():
        found = [unit_of(book, source) for source in sources]
        known = [unit for unit in found if unit is not None]
        if len(known) < len(found):
            return
        odd = [unit for unit in known if kind_of(unit) != kind_of(known[0])]
        if odd:
            what = f"{known[0]} is a {kind_of(known[0])} and {odd[0]} is a {kind_of(odd[0])}"
            yield Finding((*path, "of", key), what, "give one kind of quantity")
            return
        units[key] = known[0]
    try:
        gives = kind.unit_of(units)
    except BenchvoiceError as fault:
        what, _, remedy = str(fault).partition(": ")
        yield Finding(path, what, remedy or "correct the inputs")
        return
    unit = computed.unit or step.measure.unit
    if kind_of(gives) != kind_of(unit):
        what = f"{computed.kind} gives a {kind_of(gives)} and {unit} is a {kind_of(unit)}"
        yield Finding((*path, "unit") if computed.unit else path, what, "correct the unit or the inputs")


def unit_of(book: Book, source: str) -> str | None:
    """The unit that an input is in; None where its step is broken and told of elsewhere."""
    size = constant(source)
    if size is not None:
        return size.unit
    of = source_of(source)
    step = book.step(of.step)
    if step is None or step.measure is None:
        return None
    measure, which = step.measure, of.computed
    if which:
        return measure.computed[which].unit or measure.unit
    if measure.master is not None:
        sizes = measure.master.size
        return next(iter(sizes.values())).unit if isinstance(sizes, dict) else sizes.unit
    return measure.unit


def _choice(book: Book, at: int, path: Path, choose: Choose) -> Iterator[Finding]:
    """A choice by a computed value: the value is there before, is one value, and answers what is asked."""
    particular = book.procedure.particulars.get(choose.name or "")
    for answer in choose.bands if particular is not None else ():
        if particular is not None and answer not in particular.choices:
            what = f"{answer} is no answer to {choose.name}"
            yield Finding((*path, "bands", answer), what, nearest(answer, particular.choices))
    name, _, which = (choose.by or "").partition(".")
    step = book.step(name)
    if name in book.unsure:
        return
    if step is None or step.measure is None or which not in step.measure.computed:
        known = [f"{s.step}.{c}" for s in book.procedure.steps if s.measure for c in s.measure.computed]
        yield Finding((*path, "by"), f"there is no computed value {choose.by}", nearest(choose.by or "", known))
        return
    if book.at(name) >= at:
        yield Finding((*path, "by"), f"{name} does not come before this step", "choose after it is measured")
    if step.measure.computed[which].per:
        what = f"{choose.by} has a value for each {listed(step.measure.computed[which].per)}"
        yield Finding((*path, "by"), what, "let one value choose, such as the greatest of all")
