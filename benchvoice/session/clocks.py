"""How much time passed between two moments, and how sure that is.

Inside one process the monotonic clock decides. Across processes of one run of the machine, the time since it was
switched on does (it runs through sleep). Across a restart of the machine only the wall clock is left: it can have
been set, so the elapsed time is bounded from below by what the processes saw and from above by nothing better than
the wall clock; a wall clock that shows less than what was seen is wrong, and then there is no upper bound at all.
"""

from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal

from benchvoice.session.entries import Opened, Resumed
from benchvoice.session.facts import Facts, Instant, Row

SLACK = Decimal(2)
"""Seconds by which two honest clocks may differ."""


@dataclass(frozen=True, slots=True)
class Passed:
    """Elapsed seconds: at least, at most (None: nobody can say), and what the wall clock shows."""

    least: Decimal
    most: Decimal | None
    wall: Decimal

    @property
    def sure(self) -> bool:
        """Whether the two bounds are the same time."""
        return self.most is not None and self.most - self.least <= SLACK


def seconds_between(start: Instant, end: Instant) -> Decimal:
    """Wall-clock seconds from one moment to another, to the millisecond."""
    return Decimal(round((end.at - start.at).total_seconds() * 1000)) / 1000


def passed(facts: Facts, start: Instant, now: Instant) -> Passed:
    """The time from `start` (a moment in the log) to `now`."""
    wall = seconds_between(start, now)
    if start.boot == now.boot:
        exact = now.elapsed - start.elapsed
        return Passed(exact, exact, wall)
    since = _since_power_on(facts)
    if start.boot in since and now.boot in since and since[start.boot][0] == since[now.boot][0]:
        exact = (since[now.boot][1] + now.elapsed) - (since[start.boot][1] + start.elapsed)
        return Passed(exact, exact, wall)
    seen = _seen(facts, start, now)
    links = _links(facts, start, now)
    if wall + SLACK < seen or any(off < -SLACK for _, off in links):
        return Passed(seen, None, wall)
    longest = sum((on + max(off, Decimal(0)) for on, off in links), Decimal(0)) + (now.elapsed if links else 0)
    return Passed(seen, max(wall, seen, longest), wall)


def _links(facts: Facts, start: Instant, now: Instant) -> tuple[tuple[Decimal, Decimal], ...]:
    """From `start` on: what each process saw, and what the wall clock shows from its last word to the next beginning.

    A wall clock that was set while a process ran shows in neither; one that was set back between two, as less than
    nothing.
    """
    names = [boot.boot for boot in facts.boots if boot.boot != now.boot]
    if start.boot not in names:
        return ()
    boots = [boot for boot in facts.boots if boot.boot in names[names.index(start.boot) :]]
    newest = next((boot.first for boot in facts.boots if boot.boot == now.boot), now)
    begins = [_begin(boot.first) for boot in boots[1:]] + [_begin(newest)]
    on = [boot.last.elapsed - (start.elapsed if boot.boot == start.boot else 0) for boot in boots]
    off = [seconds_between(boot.last, begin) for boot, begin in zip(boots, begins, strict=True)]
    return tuple(zip(on, off, strict=True))


def _begin(first: Instant) -> Instant:
    """When the process of this moment began, by the wall clock that it saw first."""
    return Instant(first.at - timedelta(milliseconds=int(first.elapsed * 1000)), Decimal(0), first.boot)


def _since_power_on(facts: Facts) -> dict[str, tuple[str, Decimal]]:
    """For each process: which run of the machine, and the machine's uptime when the process's clock read zero."""
    known: dict[str, tuple[str, Decimal]] = {}
    rows: list[Row[Opened] | Row[Resumed]] = [*facts.all(Opened), *facts.all(Resumed)]
    for row in rows:
        if row.entry.power_on is not None and row.entry.uptime is not None:
            known[row.now.boot] = (row.entry.power_on, row.entry.uptime - row.now.elapsed)
    return known


def _seen(facts: Facts, start: Instant, now: Instant) -> Decimal:
    """Seconds between two moments that some process was awake for: what certainly passed."""
    names = [boot.boot for boot in facts.boots]
    if start.boot not in names:
        return Decimal(0)
    first = names.index(start.boot)
    total = facts.boots[first].last.elapsed - start.elapsed
    for boot in facts.boots[first + 1 :]:
        if boot.boot == now.boot:
            break
        total += boot.last.elapsed
    return total + now.elapsed
