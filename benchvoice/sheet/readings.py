"""Readings as the page shows them: place by place, every one that was taken, against the limits in force."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.models import Limits, Measure, Step
from benchvoice.procedure.places import places_of
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.entries import Place, Reading, Stands, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.readings import bounds_at, is_stale, limits_in_force
from benchvoice.sheet.describe import decision_words, verdict_words
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Band, Mark, PlaceReadings, ReadingLine
from benchvoice.sheet.words import interval, limits, off_paper, place, plain, quantity, sentence


def read_places(book: Book, name: str, step: Step | None) -> tuple[PlaceReadings, ...]:
    """Readings of a step by place: in the order asked, the places without a reading too; then any others."""
    rows = [row for row in _rows(book, name) if row.entry.counts_as not in ("computed", "zero check")]
    measure = step.measure if step is not None else None
    asked = places_of(measure) if measure is not None else ()
    found = []
    for where in dict.fromkeys((*asked, *(row.entry.place for row in rows))):
        for what in dict.fromkeys(row.entry.what for row in rows if row.entry.place == where) or [""]:
            here = [row for row in rows if row.entry.place == where and (row.entry.what == what)]
            title = _title(where, what, measure)
            found.append(_place(book, here, title, _declared(book, step, where), where in asked))
    return tuple(found)


def computed_values(book: Book, name: str, step: Step | None) -> tuple[PlaceReadings, ...]:
    """Values computed at a step, by name and place; each computation that was replaced is kept beside the newest."""
    rows = [row for row in _rows(book, name) if row.entry.counts_as == "computed"]
    measure = step.measure if step is not None else None
    keys = dict.fromkeys((row.entry.what, row.entry.place) for row in rows)
    found = []
    for what, where in keys:
        here = [row for row in rows if (row.entry.what, row.entry.place) == (what, where)]
        title = ", ".join(filter(None, (plain(what), place(where))))
        found.append(_place(book, here, title, _computed_band(book, measure, what, where), True))
    return tuple(found)


def zero_checks(book: Book, name: str) -> tuple[Row[Reading], ...]:
    """Zero checks of a step that were kept as readings."""
    return tuple(row for row in _rows(book, name) if row.entry.counts_as == "zero check")


def out_of_limits(book: Book, steps: Iterable[tuple[str, Step | None]]) -> tuple[PlaceReadings, ...]:
    """Places with a reading that counts and is not in limits, with everything that was read there."""
    found = []
    for name, step in steps:
        for each in (*read_places(book, name, step), *computed_values(book, name, step)):
            if any(line.out and not line.item.void for line in each.lines):
                title = f"{sentence(book.title(name))}: {each.place}"
                found.append(PlaceReadings(title, each.limits, each.band, each.lines))
    return tuple(found)


def _rows(book: Book, name: str) -> list[Row[Reading]]:
    return [row for row in book.facts.all(Reading) if row.entry.step == name]


def _title(where: Place, what: str, measure: Measure | None) -> str:
    extra = plain(what) if what and (measure is None or what != measure.what) else ""
    return ", ".join(filter(None, (place(where), extra))) or plain(what) or (measure.what if measure else "")


def _place(book: Book, rows: list[Row[Reading]], title: str, declared: Band | None, expected: bool) -> PlaceReadings:
    verdicts = [v for v in (_verdict(book, row.n) for row in rows) if v is not None]
    band = declared
    if verdicts:
        newest = verdicts[-1].entry
        same = declared is not None and (newest.low, newest.high, newest.unit) == (
            declared.low,
            declared.high,
            declared.unit,
        )
        band = declared if same else Band(newest.low, newest.high, newest.unit)
    lines = tuple(_line(book, row, band, rows) for row in rows)
    asked = limits(band.low, band.high, band.unit) if band else "no limits"
    aim = f"nominal {quantity(band.nominal, band.unit)}" if band is not None and band.nominal is not None else ""
    rule = verdicts[-1].entry.rule if verdicts else ""
    return PlaceReadings(title, ", ".join(filter(None, (asked, aim, rule))), band, lines, expected)


def _line(book: Book, row: Row[Reading], band: Band | None, rows: list[Row[Reading]]) -> ReadingLine:
    entry = row.entry
    verdict = _verdict(book, row.n)
    outcome = verdict.entry.outcome if verdict is not None else ""
    counts = not is_stale(book.facts, row.n)
    item = book.item(row)
    if not counts and not item.void:
        item = replace(item, void="a reading that it is of doesn't count any more")
    return ReadingLine(
        item=item,
        value=_value(entry),
        said=entry.said,
        verdict=_short(verdict.entry) if verdict is not None else _unjudged(band),
        out=bool(outcome) and outcome != "in limits",
        remarks=tuple(_remarks(book, row, rows)),
        mark=_mark(entry, outcome, counts, band),
    )


def _unjudged(band: Band | None) -> str:
    return "not judged: no limits are declared" if band is None else "not judged by itself"


_PRINTED = 6
"""Decimals to which a computed value is printed; the log has more."""


def _value(entry: Reading) -> str:
    if entry.counts_as != "computed" or entry.value is None:
        return interval(entry.value, entry.low, entry.high, entry.unit)
    return quantity(to_decimal(entry.value, _PRINTED) if _long(entry.value) else entry.value, entry.unit)


def _long(value: Decimal) -> bool:
    exponent = value.as_tuple().exponent
    return isinstance(exponent, int) and -exponent > _PRINTED


def _short(verdict: Verdict) -> str:
    """The verdict without the limits, which stand beside it."""
    return verdict_words(verdict).rsplit("; asked: ", 1)[0]


def _verdict(book: Book, reading: int) -> Row[Verdict] | None:
    rows = book.verdicts.get(reading, ())
    counting = [row for row in rows if row.n not in book.facts.void] or rows
    return counting[-1] if counting else None


def _remarks(book: Book, row: Row[Reading], rows: list[Row[Reading]]) -> Iterable[str]:
    entry = row.entry
    if entry.counts_as not in ("first", "computed"):
        of = f" of line {entry.replaces}" if entry.replaces is not None else ""
        yield f"{entry.counts_as}{of}"
    if entry.from_entries:
        lines = ", ".join(map(str, entry.from_entries))
        formula = _formula(book, entry)
        yield f"{formula and f'by {formula}, '}from line{'s' if len(entry.from_entries) > 1 else ''} {lines}"
    if entry.paper is not None:
        yield off_paper(entry.paper)
    if entry.confirmed:
        yield "read back and confirmed"
    if entry.instrument:
        yield plain(entry.instrument)
    if entry.limits_said_before:
        yield "limits said before"
    judged = book.verdicts.get(row.n, ())[:-1]
    yield from (f"judged before (line {each.n}): {verdict_words(each.entry)}" for each in judged)
    stands = [each for each in book.facts.of(Stands) if each.entry.reading in {other.n for other in rows}]
    if stands and len(rows) > 1 and row.n not in book.facts.void and row.n < stands[-1].n:
        chosen = stands[-1].entry
        if chosen.reading == row.n:
            yield f"this one stands{': ' + chosen.reason if chosen.reason else ''}"
        else:
            yield f"kept beside; line {chosen.reading} stands"
    for decision in book.decisions.get(row.n, ()):
        void = book.void(decision.n)
        yield f"decision: {decision_words(decision.entry)}{f' [{void}]' if void else ''}"


def _formula(book: Book, entry: Reading) -> str:
    """How a computed value comes from its readings; empty where the procedure doesn't say (any more)."""
    measure = next((each.measure for each in book.state.procedure.steps if each.step == entry.step), None)
    computed = measure.computed.get(entry.what) if measure is not None else None
    kind = COMPUTED.get(computed.kind) if computed is not None else None
    if computed is None or kind is None:
        return ""
    return f"{kind.formula}, {computed.material}" if computed.material else kind.formula


