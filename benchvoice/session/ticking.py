"""What time brings: warnings before a window ends, its end, and doubt about it after a restart."""

from decimal import Decimal

from benchvoice.session import half_said, windows
from benchvoice.session.entries import Override, WindowDoubtful, WindowEnded, WindowWarned
from benchvoice.session.facts import Instant
from benchvoice.session.moves import go_back
from benchvoice.session.plan import closed_steps, current_step
from benchvoice.session.questions import is_yes_or_no, yes_or_no
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.session.windows import Running, doubt_said, running, vouched, wait_step, warned, warnings_of
from benchvoice.speech.say import say_duration

_PROMPT = Decimal(1)
"""A window's word that comes less than this many seconds late, as it does by any real clock, is said as it was due."""


def tick(turn: Turn) -> bool:
    """Say what the windows want said now, and give up half a number that nothing followed.

    True when the work must go on elsewhere because of it. What waits for a yes is asked again after a warning.
    """
    question = turn.state.talk.question
    moved = pass_time(turn)
    if not turn.speaks:
        moved |= half_said.give_up(turn)
    elif not turn.state.held and question is turn.state.talk.question and is_yes_or_no(question):
        turn.ask(question)
    return moved


def next_due(state: State, now: Instant) -> Decimal | None:
    """Seconds until a tick has something to say; None when none will. Never less than a thousandth."""
    due = (windows.next_due(state, now), half_said.left(state, now))
    return min((max(each, Decimal("0.001")) for each in due if each is not None), default=None)


def pass_time(turn: Turn) -> bool:
    """Say what the windows want said now; True when the work must go on elsewhere because of it."""
    moved = False
    for window in running(turn.state.facts, turn.now):
        if window.doubtful:
            moved |= _doubt(turn, window)
        elif window.left <= 0:
            moved |= _end(turn, window)
        else:
            _warn(turn, window)
    if turn.speaks:
        half_said.wait_anew(turn)
    return moved


def _warn(turn: Turn, window: Running) -> None:
    owner = wait_step(turn.state, window.name)
    if owner is None or owner.wait is None:
        return
    elapsed = window.row.entry.seconds - window.left
    times = [at for at in warnings_of(owner.wait, window.row.entry) if elapsed >= at]
    due = len(times)
    if due <= len(warned(turn.state.facts, window)):
        return
    while len(warned(turn.state.facts, window)) < due:
        turn.write(WindowWarned(window=window.name, left=window.left))
    late = elapsed - times[-1]
    left = window.left + late if late < _PROMPT else window.left
    turn.say(f"{say_duration(left)} on the {_short(turn.state, window)}", tone="window")


def _short(state: State, window: Running) -> str:
    """What the window is on: the bead, from "bead on"; else what is to be done."""
    owner = wait_step(state, window.name)
    starts = owner.wait.starts_at if owner is not None and owner.wait is not None else None
    if starts and starts.endswith(" on"):
        return starts.removesuffix(" on").removeprefix("first ")
    return window.row.entry.what


def _end(turn: Turn, window: Running) -> bool:
    taken = window.passed.most if window.is_open_time else window.passed.least
    if not window.is_open_time:
        turn.write(WindowEnded(window=window.name, outcome="full time", taken=taken))
        turn.say(f"{window.row.entry.what}: time is full", tone="window")
        return turn.state.talk.question is None
    turn.write(WindowEnded(window=window.name, outcome="ran out", taken=taken))
    turn.say(f"Time is up on the {_short(turn.state, window)}. Clean it off and do it again", tone="window")
    return do_again(turn, window, "open time ran out")


def do_again(turn: Turn, window: Running, why: str) -> bool:
    """Go back to the step that started an open time: what was done since doesn't count any more."""
    owner = wait_step(turn.state, window.name)
    if owner is None:
        return False
    current = current_step(turn.state)
    last = current if current is not None else owner
    names = [step.step for step in turn.state.procedure.steps]
    if names.index(last.step) < names.index(owner.step):
        closed = closed_steps(turn.state.facts)
        last = next((step for step in reversed(turn.state.procedure.steps) if step.step in closed), owner)
    go_back(turn, owner, last, why)
    turn.talk(question=None, half=None)
    return True


def ask_about_cures(turn: Turn) -> bool:
    """Ask a person to vouch for a cure across a restart of the machine, once a process; False where there is none."""
    for window in running(turn.state.facts, turn.now):
        if not window.doubtful or window.is_open_time or vouched(turn.state.facts, window):
            continue
        if window.name not in turn.state.talk.asked_to_vouch:
            turn.talk(asked_to_vouch=turn.state.talk.asked_to_vouch | {window.name})
            _ask_to_vouch(turn, window)
            return True
    return False


def _note_doubt(turn: Turn, window: Running) -> None:
    turn.write(
        WindowDoubtful(
            window=window.name,
            least=window.passed.least,
            most=window.passed.most if window.passed.most is not None else window.passed.wall,
            reason="the clocks disagree" if window.passed.most is None else "the machine was restarted",
        )
    )


def _doubt(turn: Turn, window: Running) -> bool:
    if doubt_said(turn.state.facts, window, turn.now):
        return False
    _note_doubt(turn, window)
    if not window.is_open_time:
        return turn.state.talk.question is None  # asked where the work goes on
    turn.write(WindowEnded(window=window.name, outcome="ran out", taken=None))
    turn.say(f"I can't say how long the {_short(turn.state, window)} has been on. Clean it off", tone="window")
    return do_again(turn, window, "nobody can say how long")


def _ask_to_vouch(turn: Turn, window: Running) -> None:
    """A cure across a restart of the machine: only a person can vouch for the wall clock."""

    def yes(inner: Turn) -> None:
        inner.write(Override(what=f"cure {window.name}", reason=f"{inner.state.facts.person} vouches for the clock"))
        inner.write(WindowEnded(window=window.name, outcome="full time", taken=window.passed.wall))

    def no(inner: Turn) -> None:
        inner.say(f"Then it has had {say_duration(max(window.passed.least, Decimal(0)))}")

    prompt = (
        f"{window.row.entry.what}: by the clock {say_duration(window.passed.wall)}, and I was off. "
        "Do you vouch for that? Yes or no?"
    )
    turn.ask(yes_or_no("vouch", prompt, yes, no))
