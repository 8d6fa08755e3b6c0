"""Work owed after hand-over: the steps that do it come after the first build, and lead back to nothing of it."""

from collections.abc import Iterator

from benchvoice.procedure.models import Step
from benchvoice.procedure.rules.book import Book, Finding, parts_of, ways_back_of
from benchvoice.procedure.source import Path


def findings(book: Book) -> Iterator[Finding]:
    """Steps that aren't there, come too early, do two things that are owed, or lead back into the first build."""
    does: dict[str, tuple[int, int]] = {}
    for at, path, step in book.steps:
        for number, owed in enumerate(step.owed):
            where: Path = (*path, "owed", number, "steps")
            for name in owed.steps:
                yield from book.unknown(where, "step", name, book.positions)
                if 0 <= book.at(name) <= at:
                    yield Finding(where, f"{name} does not come after this step", "move it after, or name another")
                if name in does:
                    yield Finding(where, f"{name} does other work that is owed too", "give each work steps of its own")
                does.setdefault(name, (at, number))
    for _, path, step in book.steps:
        yield from _leads_out(book, path, step, does)


def _leads_out(book: Book, path: Path, step: Step, does: dict[str, tuple[int, int]]) -> Iterator[Finding]:
    """Ways from the first build into a follow-up, or from a follow-up to anything but itself."""
    ways = list(ways_back_of(path, step))
    if step.ban is not None and step.ban.until is not None:
        ways.append(((*path, "ban", "until"), step.ban.until))
    if step.wait is not None and step.wait.closed_by is not None:
        ways.append(((*path, "wait", "closed_by"), step.wait.closed_by))
    for where, part in parts_of(path, step):
        if part.leave_for_later is not None:
            ways.append(((*where, "leave_for_later", "closed_by"), part.leave_for_later.closed_by))
        if part.each_read is not None:
            ways.append(((*where, "each_read"), part.each_read))
    for where, name in ways:
        if book.at(name) >= 0 and does.get(name) != does.get(step.step):
            what = f"{name} is done at another time: one of them is work owed after hand-over"
            yield Finding(where, what, "name a step that is done in the same session")
