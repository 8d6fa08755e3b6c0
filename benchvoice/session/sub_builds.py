"""Questions about sub-builds: which were brought in, what comes along, what has changed since, and what rests on it."""

from collections.abc import Iterable, Iterator

from benchvoice.procedure.models import Procedure, Step
from benchvoice.session.entries import BroughtIn, BroughtInChanged, BroughtInDecision, BroughtMark, NotBroughtIn, Place
from benchvoice.session.facts import Facts, Row
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.plan import answers, is_fitted
from benchvoice.session.state import State

Brought = Row[BroughtIn]


def brought(facts: Facts) -> dict[str, Brought]:
    """The builds that are brought in now, by the step that each came in at."""
    return facts.worked_out(_brought)


def _brought(facts: Facts) -> dict[str, Brought]:
    without = {row.entry.step: row.n for row in facts.of(NotBroughtIn)}
    found = {row.entry.step: row for row in facts.of(BroughtIn) if row.entry.step}
    return {step: row for step, row in found.items() if row.n > without.get(step, 0)}


def is_settled(facts: Facts, step: Step) -> bool:
    """Whether it was said which build comes in at a step, or that none does."""
    return step.step in brought(facts) or any(row.entry.step == step.step for row in facts.of(NotBroughtIn))


def mark_brought(state: State, name: str, place: Place) -> BroughtMark | None:
    """The mark of that step in the build that brings it in: of the same place, else the first."""
    for step in state.procedure.steps:
        row = brought(state.facts).get(step.step)
        if step.brings_in is None or row is None or name not in step.brings_in.marks:
            continue
        marks = [mark for mark in row.entry.marks if mark.step == name]
        return next((mark for mark in marks if mark.place == place), marks[0] if marks else None)
    return None


def open_there(state: State) -> tuple[str, ...]:
    """What was open or owed in the builds that were brought in, in sentences."""
    rows = brought(state.facts).values()
    opened = tuple(f"{row.entry.what}: {item}" for row in rows for item in row.entry.open_items)
    return (*opened, *(f"{item}, owed" for item in owed_there(state)))


def owed_there(state: State) -> tuple[str, ...]:
    """What was owed in the builds that were brought in."""
    return tuple(f"{row.entry.what}: {item}" for row in brought(state.facts).values() for item in row.entry.owed)


# What has changed since ----------------------------------------------------------------------------------------------


def changed_items(old: BroughtIn, new: OtherBuild) -> tuple[tuple[str, ...], frozenset[str], frozenset[str]]:
    """What is otherwise in another build than when it was brought in: sentences, names of answers, names of marks."""
    choices = dict(_pairs(old.choices, new.choices))
    marks = dict(_pairs(_by_place(old.marks), _by_place(new.marks)))
    said = [
        *(f"{name.replace('_', ' ')} {_was(*pair)}" for name, pair in choices.items()),
        *(f"{_read(name, old.marks, new.marks)} {_was(*pair)}" for name, pair in marks.items()),
        *(f"{_value(name)} {_was(*pair)}" for name, pair in _pairs(old.computed, new.computed)),
        *(f"open now: {item}" for item in new.open_items if item not in old.open_items),
        *(f"no longer open: {item}" for item in old.open_items if item not in new.open_items),
        *(f"owed now: {item}" for item in new.owed if item not in old.owed),
        *(f"done: {item}" for item in old.owed if item not in new.owed),
    ]
    if old.closed != new.closed:
        said.insert(0, "closed now" if new.closed else "open again")
    return tuple(said), frozenset(choices), frozenset(name.partition(",")[0] for name in marks)


def _by_place(marks: Iterable[BroughtMark]) -> tuple[tuple[str, str], ...]:
    return tuple((", ".join((mark.step, *mark.place)), mark.value) for mark in marks)


def _read(name: str, *marks: tuple[BroughtMark, ...]) -> str:
    step, _, place = name.partition(", ")
    read = next(mark.read for each in marks for mark in each if mark.step == step)
    return f"{read} {place}".strip()


def _value(name: str) -> str:
    """A computed value as it is called: "widest", "mean, two"."""
    return name.partition(".")[2].replace("_", " ")


