"""Questions about fasteners: which a step tightens, in what order, to which stage each has come, what is unfinished."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from benchvoice.procedure.models import Graded, Group, Procedure, Stage, Step, Tighten
from benchvoice.session.entries import Checked, ClosedLater, LeftForLater, SetRead, Slackened, Tightened
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import fitted_steps, follow_up_steps
from benchvoice.session.state import State
from benchvoice.tighten.orders import order_of


@dataclass(frozen=True, slots=True)
class Task:
    """One stage of one part of a tighten step: what is to be done now, and to which positions, in order."""

    step: Step
    part: Tighten
    group: Group
    stage: Stage
    number: int
    """The stage's number in the group, counted over all steps that tighten it for the same purpose."""
    positions: tuple[str, ...]


def parts_of(step: Step) -> tuple[Tighten, ...]:
    """What a tighten step tightens, one group after another."""
    return () if step.tighten is None else (step.tighten, *step.tighten.also)


def whole_order(procedure: Procedure, name: str) -> tuple[str, ...]:
    """Every position of a group in its own order: their place in it is the number painted beside each."""
    group = procedure.groups[name]
    return order_of(group.order, group.positions)


def positions_of(procedure: Procedure, part: Tighten) -> tuple[str, ...]:
    """The positions that a part tightens, in the order of tightening."""
    group = procedure.groups[part.group]
    if part.order is not None:
        return order_of(part.order, part.positions or group.positions)
    whole = whole_order(procedure, part.group)
    return tuple(name for name in whole if not part.positions or name in part.positions)


def tasks_of(state: State, step: Step) -> tuple[Task, ...]:
    """Every stage that a step asks for, in order."""
    tasks: list[Task] = []
    for part in parts_of(step):
        base = _stages_before(state, step, part)
        group = state.procedure.groups[part.group]
        positions = positions_of(state.procedure, part)
        tasks.extend(Task(step, part, group, stage, base + at, positions) for at, stage in enumerate(part.stages, 1))
    return tuple(tasks)


def _stages_before(state: State, step: Step, part: Tighten) -> int:
    if part.positions:
        return 0  # positions that were left behind go through every stage from the first
    total, later = 0, follow_up_steps(state.procedure)
    for other in fitted_steps(state):
        if other.step == step.step:
            break
        if later.get(other.step) not in (None, later.get(step.step)):
            continue  # other work owed after hand-over, which may be done before this or after
        total += sum(
            len(each.stages)
            for each in parts_of(other)
            if each.group == part.group and each.purpose == part.purpose and not each.positions
        )
    return total


def outcomes(facts: Facts, task: Task) -> dict[str, Row[Tightened]]:
    """The newest word on each position of a stage."""
    return {
        row.entry.position: row
        for row in facts.of(Tightened)
        if (row.entry.step, row.entry.group, row.entry.stage) == (task.step.step, task.part.group, task.number)
        and row.entry.position in task.positions
    }


def is_done(facts: Facts, task: Task) -> frozenset[str]:
    """Positions of a stage that are done."""
    return frozenset(name for name, row in outcomes(facts, task).items() if row.entry.outcome == "done")


def left_positions(facts: Facts, task: Task) -> frozenset[str]:
    """Positions that the document, or the person, leaves for later."""
    planned = task.part.leave_for_later.positions if task.part.leave_for_later else ()
    closed = {row.entry.entry for row in facts.of(ClosedLater)}
    said = {
        name
        for row in facts.of(LeftForLater)
        if row.entry.step == task.step.step and row.n not in closed
        for name in row.entry.positions
    }
    return frozenset({*planned, *said})


def still_open(facts: Facts, task: Task) -> tuple[str, ...]:
    """Positions of a stage that are neither done nor left for later, in order."""
    done, left = is_done(facts, task), left_positions(facts, task)
    return tuple(name for name in task.positions if name not in done and name not in left)


