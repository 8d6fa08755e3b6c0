"""Readings: units and instruments that go together, limits for every answer, places that are there."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.faults import listed, nearest
from benchvoice.procedure.limits import OTHER
from benchvoice.procedure.models import Band, Instrument, Limits, Master, Measure, Particular, Step
from benchvoice.procedure.places import places_of
from benchvoice.procedure.rules.book import Book, Finding, tables_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.units import convert, kind_of

FEWEST_DIVISIONS = 2
"""Fewer divisions of the instrument than this between the limits can hardly tell in from out."""
MOST_PLACES = 200


def findings(book: Book) -> Iterator[Finding]:
    """Faults of measure and mark steps."""
    for name, instrument in book.procedure.instruments.items():
        yield from _instrument(("instruments", name), instrument)
    for name, particular in book.procedure.particulars.items():
        yield from _sizes(("particulars", name, "sizes"), particular)
    for name, instrument in book.procedure.instruments.items():
        yield from _due(("instruments", name, "calibration_due"), instrument.calibration_due)
    for name, wrench in book.procedure.wrenches.items():
        yield from _due(("wrenches", name, "calibration_due"), wrench.calibration_due)
    for _, path, step in book.steps:
        if step.measure is not None:
            yield from _measure(book, (*path, "measure"), step)
        if step.mark is not None:
            yield from _mark(book, (*path, "mark"), step)


def _due(path: Path, day: str | None) -> Iterator[Finding]:
    try:
        date.fromisoformat(day or "2000-01-01")
    except ValueError:
        yield Finding(path, f"there is no day {day}", "write year, month and day, such as 2027-03-01")


def _instrument(path: Path, instrument: Instrument) -> Iterator[Finding]:
    for field in ("resolution", "uncertainty", "k", "repeatability"):
        value = getattr(instrument, field)
        if value is not None and value <= 0:
            yield Finding((*path, field), f"{value} can't be the {field}", "write more than nothing, or leave it out")
    if instrument.range is not None and None not in instrument.range:
        low, high = instrument.range
        if low is not None and high is not None and low >= high:
            yield Finding((*path, "range"), f"{low} to {high} is no range", "write [least, most]")


def _sizes(path: Path, particular: Particular) -> Iterator[Finding]:
    for name, size in particular.sizes.items():
        if name not in particular.choices:
            yield Finding((*path, name), f"{name} is none of the choices", nearest(name, particular.choices))
        elif kind_of(size.unit) != "length":
            yield Finding((*path, name), f"{size} is no length", "write a size such as -10 thou")
    missing = [name for name in particular.choices if name not in particular.sizes]
    if particular.sizes and missing:
        yield Finding(path, f"no size for {listed(missing)}", "give each choice its actual size, 0 mm for standard")


def _measure(book: Book, path: Path, step: Step) -> Iterator[Finding]:
    measure = step.measure
    assert measure is not None
    instrument = book.procedure.instruments.get(measure.instrument or "")
    axes = measure.places
    for where, limits in tables_of(path, measure):
        yield from limits_of(book, where, limits, axes, measure.unit)
        yield from _against(where, measure, limits, instrument)
    yield from _places(path, measure)
    yield from _unit(path, measure, instrument)
    if measure.master is not None:
        yield from _master(book, (*path, "master"), measure, measure.master)
    for name in measure.again:
        other = book.step(name)
        if other is not None and other.measure is not None and set(places_of(other.measure)) != set(places_of(measure)):
            yield Finding((*path, "again"), f"{name} has other places", "read the same places again")


def limits_of(
    book: Book, path: Path, limits: Limits, axes: Mapping[str, Sequence[str]], unit: str
) -> Iterator[Finding]:
    """Limits by a particular, option, choice or axis have a band for each answer, and for nothing else."""
    if limits.fit is not None and unit != "mm":
        what = f"the limits of {limits.fit} are millimetres, and this is in {unit}"
        yield Finding((*path, "fit"), what, "measure in mm, or write the limits out")
    for key, (low, high) in (*limits.bands.items(), *limits.worn.items()):
        if low is not None and low == high:
            where = (*path, key) if limits.by is not None else path
            yield Finding(where, f"least and most are both {low}", "give the limits a width")
    yield from answered(book, path, limits.by, tuple(limits.bands), axes, "limits")


def answered(
    book: Book, path: Path, by: str | None, keys: Sequence[str], axes: Mapping[str, Sequence[str]], what: str
) -> Iterator[Finding]:
    """A table by a name has a row for each of its answers, and no others."""
    if by is None or by in book.unsure:
        return
    wanted = axes.get(by, book.answers.get(by))
    if wanted is None:
        known = (*book.answers, *axes)
        kinds = "particular, option, choice or axis" if axes else "particular, option or choice"
        yield Finding((*path, "by"), f"there is no {kinds} {by}", nearest(by, known))
        return
    for key in keys:
        if key not in wanted and (key != OTHER or what != "limits"):
            yield Finding((*path, key), f"{key} is no answer to {by}", nearest(key, wanted))
    missing = [answer for answer in wanted if answer not in keys]
    if missing and OTHER not in keys:
        pronoun = "it" if len(missing) == 1 else "them"
        remedy = f"add {pronoun}, or {OTHER}" if what == "limits" else f"add {pronoun}"
        yield Finding(path, f"no {what} for {listed(missing)}", remedy)


def _against(path: Path, measure: Measure, limits: Limits, instrument: Instrument | None) -> Iterator[Finding]:
    """Limits against what the instrument can show."""
    finest = _resolution(measure, instrument)
    for key, band in limits.bands.items():
        where = (*path, key) if limits.by is not None or len(limits.bands) > 1 else path
        if finest is not None:
            yield from _fine_enough(where, band, measure.unit, finest)
        if instrument is not None and instrument.range is not None and measure.master is None:
            yield from _in_range(where, band, measure.unit, instrument)


def _resolution(measure: Measure, instrument: Instrument | None) -> Fraction | None:
    """The finest step that the instrument shows, in the step's unit."""
    if instrument is None or not instrument.resolution or kind_of(instrument.unit) != kind_of(measure.unit):
        return None
    return _size_in(instrument.resolution, instrument.unit, measure.unit)


