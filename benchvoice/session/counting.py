"""Things counted: laid out before the work, put in for a while, taken out again."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import places_of
from benchvoice.session.entries import Counted
from benchvoice.session.facts import Facts
from benchvoice.session.plan import fitted_steps, trial_around
from benchvoice.session.readings import still_needed
from benchvoice.session.state import State

Way = Literal["laid out", "in", "out", "left in"]


@dataclass(frozen=True, slots=True)
class Count:
    """A count that a step asks for."""

    what: str
    expected: int
    way: Way
    fewer: int | None = None
    """What will do as well, where a trial assembly is made again for some of its readings alone: one for each."""

    @property
    def numbers(self) -> tuple[int, ...]:
        """What comes out, the fewest first."""
        return (self.expected,) if self.fewer is None else (self.fewer, self.expected)


def counts_of(step: Step) -> tuple[Count, ...]:
    """Every count that a step asks for."""
    return (
        *(Count(what, number, "laid out") for what, number in step.count.laid_out.items()),
        *(Count(what, number, "in") for what, number in step.count.put_in.items()),
        *(Count(what, number, "out") for what, number in step.count.taken_out.items()),
        *(Count(what, number, "left in") for what, number in step.count.left_in.items()),
    )


def counts_owed(state: State, step: Step) -> tuple[Count, ...]:
    """Counts of a step that were not said yet, or that did not come out."""
    rows = state.facts.of(Counted)
    said = {(row.entry.what, row.entry.way): row.entry.number for row in rows if row.entry.step == step.step}
    here = (_as_it_is(state, step, count) for count in counts_of(step))
    return tuple(count for count in here if said.get((count.what, count.way)) not in count.numbers)


def _as_it_is(state: State, step: Step, count: Count) -> Count:
    """A count by what was done: no more comes out than went in, and a trial for two readings takes two strips."""
    if count.way == "out":
        inside = _inside(_newest(state.facts, but=step.step)).get(count.what, 0)
        return replace(count, expected=min(count.expected, inside)) if inside else count
    if count.way == "in":
        places, needed = _read_in_trial(state, step)
        if places == count.expected and 0 < needed < places:
            return replace(count, fewer=needed)
    return count


def _read_in_trial(state: State, step: Step) -> tuple[int, int]:
    """At how many places something is read in the trial assembly that a step belongs to; at how many it still is."""
    trial = trial_around(state.procedure, step.step)
    measures = [each for each in fitted_steps(state) if each.step in trial and each.measure is not None]
    places = sum(len(places_of(each.measure)) for each in measures if each.measure is not None)
    return places, sum(len(still_needed(state.facts, each)) for each in measures)


def _newest(facts: Facts, but: str = "") -> tuple[Counted, ...]:
    """The last word of each step (but one) on each thing: what was said again takes the place of what was before."""
    counts = {(row.entry.step, row.entry.what, row.entry.way): row.entry for row in facts.of(Counted)}
    return tuple(entry for entry in counts.values() if entry.step != but)


def left_inside(state: State) -> dict[str, int]:
    """Things put in to stay, such as plugs in open ports, with how many."""
    return {entry.what: entry.number for entry in _newest(state.facts) if entry.way == "left in" and entry.number}


def still_in(state: State) -> dict[str, int]:
    """Things counted in and not out again, with how many."""
    inside = _inside(_newest(state.facts))
    expected_out = {count.what for step in fitted_steps(state) for count in counts_of(step) if count.way == "out"}
    return {what: number for what, number in inside.items() if number and what in expected_out}


def _inside(counts: Iterable[Counted]) -> dict[str, int]:
    """What went in less what came out, by thing."""
    inside: dict[str, int] = {}
    for entry in counts:
        if entry.way == "in":
            inside[entry.what] = inside.get(entry.what, 0) + entry.number
        elif entry.way == "out":
            inside[entry.what] = max(0, inside.get(entry.what, 0) - entry.number)
    return inside
