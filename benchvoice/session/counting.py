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


def still_in(state: State) -> dict[str, int]:
    """Things counted in and not out again, with how many."""
    inside: dict[str, int] = {}
    for row in state.facts.of(Counted):
        if row.entry.way == "in":
            inside[row.entry.what] = inside.get(row.entry.what, 0) + row.entry.number
        elif row.entry.way == "out":
            inside[row.entry.what] = max(0, inside.get(row.entry.what, 0) - row.entry.number)
    expected_out = {count.what for step in fitted_steps(state) for count in counts_of(step) if count.way == "out"}
    return {what: number for what, number in inside.items() if number and what in expected_out}
