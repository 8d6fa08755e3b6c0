"""Windows of time as the page shows them: when started, warned, ended, and where the clocks can't say."""

from benchvoice.session.entries import WindowDoubtful, WindowEnded, WindowStarted, WindowWarned
from benchvoice.session.facts import Row
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Window


def windows(book: Book) -> tuple[Window, ...]:
    """Every run of every window, oldest first, those that don't count any more included."""
    starts = book.facts.all(WindowStarted)
    return tuple(_window(book, row, _next_start(starts, row)) for row in starts)


def _next_start(starts: tuple[Row[WindowStarted], ...], row: Row[WindowStarted]) -> int:
    """The line at which the same window begins again; one past every line when it doesn't."""
    later = (other.n for other in starts if other.entry.window == row.entry.window and other.n > row.n)
    return min(later, default=1 << 62)


def _window(book: Book, row: Row[WindowStarted], until: int) -> Window:
    facts, name = book.facts, row.entry.window
    warned = [
        row.entry.seconds - each.entry.left
        for each in facts.all(WindowWarned)
        if each.entry.window == name and row.n < each.n < until
    ]
    ends = [each for each in facts.all(WindowEnded) if each.entry.window == name and row.n < each.n < until]
    doubts = [each for each in facts.all(WindowDoubtful) if each.entry.window == name and row.n < each.n < until]
    end = ends[-1].entry if ends else None
    doubt = doubts[-1].entry if doubts else None
    return Window(
        item=book.item(row),
        what=row.entry.what,
        sort=row.entry.sort,
        seconds=row.entry.seconds,
        warned=tuple(warned),
        ended=end.taken if end is not None else None,
        outcome=end.outcome if end is not None else "not ended in this record",
        doubt=(doubt.least, doubt.most) if doubt is not None else None,
        doubt_reason=doubt.reason if doubt is not None else "",
    )
