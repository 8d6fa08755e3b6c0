"""Torque maps: group by group, stage by stage, how far each fastener came; trial apart from final."""

from collections.abc import Iterable
from typing import Literal

from benchvoice.session.entries import (
    Checked,
    ClosedLater,
    Entry,
    LeftForLater,
    Restarted,
    SetRead,
    Slackened,
    ThreadFound,
    Tightened,
)
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import Task, ask_of, order_numbers, outcomes, tasks_of
from benchvoice.session.plan import fitted_steps
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Bolt, GroupMaps, Item, StageMap
from benchvoice.sheet.words import asked, listed, sentence

STATES = ("done", "left for later", "unknown", "scrap", "open", "not here")
"""How far a fastener came at a stage, as the maps draw it."""

FEW = 4
"""So many positions of a larger group are named in a map's title."""

Purpose = Literal["trial", "final"]


def group_maps(book: Book) -> tuple[GroupMaps, ...]:
    """The maps of every group of this machine, in the order of the document."""
    tasks = [task for step in fitted_steps(book.state) for task in tasks_of(book.state, step)]
    found = []
    for name, group in book.state.procedure.groups.items():
        of_group = [task for task in tasks if task.part.group == name]
        if not of_group:
            continue
        size = ", class ".join(filter(None, (group.size, group.property_class)))
        slackened = book.items(row for row in book.facts.all(Slackened) if row.entry.group == name)
        order = group.order if isinstance(group.order, str) else "as listed"
        found.append(
            GroupMaps(
                sentence(group.what),
                size,
                order,
                slackened,
                _maps(book, of_group, "trial"),
                _maps(book, of_group, "final"),
            )
        )
    return tuple(found)


def _maps(book: Book, tasks: list[Task], purpose: Purpose) -> tuple[StageMap, ...]:
    return tuple(_map(book, task) for task in tasks if task.part.purpose == purpose)


def _map(book: Book, task: Task) -> StageMap:
    numbers = order_numbers(book.state.procedure, task.part.group)
    rows = outcomes(book.facts, task)
    left = _left(book, task)
    bolts = []
    for name in task.group.positions:
        row = rows.get(name)
        if name not in task.positions:
            state = "not here"
        elif row is not None:
            state = str(row.entry.outcome)
        else:
            state = "left for later" if name in left else "open"
        bolts.append(Bolt(name, numbers[name], state))
    title = sentence(book.title(task.step.step))
    title = title if "stage" in title else f"{title}, stage {task.number}"
    some = len(task.positions) <= FEW < len(task.group.positions)
    return StageMap(
        title=f"{title}: {listed(task.positions)}" if some else title,
        asked=f"{task.stage.way}: {asked(ask_of(task.stage))}" if task.stage.way != "hand" else ask_of(task.stage),
        bolts=tuple(bolts),
        summary=_summary(bolts),
        left=_left_words(left),
        notes=tuple(_notes(book, task)),
    )


def _summary(bolts: list[Bolt]) -> str:
    here = [bolt for bolt in bolts if bolt.state != "not here"]
    counted = ((state, sum(bolt.state == state for bolt in here)) for state in STATES)
    others = (f"{count} {state}" for state, count in counted if count and state != "done")
    return ", ".join((f"{sum(bolt.state == 'done' for bolt in here)} of {len(here)} done", *others))


def _left(book: Book, task: Task) -> dict[str, str]:
    """Positions left for later here, with what closes or closed them."""
    closed = {row.entry.entry: row.entry.step for row in book.facts.of(ClosedLater)}
    found: dict[str, str] = {}
    for row in book.facts.of(LeftForLater):
        if row.entry.step == task.step.step:
            by = closed.get(row.n)
            until = f"closed at {book.title(by)}" if by else "still open"
            found.update(dict.fromkeys(row.entry.positions, "; ".join(filter(None, (row.entry.reason, until)))))
    return found


def _left_words(left: dict[str, str]) -> tuple[str, ...]:
    """Positions left for later, those with the same words together."""
    groups: dict[str, list[str]] = {}
    for name, words in left.items():
        groups.setdefault(words, []).append(name)
    return tuple(f"{listed(names)} left for later; {words}" for words, names in groups.items())


def _notes(book: Book, task: Task) -> Iterable[Item]:
    """What was on the threads, settings, hold points, restarts, and tightening that doesn't count, as written."""
    facts, name = book.facts, task.step.step
    key = (name, task.part.group, task.number)
    rows: list[Row[Entry]] = [
        *(row for row in facts.all(SetRead) if (row.entry.step, row.entry.group, row.entry.stage) == key),
        *(row for row in facts.all(ThreadFound) if _is_first_of(row.entry, task)),
        *(row for row in facts.all(Checked) if _is_of(row.entry, task)),
        *(row for row in facts.all(Restarted) if _is_of(row.entry, task)),
    ]
    items = [book.item(row) for row in rows]
    return sorted((*items, *_void(book, task), *_reasons(book, task)), key=lambda item: item.n)


def _is_of(entry: Checked | Restarted, task: Task) -> bool:
    """Whether an entry is of this stage; older logs don't name the group."""
    here = (entry.step, entry.stage) == (task.step.step, task.number)
    return here and entry.group in (None, task.part.group)


def _is_first_of(entry: ThreadFound, task: Task) -> bool:
    """Whether what was on the threads was said before this stage, the first of its step."""
    return (entry.step, entry.group) == (task.step.step, task.part.group) and task.stage == task.part.stages[0]


def _of_task(book: Book, task: Task) -> list[Row[Tightened]]:
    key = (task.step.step, task.part.group, task.number)
    return [row for row in book.facts.all(Tightened) if (row.entry.step, row.entry.group, row.entry.stage) == key]


def _void(book: Book, task: Task) -> Iterable[Item]:
    """Earlier tightening at this stage that doesn't count, one note for each reason."""
    by_reason: dict[str, list[Row[Tightened]]] = {}
    for row in _of_task(book, task):
        if row.n in book.facts.void:
            by_reason.setdefault(book.void(row.n), []).append(row)
    for rows in by_reason.values():
        names = ", ".join(dict.fromkeys(row.entry.position for row in rows))
        yield book.item(rows[0], f"Tightened before: {names}")


def _reasons(book: Book, task: Task) -> Iterable[Item]:
    """Fasteners that are not simply done, with the reason that was said."""
    for row in _of_task(book, task):
        if row.entry.outcome != "done" or row.entry.reason:
            reason = f": {row.entry.reason}" if row.entry.reason else ""
            yield book.item(row, f"{row.entry.position} {row.entry.outcome}{reason}")
