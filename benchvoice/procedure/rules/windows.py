"""Open and cure times: times, warnings inside them, and a joint that every machine's build closes."""

from collections.abc import Iterator

from benchvoice.procedure.models import Step, Wait
from benchvoice.procedure.rules.book import Book, Finding, asked_of, is_fitted
from benchvoice.procedure.source import Path
from benchvoice.quantity.units import convert, kind_of
from benchvoice.quantity.values import Quantity


def findings(book: Book) -> Iterator[Finding]:
    """Faults of wait steps."""
    for _, path, step in book.steps:
        if step.wait is not None:
            yield from _wait((*path, "wait"), step.wait)
            yield from _temperature(book, (*path, "wait", "bench_temperature"), step)


def whole(book: Book) -> Iterator[Finding]:
    """Windows whose closing step some machine's build leaves out."""
    for _, path, step in book.steps:
        closing = book.step(step.wait.closed_by or "") if step.wait is not None else None
        if closing is not None:
            yield from _never_closed(book, (*path, "wait", "closed_by"), step, closing)


def _wait(path: Path, wait: Wait) -> Iterator[Finding]:
    field = "open_time" if wait.open_time is not None else "cure_time"
    length = wait.open_time or wait.cure_time
    assert length is not None
    if not _is_time(length):
        yield Finding((*path, field), f"{length} is no time", "write a time such as 8 min")
        return
    if length.value <= 0:
        yield Finding((*path, field), f"{length} is no time to wait", "write more than nothing")
    for at, warning in enumerate(wait.warn_at):
        where = (*path, "warn_at", at)
        if not _is_time(warning):
            yield Finding(where, f"{warning} is no time", "write a time such as 5 min")
        elif not 0 < convert(warning.value, warning.unit, "s") < convert(length.value, length.unit, "s"):
            yield Finding(where, f"a warning at {warning} is outside {length}", "warn before the time is over")
    if wait.open_time is not None and (wait.may_outlast or wait.before):
        what = "an open time can't outlast the build or hold steps back"
        yield Finding((*path, "may_outlast" if wait.may_outlast else "before"), what, "that is for a cure_time")
    if wait.cure_time is not None and wait.closed_by is not None:
        yield Finding((*path, "closed_by"), "a cure time is over by itself", "take closed_by out, or use before")


def _temperature(book: Book, path: Path, step: Step) -> Iterator[Finding]:
    assert step.wait is not None
    reading = book.step(step.wait.bench_temperature or "")
    if step.wait.bench_temperature is None or reading is None or reading.measure is None:
        return
    if step.wait.open_time is None:
        yield Finding(path, "a cure time has no end to warn of", "take bench_temperature out")
    elif kind_of(reading.measure.unit) != "temperature":
        yield Finding(path, f"{reading.step} reads no temperature", "name a step that reads one in degC or degF")
    elif book.positions[reading.step] > book.positions[step.step]:
        yield Finding(path, f"{reading.step} comes later", "name a step that is read before")


def _is_time(size: Quantity) -> bool:
    return kind_of(size.unit) == "time"


def _never_closed(book: Book, path: Path, step: Step, closing: Step) -> Iterator[Finding]:
    for answers in book.machines(asked_of((step, closing))):
        if is_fitted(step, answers) and not is_fitted(closing, answers):
            said = ", ".join(f"{name} is {answer}" for name, answer in answers.items())
            what = f"nothing closes this when {said}: {closing.step} is then left out"
            yield Finding(path, what, "name a step that every such build has")
            return
