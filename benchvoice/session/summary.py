"""What is loose, open, running or owed: for resuming, for stopping for the day, and for closing the build."""

from benchvoice.procedure.models import Step
from benchvoice.session import follow_ups
from benchvoice.session.counting import left_inside, still_in
from benchvoice.session.entries import Finding, LeftForLater, Reading, Remembered, SetRead, Slackened, Tightened
from benchvoice.session.facts import Instant, Row
from benchvoice.session.fasteners import (
    Task,
    is_done,
    only_trial,
    order_numbers,
    parts_of,
    still_open,
    tasks_of,
    unfinished,
)
from benchvoice.session.follow_ups import owed_rows
from benchvoice.session.left_over import left_over
from benchvoice.session.moves import bans_on, open_left
from benchvoice.session.plan import current_step, fitted_steps, number_of, open_steps, title_of
from benchvoice.session.positions import say_numbers
from benchvoice.session.questions import listed
from benchvoice.session.readings import undecided
from benchvoice.session.state import State
from benchvoice.session.sub_builds import open_there
from benchvoice.session.ways import pending
from benchvoice.session.windows import running
from benchvoice.speech.say import say_count, say_duration, say_place


def windows(state: State, now: Instant) -> tuple[str, ...]:
    """Running windows, in sentences, those with the least left first."""
    said = []
    for window in sorted(running(state.facts, now), key=lambda each: each.left):
        what = window.row.entry.what
        if window.left <= 0:
            said.append(f"{what}: time is up" if window.is_open_time else f"{what}: time is full")
        elif window.is_open_time:
            said.append(f"{what}: {say_duration(window.left)} left")
        else:
            said.append(f"{what}: {say_duration(window.left)} to go")
    return tuple(said)


def positions_spoken(state: State, step: str, positions: tuple[str, ...]) -> str:
    """Positions of a step's fasteners by their order numbers, or a place as it is."""
    for task in tasks_of(state, state.step(step)):
        numbers = order_numbers(state.procedure, task.part.group)
        if set(positions) <= set(numbers):
            return say_numbers(numbers[name] for name in positions)
    return listed(positions, "and")


def _not_done(state: State, row: Row[LeftForLater]) -> tuple[str, ...]:
    """The positions that were left and lack a stage that others of the same step have had since."""
    entry = row.entry
    done = [
        is_done(state.facts, task)
        for task in tasks_of(state, state.step(entry.step))
        if task.group.what == entry.what and set(entry.positions) <= set(task.positions)
    ]
    begun = [names for names in done if names]
    return tuple(name for name in entry.positions if not begun or any(name not in names for names in begun))


def left_for_later(state: State) -> tuple[str, ...]:
    """What was left for later and is still open, in sentences."""
    said = []
    measured = {step.step for step in state.procedure.steps if step.measure is not None}
    for row in open_left(state):
        entry = row.entry
        positions = _not_done(state, row)
        which = f" {positions_spoken(state, entry.step, positions)}" if positions else ""
        if entry.step in measured:
            which = ""
        said.append(f"{entry.what}{which if which.strip() != 'whole' else ''}, left for later")
    return tuple(said)


def standing(state: State, now: Instant) -> tuple[str, ...]:
    """What stands open: clocks, what is loose, left for later, still inside, and bans.

    The same list whenever it is said, and short enough for half a minute.
    """
    return _brief(everything_open(state, now))


def everything_open(state: State, now: Instant) -> tuple[str, ...]:
    """The whole list of what stands open, however long."""
    return (
        *windows(state, now),
        *loose(state),
        *left_for_later(state),
        *inside(state),
        *(f"{what}: {say_count(number)} in" for what, number in left_inside(state).items()),
        *missing(state),
        *left_over(state),
        *bans(state),
        *open_there(state),
    )


_WORDS = 75
"""Words that are said in half a minute, at 150 a minute."""


def _brief(items: tuple[str, ...]) -> tuple[str, ...]:
    """As many as can be said in half a minute, and how many more there are."""
    words = 0
    for at, item in enumerate(items):
        words += len(item.split())
        if words > _WORDS and at:
            return (*items[:at], f'And {say_count(len(items) - at)} more: say "what\'s open"')
    return items


def loose(state: State) -> tuple[str, ...]:
    """Fasteners that are begun and not finished, those that are loose again, and those only tight for a trial."""
    said = []
    touched = {row.entry.group for row in state.facts.all(Tightened) if row.entry.purpose == "final"}
    touched |= {name for name, tasks in _final_tasks(state).items() if any(_is_begun(state, task) for task in tasks)}
    for name, tasks in _final_tasks(state).items():
        waiting = {
            position for row in open_left(state) for position in _not_done(state, row) if _is_of(state, row, name)
        }
        task = next((each for each in tasks if not set(still_open(state.facts, each)) <= waiting), None)
        if task is None or name not in touched:
            continue
        done = len(is_done(state.facts, task))
        last = max(each.number for each in tasks)
        of = f"stage {say_count(task.number)}" + (f" of {say_count(last)}" if last > task.number else "")
        if done:
            said.append(f"{task.group.what}, {of}: {say_count(done)} of {say_count(len(task.positions))} done")
        elif task is tasks[0]:
            said.append(f"{task.group.what}: not tight, from stage {say_count(task.number)}")
        else:
            said.append(f"{task.group.what}: {of} to come")
    said += [f"{state.procedure.groups[name].what}: only trial tight" for name in only_trial(state)]
    slack = dict.fromkeys(row.entry.group for row in state.facts.of(Slackened))
    said += [
        f"{state.procedure.groups[name].what}: slack"
        for name in slack
        if name not in touched and name not in only_trial(state)
    ]
    return tuple(said)


