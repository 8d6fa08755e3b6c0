"""Windows of time as the page shows them: when started, warned, ended, and where the clocks can't say."""

from benchvoice.session.entries import WindowDoubtful, WindowEnded, WindowStarted, WindowWarned
from benchvoice.session.facts import Row
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Window
from benchvoice.sheet.words import duration, quantity, sentence


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
    item = book.item(row)
    said = [f"{_limit(row.entry)}; started {item.at}"]
    said += [f"warned with {duration(row.entry.seconds - each)} left" for each in warned]
    said += [_doubt(doubt)] if doubt is not None else []
    said.append(_end(end))
    return Window(
        item=item,
        what=sentence(row.entry.what),
        caption="; ".join(said),
        sort=row.entry.sort,
        seconds=row.entry.seconds,
        warned=tuple(warned),
        ended=end.taken if end is not None else None,
        doubt=(doubt.least, doubt.most) if doubt is not None else None,
    )


def _limit(start: WindowStarted) -> str:
    side = "at most" if start.sort == "open time" else "at least"
    limit = f"{start.sort}, {side} {duration(start.seconds)}"
    if start.temperature is None or start.temperature_unit is None:
        return limit
    return f"{limit}; bench at {quantity(start.temperature, start.temperature_unit)}"


def _doubt(doubt: WindowDoubtful) -> str:
    span = f"between {duration(doubt.least)} and {duration(doubt.most)}"
    return f"the clocks can't say how long it had, {span}: {doubt.reason}"


def _end(end: WindowEnded | None) -> str:
    if end is None:
        return "not ended in this record"
    return f"{end.outcome}, after {duration(end.taken)}" if end.taken is not None else f"{end.outcome}, time not known"
