"""The way through the steps: what comes after what, what is asked before it is needed, and where failures lead."""

from collections.abc import Iterator, Mapping

from benchvoice.procedure.faults import listed
from benchvoice.procedure.models import Step
from benchvoice.procedure.rules.book import Book, Finding, parts_of, tables_of, ways_back_of
from benchvoice.procedure.source import Path


def findings(book: Book) -> Iterator[Finding]:
    """Circles, ways back that go forward, and things named before they can be known."""
    yield from _circles(book)
    for at, path, step in book.steps:
        yield from _ways_back(book, at, path, step)
        yield from _earlier(book, at, path, step)
        yield from _later(book, at, path, step)


def whole(book: Book) -> Iterator[Finding]:
    """Particulars and options that are needed before they are asked, or asked by no step."""
    asked: dict[str, int] = {}
    for at, _, step in book.steps:
        if step.choose is not None:
            for name in (*step.choose.ask, *([step.choose.name] if step.choose.name else [])):
                asked.setdefault(name, at)
    for section in ("particulars", "options"):
        for name in getattr(book.procedure, section):
            if name not in asked:
                yield Finding((section, name), "no step asks this", "add a choose step with ask, or take it out")
    for at, path, step in book.steps:
        for where, name in _needs(path, step):
            if name in book.answers and asked.get(name, -1) > at:
                what = f"{name} is asked only later, in {book.procedure.steps[asked[name]].step}"
                yield Finding(where, what, "ask it before this step")


def _needs(path: Path, step: Step) -> Iterator[tuple[Path, str]]:
    """The answers that a step rests on."""
    for field, condition in (("when", step.when), ("unless", step.unless)):
        yield from (((*path, field, name), name) for name in condition)
    if step.mark is not None and step.mark.expected is not None and step.mark.expected.by is not None:
        yield (*path, "mark", "expected", "by"), step.mark.expected.by
    if step.measure is not None:
        measure = step.measure
        tables = tables_of((*path, "measure"), measure)
        yield from (((*where, "by"), limits.by) for where, limits in tables if limits.by is not None)
        if measure.master is not None and measure.master.by is not None:
            yield (*path, "measure", "master", "by"), measure.master.by


def _circles(book: Book) -> Iterator[Finding]:
    """Steps that wait for each other, each circle told once, at its first step."""
    waits = {step.step: _waits_for(book, at, step) for at, _, step in book.steps if book.at(step.step) == at}
    told: set[str] = set()
    for _, path, step in book.steps:
        circle = _circle_from(step.step, waits)
        if circle and not told & set(circle):
            told.update(circle)
            field = "after" if step.after else "step"
            what = f"this waits for itself: {listed([*circle, circle[0]])}"
            yield Finding((*path, field), what, "name in after only steps that can be done before")


def _waits_for(book: Book, at: int, step: Step) -> tuple[str, ...]:
    if step.after:
        return step.after
    return (book.procedure.steps[at - 1].step,) if at else ()


def _circle_from(start: str, waits: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The steps from `start` round to itself, in the order in which they wait; empty when there is no way round."""
    came_from: dict[str, str] = {}
    todo = [start]
    while todo:
        name = todo.pop()
        for other in waits.get(name, ()):
            if other == start:
                circle = [name]
                while circle[-1] != start:
                    circle.append(came_from[circle[-1]])
                return tuple(reversed(circle))
            if other not in came_from:
                came_from[other] = name
                todo.append(other)
    return ()


def _ways_back(book: Book, at: int, path: Path, step: Step) -> Iterator[Finding]:
    for where, name in ways_back_of(path, step):
        if book.at(name) > at:
            what = f"the way back goes forward, to {name}"
            yield Finding(where, what, "lead back to this step or one before it")


def _earlier(book: Book, at: int, path: Path, step: Step) -> Iterator[Finding]:
    """What must come before this step."""
    # What was seen or matched must be known before; packs may be chosen later, on a way out that leads back to here.
    names: list[tuple[Path, str]] = [((*path, "recalls"), name) for name in step.recalls if _known_once(book, name)]
    if step.measure is not None:
        names += [((*path, "measure", "again"), name) for name in step.measure.again]
    if step.mark is not None and step.mark.expected is not None and step.mark.expected.equal_to is not None:
        names.append(((*path, "mark", "expected", "equal_to"), step.mark.expected.equal_to))
    for where, part in parts_of(path, step):
        for number, stage in enumerate(part.stages):
            if stage.free is not None:
                names.append(((*where, "stages", number, "free"), stage.free))
    for where, name in names:
        if book.at(name) >= at:
            yield Finding(where, f"{name} does not come before this step", "move it before, or name another")


def _known_once(book: Book, name: str) -> bool:
    """Whether a step keeps words or matched sets, and chooses no pack."""
    step = book.step(name)
    if step is None or step.measure is None:
        return step is not None and step.look is not None
    return not any(each.stock is not None for each in step.measure.computed.values())


def _later(book: Book, at: int, path: Path, step: Step) -> Iterator[Finding]:
    """What must come after this step."""
    names: list[tuple[Path, str]] = []
    if step.ban is not None and step.ban.until is not None:
        names.append(((*path, "ban", "until"), step.ban.until))
    if step.wait is not None:
        names += [((*path, "wait", "before"), name) for name in step.wait.before]
        if step.wait.closed_by is not None:
            names.append(((*path, "wait", "closed_by"), step.wait.closed_by))
    for where, part in parts_of(path, step):
        if part.leave_for_later is not None:
            names.append(((*where, "leave_for_later", "closed_by"), part.leave_for_later.closed_by))
    for where, name in names:
        if 0 <= book.at(name) <= at:
            yield Finding(where, f"{name} does not come after this step", "move it after, or name another")
