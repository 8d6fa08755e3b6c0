"""Moves between steps, as facts: entering, closing, going back. What is said of a step is said elsewhere."""

from dataclasses import dataclass
from typing import TypeVar, cast

from benchvoice.procedure.models import Step
from benchvoice.session.entries import (
    Answered,
    BanOff,
    BanOn,
    BroughtIn,
    Checked,
    ClosedLater,
    Counted,
    Entry,
    LeftForLater,
    Mark,
    Matched,
    NoLongerCounts,
    NotBroughtIn,
    Owed,
    PackTaken,
    Remembered,
    Restarted,
    SetRead,
    Slackened,
    StepClosed,
    StepEntered,
    ThreadFound,
    Tightened,
    WentBack,
    WindowEnded,
    WindowStarted,
    Witnessed,
)
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import Task, is_done, parts_of, tightened
from benchvoice.session.plan import next_step, resting_on, title_of
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.session.windows import running, wait_step

E = TypeVar("E", bound=Entry, covariant=True)


def enter(turn: Turn, step: Step) -> None:
    """Make a step the current one."""
    turn.write(StepEntered(step=step.step))
    turn.talk(place=None, again=None, again_reason=None, done_said=None, told=None)


def enter_next(turn: Turn, *, other_than: str | None = None) -> bool:
    """Enter the first step whose turn it is; False when there is none."""
    step = next_step(turn.state, other_than=other_than)
    if step is None:
        return False
    enter(turn, step)
    return True


def close(turn: Turn, step: Step, how: str = "done", reason: str | None = None) -> None:
    """Close a step, and with it what ends there: bans, windows, what was left for it; note what it leaves open."""
    turn.write(StepClosed.model_validate({"step": step.step, "how": how, "reason": reason}))
    if how == "done":
        _leave_planned(turn, step)
        _close_what_was_left(turn, step)
        for owed in step.owed:
            what = f"{owed.what}, {owed.when}" if owed.when else owed.what
            turn.write(Owed(what=what, step=step.step, steps=owed.steps))
    for row in bans_on(turn.state):
        if row.entry.until == step.step:
            turn.write(BanOff(ban=row.entry.ban, what=row.entry.what))
            turn.say(f"You may again: {row.entry.what}")
    if how == "done":
        _close_joint(turn, step)
    _no_longer_cools(turn, step)


def _no_longer_cools(turn: Turn, step: Step) -> None:
    """A step that is passed over while it waits for its part to cool waits no more."""
    for window in running(turn.state.facts, turn.now):
        if window.name == step.step and window.row.entry.sort == "cooling":
            turn.write(WindowEnded(window=window.name, outcome="given up", taken=window.passed.least))


def bans_on(state: State) -> tuple[Row[BanOn], ...]:
    """Bans in force, oldest first."""
    off: dict[str, int] = {}
    for row in state.facts.of(BanOff):
        off[row.entry.ban] = row.n
    newest = {row.entry.ban: row for row in state.facts.of(BanOn)}
    return tuple(row for ban, row in newest.items() if off.get(ban, 0) < row.n)


def open_left(state: State) -> tuple[Row[LeftForLater], ...]:
    """What was left for later and not closed since."""
    closed = {row.entry.entry for row in state.facts.of(ClosedLater)}
    return tuple(row for row in state.facts.of(LeftForLater) if row.n not in closed)


def _leave_planned(turn: Turn, step: Step) -> None:
    for part in parts_of(step):
        leave = part.leave_for_later
        if leave is None:
            continue
        what = turn.state.procedure.groups[part.group].what
        turn.write(
            LeftForLater(
                step=step.step,
                what=what,
                positions=leave.positions,
                closed_by=leave.closed_by,
                reason=leave.why or "",
            )
        )


def _close_what_was_left(turn: Turn, step: Step) -> None:
    for row in open_left(turn.state):
        if row.entry.closed_by == step.step:
            turn.write(ClosedLater(entry=row.n, step=step.step, what=row.entry.what))


def _close_joint(turn: Turn, step: Step) -> None:
    """End the open times that this step closes."""
    for window in running(turn.state.facts, turn.now):
        owner = wait_step(turn.state, window.name)
        if owner is None or owner.wait is None or not window.is_open_time:
            continue
        if (owner.wait.closed_by or owner.step) == step.step:
            taken = window.passed.most
            turn.write(WindowEnded(window=window.name, outcome="closed in time", taken=taken))


# Going back ---------------------------------------------------------------------------------------------------------

PER_STEP = (
    StepClosed,
    Tightened,
    ThreadFound,
    SetRead,
    Checked,
    Slackened,
    LeftForLater,
    ClosedLater,
    Restarted,
    WindowStarted,
    Witnessed,
    Counted,
    Owed,
    BanOn,
    BanOff,
)
"""Kinds of entries that going back to a step undoes for it and all steps that rest on it. Readings, marks,
observations and answers stand until what they are about is touched, and so does what was laid out."""


@dataclass(frozen=True, slots=True)
class Undone:
    """What going back made void: rows, and the groups of fasteners that are loose again."""

    rows: tuple[Row[Entry], ...]
    groups: tuple[str, ...]

    def of(self, model: type[E]) -> tuple[Row[E], ...]:
        """The rows of a kind."""
        kind = model.model_fields["kind"].default
        return cast(tuple[Row[E], ...], tuple(row for row in self.rows if row.entry.kind == kind))


