"""Conditions of temperature: times and temperatures that are ones, read before they are compared, asked where read."""

from collections.abc import Iterator

from benchvoice.procedure.models import Even, Step, Warmth
from benchvoice.procedure.places import places_of
from benchvoice.procedure.rules.book import Book, Finding, parts_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.units import kind_of


def findings(book: Book) -> Iterator[Finding]:
    """Faults of what measure steps ask of temperature."""
    for _, path, step in book.steps:
        if step.measure is not None and step.measure.warmth is not None:
            yield from _warmth(book, (*path, "measure", "warmth"), step, step.measure.warmth)
        for where, part in parts_of(path, step):
            other = book.step(part.each_read or "")
            if other is not None and other.measure is not None and other.measure.warmth is not None:
                what = f"{other.step} is read here, where its warmth is not asked"
                yield Finding((*where, "each_read"), what, "take each_read out, or the warmth of that step")


def _warmth(book: Book, path: Path, step: Step, warmth: Warmth) -> Iterator[Finding]:
    for field, size in (("since_it_ran", warmth.since_it_ran), ("holds", warmth.holds)):
        if size is not None and (kind_of(size.unit) != "time" or size.value <= 0):
            yield Finding((*path, field), f"{size} is no time to count", "write a time such as 6 h")
    if warmth.even is not None:
        yield from _even(book, (*path, "even"), step, warmth.even)


def _even(book: Book, path: Path, step: Step, even: Even) -> Iterator[Finding]:
    if kind_of(even.unit) != "temperature":
        yield Finding((*path, "unit"), f"{even.unit} is no unit of temperature", "write degC or degF")
    if even.within <= 0:
        yield Finding((*path, "within"), f"{even.within} apart can't be read", "write more than nothing")
    known = len(even.read)
    for at, name in enumerate(even.of):
        other = book.step(name)
        if other is None or other.measure is None:
            known += 1  # told where names are looked at
            continue
        known += len(places_of(other.measure))
        if kind_of(other.measure.unit) != "temperature":
            yield Finding((*path, "of", at), f"{name} reads no temperature", "name a step that reads one")
        elif book.at(name) >= book.at(step.step):
            yield Finding((*path, "of", at), f"{name} does not come before this step", "read the temperature first")
    if known < 2:
        yield Finding(path, "nothing to compare", "name two temperatures, with of and read")
