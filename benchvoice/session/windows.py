"""Windows: open time (at most so long) and cure time (at least so long), on every clock there is.

Time is pessimistic: an open time counts the most that can have passed, a cure the least.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.models import Step, Wait
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.windows import BadTime, Window, pace, warnings_at
from benchvoice.session.clocks import Passed, passed
from benchvoice.session.entries import Override, WindowDoubtful, WindowEnded, WindowStarted, WindowWarned
from benchvoice.session.facts import Facts, Instant, Row
from benchvoice.session.plan import answers, is_fitted
from benchvoice.session.state import State
from benchvoice.speech.say import say_duration

LAST_MINUTE = Decimal(60)


@dataclass(frozen=True, slots=True)
class Running:
    """A window that was started and not ended."""

    row: Row[WindowStarted]
    passed: Passed

    @property
    def name(self) -> str:
        """The window's name: its step's, or the group's and position's."""
        return self.row.entry.window

    @property
    def is_open_time(self) -> bool:
        """Whether it is an open time (at most); else a cure (at least)."""
        return self.row.entry.sort == "open time"

    @property
    def left(self) -> Decimal:
        """Seconds left, on the harmful side: of an open time the fewest, of a cure the most."""
        if self.is_open_time:
            return self.row.entry.seconds - (self.passed.wall if self.passed.most is None else self.passed.most)
        return self.row.entry.seconds - self.passed.least

    @property
    def doubtful(self) -> bool:
        """Whether the clocks can't say if it is over."""
        if self.is_open_time:
            return self.passed.most is None
        return not self.passed.sure and self.passed.least < self.row.entry.seconds <= self.passed.wall


def seconds(size: Quantity) -> Decimal:
    """A duration in seconds."""
    return to_decimal(convert(size.value, size.unit, "s"))


def running(facts: Facts, now: Instant) -> tuple[Running, ...]:
    """Windows that run, oldest first."""
    ended = {row.entry.window: row.n for row in facts.of(WindowEnded)}
    return tuple(
        Running(row, passed(facts, row.now, now))
        for row in facts.of(WindowStarted)
        if ended.get(row.entry.window, 0) < row.n
    )


def window_of(facts: Facts, name: str, now: Instant) -> Running | None:
    """The running window of that name."""
    return next((each for each in running(facts, now) if each.name == name), None)


def ended_since_started(facts: Facts, name: str) -> Row[WindowEnded] | None:
    """How the window of that name ended the last time it ran, when it has."""
    started = [row for row in facts.of(WindowStarted) if row.entry.window == name]
    ended = [row for row in facts.of(WindowEnded) if row.entry.window == name]
    return ended[-1] if started and ended and ended[-1].n > started[-1].n else None


def warnings_of(wait: Wait, start: WindowStarted) -> tuple[Decimal, ...]:
    """Seconds passed at which to warn: as declared, of an open time else at three quarters and the last minute.

    A warm bench brings them forward, by half for every ten degrees above 20 degC (common practice, no source); a cold
    one puts nothing off, and the end stays the label's.
    """
    total = start.seconds
    if wait.warn_at or wait.cure_time is not None:
        times = {seconds(each) for each in wait.warn_at}
    else:
        times = {total * 3 / 4, *([total - LAST_MINUTE] if total > 2 * LAST_MINUTE else [])}
    window = Window(closes=total, warnings=tuple(sorted(times)))
    return tuple(to_decimal(each, 0) for each in warnings_at(window, _hurry(start)))


def _hurry(start: WindowStarted) -> Fraction:
    """The factor on warnings by the temperature at the bench: 1 where none was read or no bench has it."""
    if start.temperature is None or start.temperature_unit is None:
        return Fraction(1)
    try:
        return pace(convert(start.temperature, start.temperature_unit, "degC"))
    except BadTime:
        return Fraction(1)


def warned(facts: Facts, window: Running) -> tuple[Decimal, ...]:
    """Seconds left at each warning already given on this run of the window."""
    return tuple(
        row.entry.left for row in facts.of(WindowWarned) if row.entry.window == window.name and row.n > window.row.n
    )


def doubt_said(facts: Facts, window: Running, now: Instant) -> bool:
    """Whether the doubt about this window was said in this process, or was vouched for by a person."""
    said = any(
        row.entry.window == window.name and row.n > window.row.n and row.now.boot == now.boot
        for row in facts.of(WindowDoubtful)
    )
    return said or vouched(facts, window)


def vouched(facts: Facts, window: Running) -> bool:
    """Whether a person vouched for the time that a cure has had."""
    return any(row.entry.what == f"cure {window.name}" and row.n > window.row.n for row in facts.of(Override))


def wait_step(state: State, window: str) -> Step | None:
    """The step that a window belongs to."""
    return next((step for step in state.procedure.steps if step.step == window and step.wait is not None), None)


def barring(state: State, step: Step, now: Instant) -> Running | None:
    """A cure that must be full before this step can begin, or the cooling that its readings wait for."""
    for window in running(state.facts, now):
        owner = wait_step(state, window.name)
        if window.is_open_time:
            continue
        held_back = owner.wait.before if owner is not None and owner.wait is not None else (window.name,)
        if step.step in held_back and not _full(state.facts, window):
            return window
    return None


def not_yet(state: State, step: Step, now: Instant) -> str:
    """What keeps a step from beginning, in words; empty where nothing does."""
    window = barring(state, step, now)
    return f"Not yet: {window.row.entry.what} has {say_duration(window.left)} to go" if window is not None else ""


def _full(facts: Facts, window: Running) -> bool:
    return window.left <= 0 or vouched(facts, window)


def is_full(facts: Facts, window: Running) -> bool:
    """Whether a cure has had its time, by the clocks or by a person's word."""
    return _full(facts, window)


def next_due(state: State, now: Instant) -> Decimal | None:
    """Seconds until some window wants a word; None when none will. Never less than a thousandth."""
    due: list[Decimal] = []
    known = answers(state.facts)
    for window in running(state.facts, now):
        owner = wait_step(state, window.name)
        if owner is not None and not is_fitted(owner, known):
            continue
        given = len(warned(state.facts, window))
        times = warnings_of(owner.wait, window.row.entry) if owner is not None and owner.wait is not None else ()
        elapsed = window.row.entry.seconds - window.left
        coming = [at - elapsed for at in times[given:]] + [window.left]
        due.extend(max(each, Decimal("0.001")) for each in coming if window.left > 0)
    return min(due) if due else None
