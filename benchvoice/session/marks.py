"""Questions about marks: which are still to be read, and what each must read."""

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import every_place
from benchvoice.session.entries import Mark, Place
from benchvoice.session.plan import answers
from benchvoice.session.questions import plain
from benchvoice.session.state import State
from benchvoice.session.sub_builds import mark_brought
from benchvoice.speech.spelling import same_mark


def _good(state: State, step: Step) -> dict[Place, str]:
    """The marks that were read and are what is expected now: an answer may have changed since."""
    good: dict[Place, str] = {}
    for row in state.facts.of(Mark):
        if row.entry.step == step.step and row.entry.matches is not False:
            expected = expected_of(state, step, row.entry.place)[0]
            if expected is None or row.entry.expected is None or is_same(row.entry.value, expected):
                good[row.entry.place] = row.entry.value
    return good


def is_same(value: str, expected: str) -> bool:
    """Whether two marks are the same, however they were spelt."""
    return plain(value) == plain(expected) or same_mark(value, expected)


def todo_of(state: State, step: Step) -> tuple[Place, ...]:
    """Places whose mark is still to be read, in order."""
    assert step.mark is not None
    good = _good(state, step)
    return tuple(place for place in every_place(step.mark.places) if place not in good)


def expected_of(state: State, step: Step, place: Place) -> tuple[str | None, str]:
    """What the mark must read, and for what: (None, "") where it is only recorded."""
    assert step.mark is not None
    expected = step.mark.expected
    if expected is None:
        return None, ""
    if expected.text is not None:
        return expected.text, ""
    if expected.equal_to is not None:
        other = _good(state, state.step(expected.equal_to))
        value = other.get(place) or next(iter(other.values()), None)
        return value, f"the same as {state.step(expected.equal_to).mark.read}" if value else ""  # type: ignore[union-attr]
    if expected.brought_in is not None:
        mark = mark_brought(state, expected.brought_in, place)
        return (mark.value, "the build brought in") if mark is not None else (None, "")
    axes = tuple(step.mark.places)
    here = dict(zip(axes, place, strict=False))
    given = here.get(expected.by or "") or answers(state.facts).get(expected.by or "", "")
    return (expected.marks.get(given, expected.marks.get("other")), given) if given else (None, "")
