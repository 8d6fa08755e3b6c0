"""What is loose, open, running or owed: for resuming, for stopping for the day, and for closing the build."""

from benchvoice.session.counting import still_in
from benchvoice.session.entries import Finding, Owed, Remembered
from benchvoice.session.facts import Instant
from benchvoice.session.fasteners import is_done, only_trial, order_numbers, still_open, tasks_of, unfinished
from benchvoice.session.moves import bans_on, open_left
from benchvoice.session.plan import current_step, number_of, open_steps, title_of
from benchvoice.session.questions import listed
from benchvoice.session.readings import undecided
from benchvoice.session.state import State
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
            return listed((say_count(numbers[name]) for name in positions), "and")
    return listed(positions, "and")


def left_for_later(state: State) -> tuple[str, ...]:
    """What was left for later and is still open, in sentences."""
    said = []
    measured = {step.step for step in state.procedure.steps if step.measure is not None}
    for row in open_left(state):
        entry = row.entry
        which = f" {positions_spoken(state, entry.step, entry.positions)}" if entry.positions else ""
        if entry.step in measured:
            which = ""
        said.append(f"{entry.what}{which if which.strip() != 'whole' else ''}, left for later")
    return tuple(said)


def loose(state: State) -> tuple[str, ...]:
    """Fasteners that are begun and not finished, and those only tight for a trial."""
    said = []
    step = current_step(state)
    if step is not None:
        for task in tasks_of(state, step):
            done = is_done(state.facts, task)
            if done and still_open(state.facts, task):
                done_of = f"{say_count(len(done))} of {say_count(len(task.positions))}"
                said.append(f"{task.group.what}, stage {say_count(task.number)}: {done_of} done")
    said += [f"{state.procedure.groups[name].what}: only trial tight" for name in only_trial(state)]
    return tuple(said)


def bans(state: State) -> tuple[str, ...]:
    """Bans in force, in sentences."""
    return tuple(f"No {row.entry.what}" for row in bans_on(state))


def where(state: State) -> str:
    """Which step of how many."""
    step = current_step(state)
    if step is None:
        return "No step is open"
    at, of = number_of(state, step)
    return f"Step {say_count(at)} of {say_count(of)}, {title_of(step)}"


def inside(state: State) -> tuple[str, ...]:
    """Things counted in and not out."""
    return tuple(f"{what}: {say_count(number)} still in" for what, number in still_in(state).items())


def owed(state: State) -> tuple[str, ...]:
    """Work owed after hand-over."""
    return tuple(row.entry.what for row in state.facts.of(Owed))


def for_next_time(state: State) -> tuple[str, ...]:
    """Notes said for next time that no resume has repeated yet."""
    return tuple(row.entry.text for row in state.facts.of(Remembered) if row.entry.next_time)


def against_closing(state: State, now: Instant) -> tuple[str, ...]:
    """Everything that the build can't be closed over, in sentences."""
    steps = open_steps(state)
    said = []
    if steps:
        more = f" and {say_count(len(steps) - 3)} more" if len(steps) > 3 else ""
        said.append(f"{say_count(len(steps))} open: {', '.join(title_of(step) for step in steps[:3])}{more}")
    said += left_for_later(state)
    for group, positions in unfinished(state).items():
        numbers = order_numbers(state.procedure, group)
        names = listed((say_count(numbers[name]) for name in positions), "and")
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
    missing = [row for row in state.facts.of(Finding) if row.entry.what == "part missing"]
    said += [f"Part missing: {row.entry.text}" for row in missing]
    return tuple(said)


def _may_outlast(state: State, name: str) -> bool:
    return any(step.step == name and step.wait is not None and step.wait.may_outlast for step in state.procedure.steps)