def _is_begun(state: State, task: Task) -> bool:
    """Whether hands may have been on a stage before any of it was said: its wrench was set, or it was read."""
    step, group = task.step.step, task.part.group
    return any((row.entry.step, row.entry.group) == (step, group) for row in state.facts.of(SetRead)) or any(
        row.entry.step == step for row in state.facts.of(Reading)
    )


def _is_of(state: State, row: Row[LeftForLater], group: str) -> bool:
    """Whether what was left for later is of a group."""
    return any(part.group == group for part in parts_of(state.step(row.entry.step)))


def _final_tasks(state: State) -> dict[str, list[Task]]:
    """The stages of each group that is finally tightened on this machine, in order."""
    found: dict[str, list[Task]] = {}
    for step in fitted_steps(state):
        for task in tasks_of(state, step):
            if task.part.purpose == "final":
                found.setdefault(task.part.group, []).append(task)
    return found


def bans(state: State) -> tuple[str, ...]:
    """Bans in force, in sentences."""
    return tuple(f"No {row.entry.what}" for row in bans_on(state))


def where(state: State) -> str:
    """Which step of how many."""
    step = current_step(state)
    if step is None:
        return "The build is closed" if state.closed else "No step is open"
    at, of = number_of(state, step)
    return f"Step {say_count(at)} of {say_count(of)}, {title_of(step)}"


def inside(state: State) -> tuple[str, ...]:
    """Things counted in and not out."""
    return tuple(f"{what}: {say_count(number)} still in" for what, number in still_in(state).items())


def missing(state: State) -> tuple[str, ...]:
    """Parts that are missing and were not found since."""
    rows = [row.entry.text for row in state.facts.of(Finding) if row.entry.what == "part missing"]
    return tuple(f"Part missing: {text}" if text != "part missing" else text for text in rows)


def owed(state: State) -> tuple[str, ...]:
    """Work owed after hand-over that is not done."""
    return tuple(row.entry.what for row in owed_rows(state.facts))


def for_next_time(state: State) -> tuple[str, ...]:
    """Notes said for next time that no resume has repeated yet."""
    return tuple(row.entry.text for row in state.facts.of(Remembered) if row.entry.next_time)


def against_closing(state: State, now: Instant) -> tuple[str, ...]:
    """Everything that the build can't be closed over, in sentences. What an open step is about is named by the step."""
    steps = open_steps(state)
    said = [_open_words(steps)] if steps else []
    said += left_for_later(state)
    for group, positions in _lacking(state, steps).items():
        numbers = order_numbers(state.procedure, group)
        names = say_numbers(numbers[name] for name in positions)
        said.append(f"{state.procedure.groups[group].what} not finally tight: {names}")
    final = set(unfinished(state))
    said += [f"{state.procedure.groups[name].what} only trial tight" for name in only_trial(state) if name not in final]
    for row in undecided(state.facts):
        measure = state.step(row.entry.step).measure
        what = measure.what if measure is not None else row.entry.step
        said.append(f"{what} {say_place(row.entry.place)} {row.entry.outcome}, without a decision")
    for window in running(state.facts, now):
        if _may_outlast(state, window.name):
            continue
        said.append(
            f"{window.row.entry.what}: still running" if window.left > 0 else f"{window.row.entry.what}: not ended"
        )
    said += inside(state)
    said += missing(state)
    said += left_over(state)
    question = pending(state)
    said += [f"Not answered: {question.prompt}"] if question is not None else []
    return (*said, *follow_ups.against_closing(state))


def _open_words(steps: tuple[Step, ...]) -> str:
    """Open steps by name; of many the first, and how many more."""
    few = steps if len(steps) <= _FEW else steps[:3]
    more = f" and {say_count(len(steps) - len(few))} more" if len(steps) > len(few) else ""
    return f"{say_count(len(steps))} {'step' if len(steps) == 1 else 'steps'} open: " + (
        f"{', '.join(title_of(step) for step in few)}{more}"
    )


_FEW = 8


def _lacking(state: State, steps: tuple[Step, ...]) -> dict[str, tuple[str, ...]]:
    """Groups that are not finally tight; while many steps are open only those that no open step will tighten."""
    coming = {part.group for step in steps for part in parts_of(step) if part.purpose == "final"}
    return {
        group: positions for group, positions in unfinished(state).items() if len(steps) <= _FEW or group not in coming
    }


def _may_outlast(state: State, name: str) -> bool:
    return any(step.step == name and step.wait is not None and step.wait.may_outlast for step in state.procedure.steps)