def _pairs(
    old: Iterable[tuple[str, str]], new: Iterable[tuple[str, str]]
) -> Iterator[tuple[str, tuple[str | None, str | None]]]:
    """What differs, by name: what it was and what it is now."""
    before, after = dict(old), dict(new)
    for name in dict.fromkeys((*before, *after)):
        if before.get(name) != after.get(name):
            yield name, (before.get(name), after.get(name))


def _was(old: str | None, new: str | None) -> str:
    if old is None:
        return f"{new}, and was not known"
    return f"{new}, and was {old}" if new is not None else f"was {old}, and doesn't count any more"


def resting(state: State, row: Brought, choices: frozenset[str], marks: frozenset[str]) -> tuple[str, ...]:
    """Steps of this build that rest on these answers and marks of one that was brought in, in order."""
    here = _step_named(state.procedure, row.entry.step)
    if here is None or here.brings_in is None:
        return ()
    names = choices & set(here.brings_in.choices)
    read = marks & set(here.brings_in.marks)
    return tuple(
        step.step
        for step in state.procedure.steps
        if names & set(_answers_used(step)) or (_mark_used(step) in read and _mark_used(step) is not None)
    )


def _step_named(procedure: Procedure, name: str) -> Step | None:
    return next((step for step in procedure.steps if step.step == name), None)


def marks_expected(procedure: Procedure) -> frozenset[str]:
    """Marks of builds brought in that steps here expect to read once more."""
    return frozenset(name for name in map(_mark_used, procedure.steps) if name is not None)


def _mark_used(step: Step) -> str | None:
    return step.mark.expected.brought_in if step.mark is not None and step.mark.expected is not None else None


def _answers_used(step: Step) -> Iterator[str]:
    """Names of the particulars, options and choices that a step goes by: whether it is fitted, what it is judged by."""
    yield from (*step.when, *step.unless)
    if step.mark is not None and step.mark.expected is not None and step.mark.expected.by is not None:
        yield step.mark.expected.by
    measure = step.measure
    if measure is None:
        return
    tables = (*measure.tables, *(each.limits for each in measure.computed.values()), measure.master)
    yield from (each.by for each in tables if each is not None and each.by is not None)


def newest_change(facts: Facts, row: Brought) -> Row[BroughtInChanged] | None:
    """What was last noted of a build that was brought in: that it is otherwise, or as it was again."""
    return next((each for each in reversed(facts.of(BroughtInChanged)) if each.entry.entry == row.n), None)


def as_last_noted(facts: Facts, row: Brought, now: OtherBuild) -> bool:
    """Whether another build is as the log of this one has it."""
    noted = newest_change(facts, row)
    if noted is None:
        return (now.head, now.trouble) == (row.entry.head, "")
    return (now.head, now.trouble) == (noted.entry.head, noted.entry.trouble)


def undecided_changes(facts: Facts) -> tuple[Row[BroughtInChanged], ...]:
    """Changes of builds that are brought in now, without a decision."""
    decided = {row.entry.entry for row in facts.of(BroughtInDecision)}
    found = []
    for row in brought(facts).values():
        change = newest_change(facts, row)
        if change is None or change.n in decided or (change.entry.head, change.entry.trouble) == (row.entry.head, ""):
            continue
        found.append(change)
    return tuple(found)


def answers_here(state: State, step: Step) -> dict[str, tuple[str, ...]]:
    """The answers that this procedure has to each of the choices that a step takes from another build."""
    procedure, found = state.procedure, {}
    for name in step.brings_in.choices if step.brings_in is not None else ():
        if name in procedure.particulars:
            found[name] = procedure.particulars[name].choices
        elif name in procedure.options:
            found[name] = ("yes", "no")
        else:
            bands = (each.choose.bands for each in procedure.steps if each.choose and each.choose.name == name)
            found[name] = tuple(next(bands, ()))
    return found


def fitted(state: State, names: Iterable[str]) -> tuple[Step, ...]:
    """The steps of these names that belong to this machine now."""
    known, wanted = answers(state.facts), set(names)
    return tuple(step for step in state.procedure.steps if step.step in wanted and is_fitted(step, known))
