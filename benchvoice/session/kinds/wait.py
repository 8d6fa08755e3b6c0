"""Wait: open times (close the joint within) and cure times (leave it alone for at least)."""

from benchvoice.procedure.models import Step, Wait
from benchvoice.session.entries import WindowEnded, WindowStarted
from benchvoice.session.facts import Instant
from benchvoice.session.questions import listed, plain
from benchvoice.session.readings import taken
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.session.windows import ended_since_started, is_full, seconds, window_of
from benchvoice.speech.say import say_duration


def _wait(step: Step) -> Wait:
    assert step.wait is not None
    return step.wait


def _opening(_state: State, step: Step) -> tuple[str, ...]:
    wait = _wait(step)
    said = []
    if wait.have_ready:
        said.append(f"Have ready: {listed(wait.have_ready, 'and')}")
    if wait.open_time is not None:
        said.append(f"{wait.what} within {say_duration(seconds(wait.open_time))}")
    elif wait.cure_time is not None:
        said.append(f"{wait.what}: {say_duration(seconds(wait.cure_time))} at least")
    if wait.starts_at is not None:
        said.append(f'Say "{wait.starts_at}"')
    return tuple(said)


def _started(state: State, step: Step) -> bool:
    return any(row.entry.window == step.step for row in state.facts.of(WindowStarted))


def start_window(turn: Turn, step: Step) -> None:
    """Start the step's window now."""
    wait = _wait(step)
    size = wait.open_time or wait.cure_time
    assert size is not None
    read = taken(turn.state.facts, wait.bench_temperature or "")
    bench = read[-1].entry if read and read[-1].entry.value is not None else None
    turn.write(
        WindowStarted(
            window=step.step,
            sort="open time" if wait.open_time is not None else "cure time",
            seconds=seconds(size),
            what=wait.what,
            temperature=bench.value if bench is not None else None,
            temperature_unit=bench.unit if bench is not None else None,
        )
    )
    turn.say(say_duration(seconds(size)))


def _ask(turn: Turn, step: Step) -> bool:
    wait = _wait(step)
    if not _started(turn.state, step):
        if wait.starts_at is not None:
            return True
        start_window(turn, step)
    return not _may_close(turn.state, step, turn.now)


def _may_close(state: State, step: Step, now: Instant) -> bool:
    """Whether the step itself is over: an open time that another step closes, or a cure that outlasts it, runs on."""
    wait = _wait(step)
    if ended_since_started(state.facts, step.step) is not None:
        return True
    window = window_of(state.facts, step.step, now)
    if window is None:
        return False
    if window.is_open_time:
        return wait.closed_by is not None
    return bool(wait.before) or wait.may_outlast or is_full(state.facts, window)


def _take(turn: Turn, step: Step, text: str) -> bool:
    wait = _wait(step)
    if wait.starts_at is None:
        return False
    said = plain(text).removeprefix("the ").replace(" is ", " ")
    if said not in (plain(wait.starts_at), f"first {plain(wait.starts_at)}"):
        return False
    turn.understood("window starts")
    if window_of(turn.state.facts, step.step, turn.now) is not None:
        turn.say("It runs already")
        return True
    start_window(turn, step)
    return True


def _done(turn: Turn, step: Step) -> bool:
    """ "Done" closes the joint of an open time that no other step closes."""
    window = window_of(turn.state.facts, step.step, turn.now)
    if window is None:
        return False
    if window.is_open_time:
        turn.understood("done")
        turn.write(WindowEnded(window=step.step, outcome="closed in time", taken=window.passed.most))
        return True
    if is_full(turn.state.facts, window):
        return False
    turn.understood("done")
    turn.say(f"{say_duration(window.left)} to go")
    return True


def _owes(state: State, step: Step, now: Instant) -> tuple[str, ...]:
    wait = _wait(step)
    if not _started(state, step):
        return (f'"{wait.starts_at}"',) if wait.starts_at else ()
    window = window_of(state.facts, step.step, now)
    if window is None or _may_close(state, step, now):
        return ()
    return (f"{say_duration(max(window.left, type(window.left)(0)))} of {wait.what}",)


WAIT = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    phrases=lambda _state, step: (step.wait.starts_at,) if step.wait and step.wait.starts_at else (),
    done=_done,
)
