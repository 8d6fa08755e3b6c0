"""Things counted: laid out before the work, put in for a while, taken out again."""

from dataclasses import dataclass
from typing import Literal

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Counted
from benchvoice.session.facts import Facts
from benchvoice.session.plan import fitted_steps
from benchvoice.session.state import State

Way = Literal["laid out", "in", "out", "left in"]


@dataclass(frozen=True, slots=True)
class Count:
    """A count that a step asks for."""

    what: str
    expected: int
    way: Way


def counts_of(step: Step) -> tuple[Count, ...]:
    """Every count that a step asks for."""
    return (
        *(Count(what, number, "laid out") for what, number in step.count.laid_out.items()),
        *(Count(what, number, "in") for what, number in step.count.put_in.items()),
        *(Count(what, number, "out") for what, number in step.count.taken_out.items()),
        *(Count(what, number, "left in") for what, number in step.count.left_in.items()),
    )


def counts_owed(facts: Facts, step: Step) -> tuple[Count, ...]:
    """Counts of a step that were not said yet, or that did not come out."""
    said = {
        (row.entry.what, row.entry.way): row.entry.number for row in facts.of(Counted) if row.entry.step == step.step
    }
    return tuple(count for count in counts_of(step) if said.get((count.what, count.way)) != count.expected)


def _newest(facts: Facts) -> tuple[Counted, ...]:
    """The last word of each step on each thing: a count that was said again takes the place of the one before."""
    counts = {(row.entry.step, row.entry.what, row.entry.way): row.entry for row in facts.of(Counted)}
    return tuple(counts.values())


def left_inside(state: State) -> dict[str, int]:
    """Things put in to stay, such as plugs in open ports, with how many."""
    return {entry.what: entry.number for entry in _newest(state.facts) if entry.way == "left in" and entry.number}


def still_in(state: State) -> dict[str, int]:
    """Things counted in and not out again, with how many."""
    inside: dict[str, int] = {}
    for entry in _newest(state.facts):
        if entry.way == "in":
            inside[entry.what] = inside.get(entry.what, 0) + entry.number
        elif entry.way == "out":
            inside[entry.what] = max(0, inside.get(entry.what, 0) - entry.number)
    expected_out = {count.what for step in fitted_steps(state) for count in counts_of(step) if count.way == "out"}
    return {what: number for what, number in inside.items() if number and what in expected_out}
