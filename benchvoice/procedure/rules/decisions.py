"""Decision rules: something to judge by, an uncertainty that is known, and limits that leave something to accept."""

from collections.abc import Iterator
from decimal import Decimal

from benchvoice.procedure.decision_rules import DecisionRule
from benchvoice.procedure.faults import listed
from benchvoice.procedure.gauges import least_effect
from benchvoice.procedure.inputs import is_constant, source_of, sources_of
from benchvoice.procedure.models import Band, Instrument, Limits, Measure, Step
from benchvoice.procedure.rules.book import Book, Finding, tables_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.budget import expanded
from benchvoice.quantity.probability import conformance

NAME_ONE = "name an instrument that has an uncertainty or a resolution, or add uncertainty to the step"


def findings(book: Book) -> Iterator[Finding]:
    """Rules without limits or without an uncertainty, and rules by which nothing could be called in limits."""
    for _, path, step in book.steps:
        if step.measure is not None:
            yield from _measure(book, (*path, "measure"), step, step.measure)


def _measure(book: Book, path: Path, step: Step, measure: Measure) -> Iterator[Finding]:
    if not _sound(book.procedure.instruments.get(measure.instrument or "")):
        return
    if measure.rule is not None:
        unknown = _unknown(book, step.step) if measure.rule.needs_uncertainty else ()
        tables = tuple(tables_of(path, measure))
        yield from _rule((*path, "rule"), measure.rule, bool(tables), unknown)
        for where, limits in () if unknown else tables:
            yield from _leaves(book, where, step, measure.rule, limits)
    for name, computed in measure.computed.items():
        if computed.rule is None:
            continue
        where = (*path, "computed", name)
        needs = computed.rule.needs_uncertainty
        unknown = tuple(sorted(set(_leaves_unknown(book, step, name)))) if needs else ()
        yield from _rule((*where, "rule"), computed.rule, computed.limits is not None, unknown)
        if computed.limits is not None and computed.rule.band is not None:
            yield from _bands((*where, "limits"), computed.limits, computed.rule.band, Decimal(0), computed.rule)


def _sound(instrument: Instrument | None) -> bool:
    """Whether an instrument's figures can be; those that can't are told where readings are looked at."""
    if instrument is None:
        return True
    figures = (instrument.k, instrument.uncertainty, instrument.resolution, instrument.repeatability)
    return all(each is None or each > 0 for each in figures)


def _rule(path: Path, rule: DecisionRule, has_limits: bool, unknown: tuple[str, ...]) -> Iterator[Finding]:
    if not has_limits:
        yield Finding(path, "a decision rule without limits judges nothing", "add limits, or take the rule out")
    if unknown:
        yield Finding(path, f"{rule.kind} without an uncertainty, for {listed(unknown)}", NAME_ONE)


def _unknown(book: Book, name: str) -> tuple[str, ...]:
    """The step itself, where nothing is known of the doubt in its readings."""
    step = book.step(name)
    if step is None or step.measure is None or step.measure.instrument in book.unsure:
        return ()
    instrument = book.procedure.instruments.get(step.measure.instrument or "")
    if step.measure.instrument is not None and instrument is None:
        return ()  # told where names are looked at
    if not _sound(instrument):
        return ()
    return () if least_effect(name, step.measure, instrument) is not None else (name,)


def _leaves_unknown(book: Book, step: Step, name: str) -> Iterator[str]:
    """Steps that a computed value comes from and of whose readings no uncertainty is known."""
    assert step.measure is not None
    for sources in sources_of(step.step, step.measure.computed[name]).values():
        for source in sources:
            if is_constant(source):
                continue
            named = source_of(source)
            of, which = named.step, named.computed
            other = book.step(of)
            if other is None or other.measure is None:
                continue
            if which in other.measure.computed and (of, which) != (step.step, name):
                yield from _leaves_unknown(book, other, which)
            elif not which:
                yield from _unknown(book, of)


def _leaves(book: Book, path: Path, step: Step, rule: DecisionRule, limits: Limits) -> Iterator[Finding]:
    """Whether the best reading there can be would be called in limits."""
    assert step.measure is not None
    effect = least_effect(step.step, step.measure, book.procedure.instruments.get(step.measure.instrument or ""))
    if not rule.weighs or (effect is None and rule.band is None):
        return
    uncertainty = expanded([effect]).value if effect is not None else Decimal(0)
    band = rule.band if rule.band is not None else rule.guard * uncertainty
    yield from _bands(path, limits, band, uncertainty, rule)


def _bands(path: Path, limits: Limits, band: Decimal, uncertainty: Decimal, rule: DecisionRule) -> Iterator[Finding]:
    for key, ends in limits.bands.items():
        where = (*path, key) if limits.by is not None or len(limits.bands) > 1 else path
        yield from _leaves_room(where, ends, band, uncertainty, rule)


def _leaves_room(path: Path, ends: Band, band: Decimal, u: Decimal, rule: DecisionRule) -> Iterator[Finding]:
    low, high = ends
    if low is None or high is None or low >= high:
        return
    if rule.per_cent is None and 2 * band >= high - low:
        what = f"guard bands of {_plain(band)} on both sides leave nothing of limits {high - low} apart"
        yield Finding(path, what, "use a finer instrument, a narrower guard band, or wider limits")
    if rule.per_cent is not None and u > 0:
        best = conformance((low + high) / 2, u / 2, low, high)
        if best * 100 < rule.per_cent:
            what = f"with an uncertainty of {_plain(u)} no reading is {rule.per_cent} per cent sure to be in limits"
            yield Finding(path, what, "use a finer instrument, ask for less, or wider limits")


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"
