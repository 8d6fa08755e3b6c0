"""The first page: what is open, what was decided, what went otherwise than the procedure asks."""

from collections.abc import Iterable

from benchvoice.session.counting import still_in
from benchvoice.session.entries import (
    Amended,
    BanBroken,
    BroughtIn,
    BroughtInChanged,
    BroughtInDecision,
    Entry,
    Finding,
    FollowUp,
    NotBroughtIn,
    Override,
    Owed,
    OwedDone,
    Reading,
    SaidLater,
    StepClosed,
    Tightened,
    Variation,
    WentBack,
    WindowEnded,
    WindowStarted,
)
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import only_trial, unfinished
from benchvoice.session.left_over import unsettled
from benchvoice.session.moves import bans_on, open_left
from benchvoice.session.plan import open_steps, title_of
from benchvoice.session.readings import place_key, undecided
from benchvoice.session.sub_builds import open_there, undecided_changes
from benchvoice.sheet.describe import describe
from benchvoice.sheet.describe_brought import brought_briefly
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Item, Section
from benchvoice.sheet.words import listed, sentence


def open_items(book: Book) -> tuple[str, ...]:
    """Everything that is still open, in sentences, by the last line of the log."""
    return tuple(sentence(text) for text in _open(book))


def _open(book: Book) -> Iterable[str]:
    state, facts = book.state, book.facts
    steps = [title_of(step) for step in open_steps(state)]
    if steps:
        yield f"{_many(len(steps), 'step')} not closed: {_first(steps)}"
    yield from (f"{describe(row.entry)} (line {row.n})" for row in open_left(state))
    yield from _not_tight(book)
    for row in undecided(facts):
        where = f", {place_key(row.entry.place)}" if row.entry.place else ""
        yield f"{book.title(row.entry.step)}{where}: {row.entry.outcome}, without a decision (line {row.entry.reading})"
    ended = {row.entry.window: row.n for row in facts.of(WindowEnded)}
    for start in facts.of(WindowStarted):
        if ended.get(start.entry.window, 0) < start.n:
            yield f"{start.entry.sort} not ended: {start.entry.what} (line {start.n})"
    yield from (f"{what}: {number} counted in and not out" for what, number in still_in(state).items())
    yield from (f"{describe(row.entry)}, without a finding (line {row.n})" for row in unsettled(facts))
    for ban in bans_on(state):
        until = f", until {book.title(ban.entry.until)}" if ban.entry.until else ""
        yield f"no {ban.entry.what}{until}"
    yield from (f"{describe(row.entry)}, without a decision" for row in undecided_changes(facts))
    yield from (f"in a build that was brought in: {item}" for item in open_there(state))
    for found in facts.of(Finding):
        if found.entry.what != "finding":
            yield f"{describe(found.entry)} (line {found.n})"


def _not_tight(book: Book) -> Iterable[str]:
    """Fasteners: begun and not finished position by position, tight for a trial only, and groups not begun."""
    state = book.state
    not_tight = unfinished(state)
    begun = {row.entry.group for row in book.facts.of(Tightened) if row.entry.purpose == "final"}
    for group, positions in not_tight.items():
        if group in begun:
            yield f"{book.group(group)}, not finally tight: {listed(positions)}"
    trial = only_trial(state)
    yield from (f"{book.group(group)}, only tight for a trial" for group in trial)
    waiting = [book.group(group) for group in not_tight if group not in begun and group not in trial]
    if waiting:
        yield f"fasteners not begun: {listed(waiting)}"


def _many(count: int, word: str) -> str:
    return f"{count} {word}{'s' if count != 1 else ''}"


def _first(names: list[str], most: int = 5) -> str:
    """Some names and how many more there are, so that the first page stays one."""
    return listed(names) if len(names) <= most + 1 else f"{', '.join(names[:most])} and {len(names) - most} more"


def front_sections(book: Book) -> tuple[Section, ...]:
    """Lists of the first page, those that don't count any more struck through in them."""
    facts = book.facts
    skipped = [row for row in facts.all(StepClosed) if row.entry.how in ("skipped", "left for later")]
    skips = tuple(
        book.item(row, f"{sentence(book.title(row.entry.step))}: {row.entry.how}{_reason(row.entry.reason)}")
        for row in skipped
    )
    return (
        Section("Overrides", book.items(facts.all(Override))),
        Section("Findings", tuple(book.item_at(row, row.entry.step) for row in facts.all(Finding))),
        Section("Variations: done another way", book.items(facts.all(Variation))),
        Section("Bans broken", book.items(facts.all(BanBroken))),
        Section("Said later, time unknown", book.items(facts.all(SaidLater))),
        Section("Read off paper, not measured in this build", _off_paper(book)),
        Section("Steps skipped", skips),
        Section("Ways back", book.items(facts.all(WentBack))),
        Section("Amendments of the procedure", book.items(facts.all(Amended))),
        Section("Brought in from other builds", _brought(book)),
        Section("Owed after hand-over", book.items(_owed(book))),
    )


def _brought(book: Book) -> tuple[Item, ...]:
    """Builds that were brought in or left out, what has changed in them since, and what was decided about it."""
    came = {row.n: brought_briefly(row.entry) for row in book.facts.all(BroughtIn)}
    kinds = (BroughtIn, NotBroughtIn, BroughtInChanged, BroughtInDecision)
    rows: list[Row[Entry]] = [row for model in kinds for row in book.facts.all(model)]
    return tuple(book.item(row, came.get(row.n)) for row in sorted(rows, key=lambda row: row.n))


def _off_paper(book: Book) -> tuple[Item, ...]:
    rows = (row for row in book.facts.all(Reading) if row.entry.paper is not None)
    return tuple(book.item_at(row, row.entry.step) for row in rows)


def _owed(book: Book) -> list[Row[Entry]]:
    """Work owed after hand-over, when it was taken up, and when it was done."""
    rows: list[Row[Entry]] = [row for model in (Owed, FollowUp, OwedDone) for row in book.facts.all(model)]
    return sorted(rows, key=lambda row: row.n)


def _reason(reason: str | None) -> str:
    return f", because {reason}" if reason else ""