def rows_between(state: State, first: Step, last: Step, only: frozenset[str] | None = None) -> tuple[Row[Entry], ...]:
    """What going back from `last` to `first` undoes, oldest first: what was done in `first` and what rests on it.

    `only` narrows it to some of these steps.
    """
    names = resting_on(state.procedure, first.step) | {last.step}
    names &= only if only is not None else names
    every = (row for model in PER_STEP for row in state.facts.kinds.get(model.model_fields["kind"].default, ()))
    rows = [row for row in every if row.n not in state.facts.void and _step_of(state, row.entry) in names]
    return tuple(sorted(rows, key=lambda row: row.n))


def _step_of(state: State, entry: Entry) -> str:
    """The step that did what an entry says; of a count of what was laid out none, for it stays laid out."""
    match entry:
        case WindowStarted():
            return entry.window
        case BanOn():
            return entry.ban
        case BanOff():
            ban = next((step.ban for step in state.procedure.steps if step.step == entry.ban), None)
            return (ban.until if ban is not None else None) or ""
        case Counted(way="laid out"):
            return ""
        case _:
            return str(getattr(entry, "step", ""))


def go_back(
    turn: Turn,
    to: Step,
    came_from: Step,
    why: str,
    touched: tuple[str, ...] = (),
    only: frozenset[str] | None = None,
) -> Undone:
    """Go back to a step: what it and the steps that rest on it did doesn't count any more; with `only`, of some steps.

    `touched` are the steps whose readings may be spoilt: what was touched is then asked.
    """
    rows = rows_between(turn.state, to, came_from, only)
    if rows:
        turn.write(
            NoLongerCounts(
                entries=tuple(row.n for row in rows),
                what=_span(to, came_from),
                reason=why,
            )
        )
    own = asked_by(turn.state, to)
    if own:
        turn.write(NoLongerCounts(entries=own, what=title_of(to), reason=why))
    turn.write(WentBack(step_from=came_from.step, step_to=to.step, reason=why, touched=touched))
    enter(turn, to)
    return Undone(rows, groups_in(rows))


def asked_by(state: State, step: Step) -> tuple[int, ...]:
    """Rows of what a step itself asked, chose or saw: going back to it asks that anew. Readings stand.

    So does a pack that was taken on its way out: it's fitted, and what is read next is read with it.
    """
    facts = state.facts
    names = (*step.choose.ask, step.choose.name) if step.choose is not None else ()
    rows = [
        *(row.n for row in facts.of(Answered) if row.entry.question in names),
        *(row.n for row in facts.of(Mark) if row.entry.step == step.step),
        *(row.n for row in facts.of(Remembered) if row.entry.step == step.step and row.entry.observed),
        *(row.n for row in facts.of(Counted) if row.entry.step == step.step),
        *(row.n for row in facts.of(PackTaken) if row.entry.step == step.step and row.entry.reading is not None),
        *(row.n for row in facts.of(Matched) if row.entry.step == step.step),
        *(row.n for row in facts.of(BroughtIn) if row.entry.step == step.step),
        *(row.n for row in facts.of(NotBroughtIn) if row.entry.step == step.step),
        *(row.n for row in facts.of(Answered) if row.entry.step == step.step and row.entry.brought_in is not None),
    ]
    return tuple(sorted(set(rows)))


def groups_in(rows: tuple[Row[Entry], ...]) -> tuple[str, ...]:
    """The groups of fasteners whose tightening is among these rows."""
    return tuple(dict.fromkeys(row.entry.group for row in rows if isinstance(row.entry, Tightened)))


def reopen(turn: Turn, step: Step, closing: int) -> None:
    """Open a closed step again to finish it: what was left for later there is closed when it is."""
    left = tuple(row.n for row in places_left(turn.state, step))
    turn.write(NoLongerCounts(entries=(closing, *left), what=title_of(step), reason="gone back to"))
    for row in open_left(turn.state):
        if row.entry.step == step.step and not row.entry.positions:
            turn.write(ClosedLater(entry=row.n, step=step.step, what=row.entry.what))
    enter(turn, step)


def places_left(state: State, step: Step) -> tuple[Row[LeftForLater], ...]:
    """Places or fasteners of a step that the person left for later, and that no other step closes."""
    return tuple(
        row
        for row in open_left(state)
        if row.entry.step == step.step and row.entry.positions and row.entry.closed_by is None
    )


def _span(first: Step, last: Step) -> str:
    return title_of(first) if first.step == last.step else f"{title_of(first)} to {title_of(last)}"


def restart_stage(turn: Turn, task: Task, why: str, again: tuple[str, ...]) -> None:
    """Take up a stage of tightening again; the positions that are done `again` don't count, nor does the setting."""
    facts, key = turn.state.facts, (task.step.step, task.part.group, task.number)
    done = (row for row in facts.of(Tightened) if (row.entry.step, row.entry.group, row.entry.stage) == key)
    rows = [row.n for row in done if row.entry.position in again]
    if again:
        rows += [row.n for row in facts.of(SetRead) if (row.entry.step, row.entry.group, row.entry.stage) == key]
    if rows:
        turn.write(NoLongerCounts(entries=tuple(sorted(rows)), what=f"stage {task.number}", reason=why))
    turn.write(Restarted(step=task.step.step, group=task.part.group, stage=task.number, reason=why))
    turn.talk(told=None)


def write_done(turn: Turn, task: Task, positions: tuple[str, ...], why: str = "") -> None:
    """Write positions of a stage as done, but for those that are."""
    already = is_done(turn.state.facts, task)
    for name in positions:
        if name in already:
            continue
        turn.write(tightened(task, name, reason=why))