def setting_read(facts: Facts, task: Task) -> Row[SetRead] | None:
    """The wrench setting that was read for a stage and accepted."""
    rows = [
        row
        for row in facts.of(SetRead)
        if (row.entry.step, row.entry.group, row.entry.stage) == (task.step.step, task.part.group, task.number)
        and row.entry.accepted
    ]
    return rows[-1] if rows else None


def hold_answer(facts: Facts, task: Task) -> Row[Checked] | None:
    """The answer that a stage's hold point got and that passed."""
    rows = [
        row
        for row in facts.of(Checked)
        if (row.entry.step, row.entry.stage) == (task.step.step, task.number)
        and row.entry.group in (None, task.part.group)
        and row.entry.passed
    ]
    return rows[-1] if rows else None


def hold_point(task: Task) -> Graded | None:
    """The check after a stage, when it has one."""
    return task.stage.hold_point or task.part.hold_point


def current_task(state: State, step: Step) -> Task | None:
    """The first stage that still has open positions or an unanswered hold point."""
    for task in tasks_of(state, step):
        if still_open(state.facts, task) or (hold_point(task) and hold_answer(state.facts, task) is None):
            return task
    return None


def order_numbers(procedure: Procedure, group: str) -> dict[str, int]:
    """Each position's number in its group's order, from one."""
    return {name: at for at, name in enumerate(whole_order(procedure, group), 1)}


def unfinished(state: State) -> dict[str, tuple[str, ...]]:
    """Groups that were tightened at all or must be, with the positions that are not finally tight, in order."""
    lacking: dict[str, tuple[str, ...]] = {}
    for step in fitted_steps(state):
        for task in tasks_of(state, step):
            if task.part.purpose == "final":
                open_ = tuple(name for name in task.positions if name not in is_done(state.facts, task))
                gone = _closed_elsewhere(state, task)
                names = tuple(name for name in open_ if name not in gone)
                if names:
                    lacking[task.part.group] = tuple(dict.fromkeys((*lacking.get(task.part.group, ()), *names)))
    return lacking


def _closed_elsewhere(state: State, task: Task) -> frozenset[str]:
    """Positions left for later by this step that another step has closed since."""
    closed = {row.entry.entry for row in state.facts.of(ClosedLater)}
    return frozenset(
        name
        for row in state.facts.of(LeftForLater)
        if row.n in closed and row.entry.step == task.step.step
        for name in row.entry.positions
    )


def only_trial(state: State) -> tuple[str, ...]:
    """Groups whose only tightening so far was for a trial."""
    slack = {row.entry.group: row.n for row in state.facts.of(Slackened)}
    trial = {
        row.entry.group
        for row in state.facts.of(Tightened)
        if row.entry.purpose == "trial" and row.n > slack.get(row.entry.group, 0)
    }
    final = {row.entry.group for row in state.facts.of(Tightened) if row.entry.purpose == "final"}
    return tuple(sorted(trial - final))


def tightened(
    task: Task, position: str, outcome: Literal["done", "unknown", "scrap"] = "done", reason: str = ""
) -> Tightened:
    """The entry of one position of a stage."""
    return Tightened(
        step=task.step.step,
        group=task.part.group,
        stage=task.number,
        stage_kind=task.stage.way,
        asked=ask_of(task.stage),
        purpose=task.part.purpose,
        position=position,
        outcome=outcome,
        reason=reason,
    )


def ask_of(stage: Stage) -> str:
    """What a stage asks, as text for the log: 25 N_m, 90 deg, 5.4 to 6.0 thou …"""
    if stage.torque is not None:
        return f"{stage.torque.value} {stage.torque.unit}"
    if stage.angle is not None:
        return f"{stage.angle.value} {stage.angle.unit}"
    for band in (stage.stretch, stage.drag):
        if band is not None:
            low, high = band
            return f"{_end(low)} to {_end(high)} {stage.unit}"
    if stage.turns is not None:
        return f"{stage.turns} turn"
    return stage.hand or "by hand"


def _end(value: Decimal | None) -> str:
    return "any" if value is None else str(value)
