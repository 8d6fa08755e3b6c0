"""Sub-builds: what is answered by another build, and marks that are expected to be those of one."""

from collections.abc import Iterator

from benchvoice.procedure.rules.book import Book, Finding
from benchvoice.procedure.source import Path


def findings(book: Book) -> Iterator[Finding]:
    """Answers that nothing asks, marks that no build brings in or two do, and marks that come too late."""
    brought: dict[str, int] = {}
    for at, path, step in book.steps:
        if step.brings_in is None:
            continue
        for name in step.brings_in.choices:
            yield from book.unknown((*path, "brings_in", "choices"), "particular, option or choice", name, book.answers)
        for name in step.brings_in.marks:
            if name in brought:
                what = f"{name} is a mark of another build that is brought in too"
                yield Finding((*path, "brings_in", "marks"), what, "bring it in once")
            brought.setdefault(name, at)
    yield from _expected(book, brought)


def _expected(book: Book, brought: dict[str, int]) -> Iterator[Finding]:
    for at, path, step in book.steps:
        name = step.mark.expected.brought_in if step.mark is not None and step.mark.expected is not None else None
        if name is None:
            continue
        where: Path = (*path, "mark", "expected", "brought_in")
        yield from book.unknown(where, "mark brought in", name, brought)
        if brought.get(name, at) > at:
            what = f"{name} is brought in only later, in {book.procedure.steps[brought[name]].step}"
            yield Finding(where, what, "bring the build in before this step")
