"""Everything the page shows, gathered from a build's facts and its procedure; pure: no file, no clock."""

from dataclasses import dataclass

from benchvoice.procedure.models import Procedure
from benchvoice.session.entries import (
    Answered,
    Closed,
    ClosedLater,
    Container,
    Counted,
    Entry,
    FollowUp,
    Heard,
    Label,
    LeftForLater,
    Matched,
    Opened,
    PackTaken,
    Person,
    Reading,
    Remembered,
    Said,
    StockChanged,
    Unclear,
)
from benchvoice.session.facts import Facts, Row
from benchvoice.sheet.describe import describe
from benchvoice.sheet.front import front_sections, open_items
from benchvoice.sheet.items import Book, book, clip_of
from benchvoice.sheet.model import Item, Pair, Section, Sheet, Talk
from benchvoice.sheet.readings import out_of_limits
from benchvoice.sheet.steps import step_parts
from benchvoice.sheet.tools import tools_used
from benchvoice.sheet.torque import group_maps
from benchvoice.sheet.windows import windows
from benchvoice.sheet.words import clock, listed, plain, quantity, sentence


@dataclass(frozen=True, slots=True)
class Source:
    """Where the facts were read from: how many lines, and the hash of the last."""

    lines: int
    head: str


def gather(procedure: Procedure, facts: Facts, source: Source) -> Sheet:
    """The page of a build that has begun (its first entry says that it was opened)."""
    pages = book(procedure, facts)
    rows = facts.rows()
    opened = facts.all(Opened)[0].entry
    steps = step_parts(pages)
    known = {step.step: step for step in procedure.steps}
    return Sheet(
        title=procedure.title,
        machine=opened.machine or procedure.machine or "",
        people=tuple(dict.fromkeys(row.entry.name for row in facts.all(Person))),
        began=clock(rows[0].now.at),
        last=clock(rows[-1].now.at),
        status=_status(facts),
        introduction=procedure.introduction or "",
        facts=_which_end(procedure),
        open_items=open_items(pages),
        out_of_limits=out_of_limits(pages, ((part.name, known.get(part.name)) for part in steps)),
        front=front_sections(pages),
        particulars=_particulars(pages),
        steps=steps,
        groups=group_maps(pages),
        windows=windows(pages),
        lists=_lists(pages),
        counts=_counts(pages),
        tools=tools_used(pages),
        timeline=tuple(_talk(pages, row) for row in rows),
        sounds=_sounds(pages),
        program=opened.program,
        lines=source.lines,
        head=source.head,
    )


def _status(facts: Facts) -> str:
    """When the build was closed and by whom, and its follow-ups after it; with what was owed at each closing."""
    closings = facts.of(Closed)
    if not closings:
        return "Not closed"
    said = [_closed_words(row) for row in closings]
    taken_up = facts.last(FollowUp)
    if taken_up is not None and taken_up.n > closings[-1].n:
        said.append(f"follow-up open since {clock(taken_up.now.at)}")
    return "; ".join(said)


def _closed_words(row: Row[Closed]) -> str:
    what = "follow-up closed" if row.entry.follow_ups else "Closed"
    still = f", with this still owed: {listed(row.entry.with_open)}" if row.entry.with_open else ""
    return f"{what} on {clock(row.now.at)} by {row.by or 'nobody named'}{still}"


def _which_end(procedure: Procedure) -> tuple[Pair, ...]:
    ends = procedure.which_end
    pairs = (("Number one is at", ends.number_one), ("Left and right", ends.left_right), ("Turning", ends.turning))
    orders = (*procedure.standing_orders, *(step.standing_order for step in procedure.steps if step.standing_order))
    return (
        *(Pair(name, value) for name, value in pairs if value),
        *(Pair("Standing order", order) for order in orders),
    )


def _particulars(pages: Book) -> tuple[Pair, ...]:
    """Every answer to a particular, an option or a choice; earlier answers that don't count any more are kept."""
    procedure = pages.state.procedure
    asked = {name: each.ask for name, each in procedure.particulars.items()}
    asked |= {name: each.ask for name, each in procedure.options.items()}
    return tuple(
        Pair(asked.get(row.entry.question, sentence(plain(row.entry.question))), _answer(row.entry), pages.item(row))
        for row in pages.facts.all(Answered)
        if not _is_warning(row.entry)
    )