def _size_in(size: Decimal, unit: str, to: str) -> Fraction:
    """A step of a scale in another unit; of temperatures too, where the zero must not count."""
    return abs(convert(size, unit, to) - convert(0, unit, to))


def _fine_enough(path: Path, band: Band, unit: str, finest: Fraction) -> Iterator[Finding]:
    low, high = band
    between = [str(end) for end in band if end is not None and Fraction(end) % finest]
    if between:
        what = f"{listed(between)} {unit} lies between divisions of the instrument, {_plain(finest)} {unit}"
        yield Finding(path, what, "use a finer instrument, or limits that it can show", True)
    if low is not None and high is not None and Fraction(high - low) / finest < FEWEST_DIVISIONS:
        what = f"the limits are {high - low} {unit} apart and the instrument reads to {_plain(finest)} {unit}"
        yield Finding(path, what, "use a finer instrument", True)


def _plain(value: Fraction) -> str:
    return f"{float(value):.6g}"


def _in_range(path: Path, band: Band, unit: str, instrument: Instrument) -> Iterator[Finding]:
    if kind_of(instrument.unit) != kind_of(unit) or instrument.range is None:
        return
    least, most = instrument.range
    for end in band:
        if end is None:
            continue
        value = convert(end, unit, instrument.unit)
        if (least is not None and value < least) or (most is not None and value > most):
            what = f"{end} {unit} is outside the instrument's range"
            yield Finding(path, what, f"the {instrument.kind} reads {least} to {most} {instrument.unit}: name another")


