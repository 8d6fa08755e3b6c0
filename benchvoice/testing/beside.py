"""Builds beside one on a bench, in memory: what the edge would see of them, whole, lost or damaged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchvoice.app.sub_builds import goes_on, other_build
from benchvoice.log import Line, Stamped
from benchvoice.log.line import FIRST_PREV, digest, encode
from benchvoice.session.effects import LookAtBuilds
from benchvoice.session.entries import BroughtIn
from benchvoice.session.entries_brought import Trouble
from benchvoice.session.events import BuildsSeen
from benchvoice.session.facts import Facts, Instant, Row
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.state import State
from benchvoice.session.sub_builds import brought

if TYPE_CHECKING:
    from benchvoice.testing.bench import Bench


def lines_of(facts: Facts) -> tuple[Line, ...]:
    """The lines of the log that these facts are a fold of."""
    lines: list[Line] = []
    head = FIRST_PREV
    for row in facts.rows():
        stamped = Stamped(at=row.now.at, elapsed=row.now.elapsed, boot=row.now.boot, by=row.by, entry=row.entry)
        raw = encode(stamped, row.n, head)
        lines.append(Line(row.n, stamped, head, raw))
        head = digest(raw)
    return tuple(lines)


class Beside:
    """Other benches by the names of their folders. A test loses, damages and finds them again."""

    def __init__(self) -> None:
        self.benches: dict[str, Bench] = {}
        self.trouble: dict[str, Trouble] = {}

    def seen(self, wanted: LookAtBuilds, state: State, now: Instant) -> BuildsSeen:
        """The event that answers a look at builds."""
        if wanted.step is None:
            return BuildsSeen(now=now, step=None, builds=self.again(state, now))
        fit = [name for name, bench in self.benches.items() if wanted.title in (None, bench.procedure.title)]
        builds = tuple(self._one(name, now) for name in fit if self.trouble.get(name) != "missing")
        return BuildsSeen(now=now, step=wanted.step, builds=builds)

    def again(self, state: State, now: Instant) -> tuple[OtherBuild, ...]:
        """Every build that is brought in, as it is now."""
        return tuple(self._one(row.entry.build, now, row) for row in brought(state.facts).values())

    def _one(self, name: str, now: Instant, row: Row[BroughtIn] | None = None) -> OtherBuild:
        entry, what = (row.n, row.entry.what) if row is not None else (None, name)
        trouble = self.trouble.get(name, "")
        if trouble or name not in self.benches:
            fault = f"the record of {what} is damaged: line 7" if trouble == "damaged" else f"{what} can't be found"
            return OtherBuild(name=name, folder=name, entry=entry, trouble=trouble or "missing", fault=fault)
        bench = self.benches[name]
        lines = lines_of(bench.state.facts)
        if row is not None and not goes_on(lines, row.entry):
            fault = f"{what} is not the build that was brought in"
            return OtherBuild(name=name, folder=name, entry=entry, trouble="another log", fault=fault)
        return other_build(lines, bench.procedure, now, name, name, entry)