def _answer(entry: Answered) -> str:
    if entry.actual is None or entry.actual_unit is None:
        return entry.answer
    return f"{entry.answer} ({quantity(entry.actual, entry.actual_unit)})"


def _is_warning(entry: Answered) -> bool:
    return entry.question.startswith("warning ")


def _warnings(pages: Book) -> tuple[Item, ...]:
    texts = {step.step: step.warning for step in pages.state.procedure.steps}
    found = []
    for row in pages.facts.all(Answered):
        if _is_warning(row.entry):
            step = row.entry.step or row.entry.question.removeprefix("warning ")
            words = texts.get(step) or row.entry.question
            found.append(pages.item(row, f"{sentence(pages.title(step))}: {words} Answered: {row.entry.answer}."))
    return tuple(found)


def _lists(pages: Book) -> tuple[Section, ...]:
    notes = [row for row in pages.facts.all(Remembered) if not row.entry.observed]
    observed = [row for row in pages.facts.all(Remembered) if row.entry.observed]
    return (
        Section("Left for later, and what closed it", _left(pages)),
        Section("Remembered", tuple(pages.item_at(row, row.entry.step) for row in notes)),
        Section("Packs from the tray, and parts that go together", _chosen(pages)),
        Section("Observations", tuple(pages.item_at(row, row.entry.step) for row in observed)),
        Section("Warnings answered", _warnings(pages)),
        Section("Labels of consumables", _labels(pages)),
    )


def _chosen(pages: Book) -> tuple[Item, ...]:
    """Packs piece by piece, what came into the tray, matched sets; with what was put back or matched anew."""
    rows: list[Row[Entry]] = [row for model in (PackTaken, StockChanged, Matched) for row in pages.facts.all(model)]
    return pages.items(sorted(rows, key=lambda row: row.n))


def _labels(pages: Book) -> tuple[Item, ...]:
    """What was read off labels, and each new container, in the order written."""
    rows: list[Row[Entry]] = [*pages.facts.all(Label), *pages.facts.all(Container)]
    return pages.items(sorted(rows, key=lambda row: row.n))


def _left(pages: Book) -> tuple[Item, ...]:
    closed = {row.entry.entry: row for row in pages.facts.of(ClosedLater)}
    found = []
    for row in pages.facts.all(LeftForLater):
        by = closed.get(row.n)
        if by is not None:
            end = f"Closed at {pages.title(by.entry.step)} (line {by.n}, {clock(by.now.at)})"
        else:
            end = "" if row.n in pages.facts.void else "Still open"
        found.append(pages.item(row, ". ".join(filter(None, (describe(row.entry), end)))))
    return tuple(found)


def _counts(pages: Book) -> tuple[Pair, ...]:
    return tuple(
        Pair(f"{row.entry.what}, {row.entry.way}", _count(row.entry), pages.item(row, pages.title(row.entry.step)))
        for row in pages.facts.all(Counted)
    )


def _count(entry: Counted) -> str:
    if entry.expected is None:
        return str(entry.number)
    differs = "" if entry.number == entry.expected else ", not the same"
    return f"{entry.number} (asked: {entry.expected}{differs})"


def _talk(pages: Book, row: Row[Entry]) -> Talk:
    entry = row.entry
    sort = entry.kind if isinstance(entry, Heard | Said | Unclear) else "fact"
    item = pages.item(row)
    return Talk(item.n, item.at, item.by, sort, item.text, item.void, item.clip)


def _sounds(pages: Book) -> tuple[Item, ...]:
    """Sounds of readings and of what was unclear, once each."""
    rows: list[Row[Entry]] = [*pages.facts.all(Reading), *pages.facts.all(Unclear)]
    found: dict[str, Item] = {}
    for row in sorted(rows, key=lambda row: row.n):
        clip = clip_of(row.entry)
        if clip is not None:
            prefix = "Unclear: " if isinstance(row.entry, Unclear) else ""
            found.setdefault(clip, pages.item(row, f"{prefix}{describe(row.entry)}"))
    return tuple(found.values())