def _unit(path: Path, measure: Measure, instrument: Instrument | None) -> Iterator[Finding]:
    if measure.zero_check and measure.instrument is None:
        yield Finding((*path, "zero_check"), "no instrument to check the zero of", "name the instrument")
    if measure.resolution is not None and measure.resolution <= 0:
        yield Finding((*path, "resolution"), f"{measure.resolution} can't be the resolution", "write more than nothing")
    if measure.height and kind_of(measure.unit) != "length":
        yield Finding((*path, "height"), f"{measure.unit} is no unit of height", "use a unit of length")
    if instrument is None:
        return
    read, wanted = kind_of(instrument.unit), kind_of(measure.unit)
    if read != wanted:
        what = f"{measure.unit} is a {wanted} and {measure.instrument} reads a {read} in {instrument.unit}"
        yield Finding((*path, "unit"), what, "correct the unit or name another instrument")


def _places(path: Path, measure: Measure) -> Iterator[Finding]:
    axes = measure.places
    for axis, values in axes.items():
        twice = sorted({value for value in values if values.count(value) > 1})
        if twice:
            yield Finding((*path, "places", axis), f"{listed(twice)} comes twice", "name each place once")
    if measure.order and len(axes) == 1:
        (values,) = axes.values()
        if sorted(measure.order) != sorted(values):
            odd = [value for value in (*measure.order, *values) if (value in measure.order) != (value in values)]
            what = f"the order and the places differ in {listed(sorted(set(odd)))}" if odd else "a place comes twice"
            yield Finding((*path, "order"), what, "name every place once")
    yield from _some_places(path, measure)
    named = {value for values in axes.values() for value in values}
    if isinstance(measure.before_each, dict):
        for key in measure.before_each:
            if key not in named:
                yield Finding((*path, "before_each", key), f"there is no place {key}", nearest(key, named))


def _some_places(path: Path, measure: Measure) -> Iterator[Finding]:
    """Places picked out of the product of the axes, and how many there are."""
    axes = tuple(measure.places.values())
    for at, place in enumerate(measure.only):
        if len(place) != len(axes) or any(value not in values for value, values in zip(place, axes, strict=False)):
            what = f"{listed(place)} is no place of this step"
            yield Finding((*path, "only", at), what, "give one value of each axis, in their order")
    for at, gap in enumerate(measure.without):
        strange = [value for value in gap if not any(value in values for values in axes)]
        if strange:
            what = f"there is no place {listed(strange)}"
            yield Finding((*path, "without", at), what, nearest(strange[0], [v for values in axes for v in values]))
    count = len(places_of(measure))
    if count == 0:
        yield Finding(path, "no place is left to measure", "leave a place in")
    if count > MOST_PLACES:
        yield Finding((*path, "places"), f"{count} places", "fewer to a step are easier to keep in mind", True)


def _master(book: Book, path: Path, measure: Measure, master: Master) -> Iterator[Finding]:
    sizes = master.size if isinstance(master.size, dict) else {"": master.size}
    for key, size in sizes.items():
        if kind_of(size.unit) != kind_of(measure.unit):
            where = (*path, "size", key) if key else (*path, "size")
            yield Finding(
                where, f"{size} is no {kind_of(measure.unit)}", f"give a size like the reading's {measure.unit}"
            )
    doubt = master.uncertainty
    if doubt is not None and (kind_of(doubt.unit) != kind_of(measure.unit) or doubt.value < 0):
        yield Finding((*path, "uncertainty"), f"{doubt} can't be its uncertainty", f"give it in {measure.unit}")
    if master.by is not None:
        yield from answered(book, (*path, "size"), master.by, tuple(sizes), {}, "master")


def _mark(book: Book, path: Path, step: Step) -> Iterator[Finding]:
    mark = step.mark
    assert mark is not None
    if mark.expected is None:
        return
    if mark.expected.by is not None:
        table = tuple(mark.expected.marks)
        yield from answered(book, (*path, "expected"), mark.expected.by, table, mark.places, "mark")
    other = book.step(mark.expected.equal_to or "")
    if other is not None and other.mark is not None and other.mark.places and other.mark.places != mark.places:
        what = f"{other.step} is read at other places"
        yield Finding((*path, "expected", "equal_to"), what, "give both the same places")
