"""A fastener that is spent: what it went through doesn't count, and the steps it went through are open again."""

from benchvoice.session.entries import (
    Finding,
    NoLongerCounts,
    Reading,
    SetRead,
    StepClosed,
    ThreadFound,
    Tightened,
)
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import Task, order_numbers, tightened
from benchvoice.session.moves import enter
from benchvoice.session.plan import current_step, position_in
from benchvoice.session.positions import spoilt_position
from benchvoice.session.turn import Turn


def scrap_position(turn: Turn, task: Task, position: str, why: str, free: Row[Reading] | None = None) -> None:
    """Void every stage that a position's fastener had, note it as scrap, and go to the first step that lacks it now.

    `free` is the reading of its free length, where one was taken: the new fastener has its own, and threads of its own.
    """
    facts = turn.state.facts
    done = [
        row
        for row in facts.of(Tightened)
        if row.entry.group == task.part.group and row.entry.position == position and row.entry.outcome == "done"
    ]
    final = [row for row in done if row.entry.purpose == task.part.purpose]
    names = {row.entry.step for row in final} | ({free.entry.step} if free is not None else set())
    shut = [row.n for row in facts.of(StepClosed) if row.entry.step in names]
    stages = {(row.entry.step, row.entry.group, row.entry.stage) for row in final}
    settings = [row.n for row in facts.of(SetRead) if (row.entry.step, row.entry.group, row.entry.stage) in stages]
    own = [free.n] if free is not None else []
    groups = {(row.entry.step, row.entry.group) for row in final}
    own += [row.n for row in facts.of(ThreadFound) if (row.entry.step, row.entry.group) in groups]
    rows = tuple(sorted({*(row.n for row in final), *shut, *settings, *own}))
    if rows:
        turn.write(NoLongerCounts(entries=rows, what=f"{task.group.what} {position}", reason=why))
    turn.write(tightened(task, position, "scrap", why))
    turn.talk(told=None)
    step = current_step(turn.state)
    first = min(names, key=lambda name: position_in(turn.state.procedure, name), default=None)
    if shut and first is not None and step is not None and first != step.step:
        enter(turn, turn.state.step(first))


def take_spoilt(turn: Turn, task: Task, text: str) -> bool:
    """ "Number eight stripped", "seven went past": a finding, and each is scrap until a sound one is through."""
    said = spoilt_position(text, order_numbers(turn.state.procedure, task.part.group))
    if said is None:
        return False
    what, names = said
    turn.understood(what)
    sort = what if what in ("stripped", "broken") else "finding"
    turn.write(Finding.model_validate({"text": text, "what": sort, "step": task.step.step, "clip": turn.clip}))
    for name in names:
        scrap_position(turn, task, name, what)
    turn.say(text, "It counts for nothing until a sound one has been through every stage")
    return True
