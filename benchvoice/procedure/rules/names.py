"""Every name that a document uses is one that it has."""

from collections.abc import Iterable, Iterator

from benchvoice.procedure.models import Condition, Step
from benchvoice.procedure.rules.book import Book, Finding, graded_of, parts_of, ways_back_of
from benchvoice.procedure.source import Path

Uses = Iterator[tuple[Path, str]]
"""Where a name is used, and the name."""


def findings(book: Book) -> Iterator[Finding]:
    """Names that aren't there, names that come twice, names of two things."""
    yield from _twice(book)
    for _, path, step in book.steps:
        yield from _conditions(book, path, step)
        for kind, known, uses in _uses(book, path, step):
            for where, name in uses:
                yield from book.unknown(where, kind, name, known)
    yield from _two_things(book)


def unused(book: Book) -> Iterator[Finding]:
    """Advice about what is declared and used by no step."""
    procedure = book.procedure
    declared: dict[str, Iterable[str]] = {
        "groups": procedure.groups,
        "wrenches": procedure.wrenches,
        "instruments": procedure.instruments,
        "consumables": procedure.consumables,
        "stock": procedure.stock,
    }
    used = set(_stocks(book))
    for _, path, step in book.steps:
        used.update(name for _, _, uses in _uses(book, path, step) for _, name in uses)
    for section, parts in declared.items():
        for name in parts:
            if name not in used:
                yield Finding((section, name), "no step uses this", "take it out, or name it in a step", True)


def _stocks(book: Book) -> Iterator[str]:
    for step in book.procedure.steps:
        if step.measure is not None:
            yield from (each.stock for each in step.measure.computed.values() if each.stock is not None)


def _twice(book: Book) -> Iterator[Finding]:
    for at, path, step in book.steps:
        if book.at(step.step) != at:
            what = f"{step.step} is the name of an earlier step too"
            yield Finding((*path, "step"), what, "give each step a name of its own")


def _conditions(book: Book, path: Path, step: Step) -> Iterator[Finding]:
    conditions: tuple[tuple[str, Condition], ...] = (("when", step.when), ("unless", step.unless))
    for field, condition in conditions:
        for name, values in condition.items():
            yield from book.unknown((*path, field, name), "particular, option or choice", name, book.answers)
            for value in values if name in book.answers else ():
                yield from book.unknown((*path, field, name), f"answer to {name}:", value, book.answers[name])


def _uses(book: Book, path: Path, step: Step) -> Iterator[tuple[str, Iterable[str], Uses]]:
    """What a step refers to: the kind of thing, the names there are, and the names used with their paths."""
    procedure = book.procedure
    steps = book.positions
    measures = tuple(each.step for each in procedure.steps if each.measure is not None)
    yield "step", steps, _step_names(path, step)
    yield "measure step", measures, _measure_names(path, step)
    yield "group", procedure.groups, _groups(path, step)
    yield "wrench", procedure.wrenches, _wrenches(path, step)
    yield "instrument", procedure.instruments, _instruments(path, step)
    yield "consumable", procedure.consumables, _many((*path, "uses"), step.uses)
    yield "particular or option", (*procedure.particulars, *procedure.options), _asked(path, step)
    recalled = tuple(filter(None, map(_recalled, procedure.steps)))
    yield "step to recall", recalled, _many((*path, "recalls"), step.recalls)
    yield "mark step", tuple(s.step for s in procedure.steps if s.mark), _equals(path, step)


def _recalled(step: Step) -> str | None:
    """The step's name, when it keeps words, packs or matched sets that can be said again."""
    chooses = step.measure is not None and any(each.stock is not None for each in step.measure.computed.values())
    matches = step.measure is not None and step.measure.match is not None
    return step.step if step.look is not None or chooses or matches else None


def _many(path: Path, names: Iterable[str]) -> Uses:
    return ((path, name) for name in names)


def _step_names(path: Path, step: Step) -> Uses:
    yield from _many((*path, "after"), step.after)
    yield from ways_back_of(path, step)
    if step.ban is not None and step.ban.until is not None:
        yield (*path, "ban", "until"), step.ban.until
    if step.wait is not None:
        yield from _many((*path, "wait", "before"), step.wait.before)
        if step.wait.closed_by is not None:
            yield (*path, "wait", "closed_by"), step.wait.closed_by
    for where, part in parts_of(path, step):
        if part.crushes is not None:
            yield (*where, "crushes"), part.crushes
        if part.leave_for_later is not None:
            yield (*where, "leave_for_later", "closed_by"), part.leave_for_later.closed_by


def _measure_names(path: Path, step: Step) -> Uses:
    for where, graded in graded_of(path, step):
        yield from _many((*where, "touched"), graded.touched)
    if step.ban is not None:
        yield from _many((*path, "ban", "spoils"), step.ban.spoils)
    if step.measure is not None:
        yield from _many((*path, "measure", "again"), step.measure.again)
        if step.measure.warmth is not None and step.measure.warmth.even is not None:
            yield from _many((*path, "measure", "warmth", "even", "of"), step.measure.warmth.even.of)
        if step.measure.out is not None and step.measure.out.shift is not None:
            yield from _many((*path, "measure", "out", "shift", "again"), step.measure.out.shift.again)
    if step.wait is not None and step.wait.bench_temperature is not None:
        yield (*path, "wait", "bench_temperature"), step.wait.bench_temperature
    for where, part in parts_of(path, step):
        for at, stage in enumerate(part.stages):
            if stage.free is not None:
                yield (*where, "stages", at, "free"), stage.free


def _groups(path: Path, step: Step) -> Uses:
    yield from (((*where, "group"), part.group) for where, part in parts_of(path, step))
    if step.slacken is not None:
        yield (*path, "slacken", "group"), step.slacken.group


def _wrenches(path: Path, step: Step) -> Uses:
    for where, part in parts_of(path, step):
        if part.wrench is not None:
            yield (*where, "wrench"), part.wrench


def _instruments(path: Path, step: Step) -> Uses:
    if step.measure is not None and step.measure.instrument is not None:
        yield (*path, "measure", "instrument"), step.measure.instrument


def _asked(path: Path, step: Step) -> Uses:
    if step.choose is not None:
        yield from _many((*path, "choose", "ask"), step.choose.ask)


def _equals(path: Path, step: Step) -> Uses:
    if step.mark is not None and step.mark.expected is not None and step.mark.expected.equal_to is not None:
        yield (*path, "mark", "expected", "equal_to"), step.mark.expected.equal_to


def _two_things(book: Book) -> Iterator[Finding]:
    """A name that `by:` could take for two things."""
    procedure = book.procedure
    for name in procedure.options:
        if name in procedure.particulars:
            yield Finding(("options", name), f"{name} is a particular too", "give one of them another name")
    for _, path, step in book.steps:
        for kind in ("measure", "check", "mark", "look"):
            part = getattr(step, kind)
            for axis in part.places if part is not None else ():
                if axis in book.answers:
                    what = f"{axis} is a particular, option or choice too"
                    yield Finding((*path, kind, "places", axis), what, "give the axis another name")