def _mark(entry: Reading, outcome: str, counts: bool, band: Band | None) -> Mark:
    """The reading in the limits' unit; open at both ends, and so not drawn, where that can't be converted."""
    if band is None:
        return Mark(entry.low, entry.high, outcome, counts)
    try:
        return Mark(_in(entry.low, entry.unit, band.unit), _in(entry.high, entry.unit, band.unit), outcome, counts)
    except BenchvoiceError:
        return Mark(None, None, outcome, counts)


def _in(value: Decimal | None, unit: str, to: str) -> Decimal | None:
    return value if value is None or unit == to else to_decimal(convert(value, unit, to))


def _declared(book: Book, step: Step | None, where: Place) -> Band | None:
    measure = step.measure if step is not None else None
    if step is None or measure is None:
        return None
    return _band(book, limits_in_force(book.state, step), tuple(measure.places), where, measure.unit)


def _computed_band(book: Book, measure: Measure | None, what: str, where: Place) -> Band | None:
    computed = measure.computed.get(what) if measure is not None else None
    if measure is None or computed is None:
        return None
    return _band(book, computed.limits, computed.per, where, computed.unit or measure.unit)


def _band(book: Book, declared: Limits | None, axes: tuple[str, ...], where: Place, unit: str) -> Band | None:
    if declared is not None and declared.by in axes and len(where) != len(axes):
        return None  # a place of an older version of the procedure
    found = bounds_at(book.state, declared, axes, where)
    if found is None or declared is None:
        return None
    return Band(found.low, found.high, unit, found.worn, found.nominal)
