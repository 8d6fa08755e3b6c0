"""Which steps there are for this machine, which are closed, and which may come next."""

from collections.abc import Mapping

from benchvoice.procedure.models import Condition, Procedure, Step
from benchvoice.session.entries import Answered, FollowUp, StepClosed, StepEntered
from benchvoice.session.facts import Facts, Row
from benchvoice.session.state import State


def answers(facts: Facts) -> dict[str, str]:
    """What was answered, newest last, by the name of the particular, option or choice."""
    return {row.entry.question: row.entry.answer for row in facts.of(Answered)}


def answered(
    procedure: Procedure, question: str, answer: str, step: str | None, brought_in: int | None = None
) -> Answered:
    """The entry of an answer, with the actual size that it names where the procedure declares one."""
    particular = procedure.particulars.get(question)
    size = particular.sizes.get(answer) if particular is not None else None
    return Answered(
        question=question,
        answer=answer,
        step=step,
        actual=size.value if size is not None else None,
        actual_unit=size.unit if size is not None else None,
        brought_in=brought_in,
    )


def _holds(condition: Condition, known: Mapping[str, str]) -> bool:
    return all(known.get(name) in values for name, values in condition.items())


def is_fitted(step: Step, known: Mapping[str, str]) -> bool:
    """Whether the step belongs to this machine, by the answers known so far."""
    return _holds(step.when, known) and not (step.unless and _holds(step.unless, known))


def fitted_steps(state: State) -> tuple[Step, ...]:
    """The steps of this machine, in the order of the document."""
    known, later = answers(state.facts), not_taken_up(state)
    return tuple(step for step in state.procedure.steps if step.step not in later and is_fitted(step, known))


def follow_up_steps(procedure: Procedure) -> dict[str, tuple[str, int]]:
    """The steps that do work owed after hand-over, none of the first build; and by what each is owed."""
    return {
        name: (step.step, at) for step in procedure.steps for at, owed in enumerate(step.owed) for name in owed.steps
    }


def not_taken_up(state: State) -> frozenset[str]:
    """Follow-up steps whose work was not taken up yet."""
    later = frozenset(follow_up_steps(state.procedure))
    if not later:
        return later
    return later.difference(*(row.entry.steps for row in state.facts.of(FollowUp)))


def closed_steps(facts: Facts) -> dict[str, Row[StepClosed]]:
    """Steps that are closed, with the row that closed them."""
    return facts.worked_out(_closed)


def _closed(facts: Facts) -> dict[str, Row[StepClosed]]:
    return {row.entry.step: row for row in facts.of(StepClosed)}


def current_step(state: State) -> Step | None:
    """The step that was entered last, while it is open. Once it is closed the next is to be found."""
    row = state.facts.last(StepEntered)
    if row is None or row.entry.step in closed_steps(state.facts):
        return None
    return next((step for step in state.procedure.steps if step.step == row.entry.step), None)


def waits_for(procedure: Procedure, step: Step) -> tuple[str, ...]:
    """Names of the steps that must be closed before this one: `after`, or the step before."""
    if step.after:
        return step.after
    names = [each.step for each in procedure.steps]
    at = names.index(step.step)
    return (names[at - 1],) if at else ()


def resting_on(procedure: Procedure, name: str) -> set[str]:
    """A step and every step that waits for it, by any number of others: what comes apart when it is done again."""
    found = {name}
    more = True
    while more:
        added = {step.step for step in procedure.steps if found.intersection(waits_for(procedure, step))}
        more = not added <= found
        found |= added
    return found


def is_ready(state: State, step: Step) -> bool:
    """Whether every step that this one waits for is closed, or not part of this machine."""
    closed = closed_steps(state.facts)
    fitted = {each.step for each in fitted_steps(state)}
    seen: set[str] = set()
    waiting = list(waits_for(state.procedure, step))
    while waiting:
        name = waiting.pop()
        if name in seen or name in closed:
            continue
        seen.add(name)
        if name in fitted:
            return False
        waiting.extend(waits_for(state.procedure, state.step(name)))
    return True


def open_steps(state: State) -> tuple[Step, ...]:
    """Fitted steps that are not closed, in order."""
    closed = closed_steps(state.facts)
    return tuple(step for step in fitted_steps(state) if step.step not in closed)


def next_step(state: State, *, other_than: str | None = None) -> Step | None:
    """The first open step whose turn it may be."""
    return next(
        (step for step in open_steps(state) if step.step != other_than and is_ready(state, step)),
        None,
    )


def title_of(step: Step) -> str:
    """What a step is called when it is spoken of."""
    return step.title or step.step.replace("_", " ")


def position_in(procedure: Procedure, name: str) -> int:
    """Where a step stands in the document, from 0."""
    return next(at for at, step in enumerate(procedure.steps) if step.step == name)


def number_of(state: State, step: Step) -> tuple[int, int]:
    """Which step of how many, for this machine, from 1."""
    names = [each.step for each in fitted_steps(state)]
    return names.index(step.step) + 1, len(names)


def trial_around(procedure: Procedure, name: str) -> tuple[str, ...]:
    """The steps of the trial assembly that a step belongs to, from its start to its end; none outside a trial."""
    steps: list[str] = []
    inside = False
    for step in procedure.steps:
        if step.trial == "starts":
            steps, inside = [], True
        if inside:
            steps.append(step.step)
        if step.trial == "ends":
            if name in steps:
                return tuple(steps)
            inside = False
    return ()
