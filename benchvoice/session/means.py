"""The mean of the repeats at a place, in place of any one of them: a reading of its own that can be chosen to stand."""

from fractions import Fraction

from benchvoice.procedure.models import Step
from benchvoice.quantity.reading import mean_of
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.session.entries import Place, Reading, Stands
from benchvoice.session.facts import Facts, Row
from benchvoice.session.readings import at_place
from benchvoice.session.turn import Turn
from benchvoice.session.verdicts import verdict_on
from benchvoice.speech.say import say_number

THE_MEAN = "the mean"


def may_be_averaged(facts: Facts, step: Step, place: Place) -> bool:
    """Whether a mean is offered: two plain repeats or more, where doubt counts, so that repeats lessen it."""
    measure = step.measure
    if measure is None or measure.rule is None or not measure.rule.weighs:
        return False
    rows = at_place(facts, step.step, place)
    return len(rows) > 1 and _plain(rows)


def judges_mean(step: Step) -> bool:
    """Whether a step asks for repeats and judges their mean, none of them alone."""
    return step.measure is not None and step.measure.repeats > 1 and bool(step.measure.tables)


def mean_when_complete(turn: Turn, step: Step, place: Place) -> None:
    """Judge the mean of the repeats that a step asks for, as soon as the last of them, or one more, is in."""
    rows = at_place(turn.state.facts, step.step, place)
    if step.measure is not None and len(rows) >= step.measure.repeats and _plain(rows):
        let_mean_stand(turn, step, place, f"mean of {len(rows)} repeats")


def _plain(rows: tuple[Row[Reading], ...]) -> bool:
    """Whether readings can be averaged: values, no intervals, of one kind."""
    return all(row.entry.value is not None for row in rows) and len({kind_of(row.entry.unit) for row in rows}) == 1


def let_mean_stand(turn: Turn, step: Step, place: Place, because: str) -> None:
    """Write the mean of the repeats, that it stands, and what it is against the limits; echo what is in them."""
    n = turn.write(_mean(at_place(turn.state.facts, step.step, place)))
    turn.write(Stands(step=step.step, place=place, reading=n, reason=because))
    row = next(each for each in reversed(turn.state.facts.of(Reading)) if each.n == n)
    verdict = verdict_on(turn.state, step, row)
    if verdict is not None:
        turn.write(verdict)
    assert row.entry.value is not None
    words = say_number(row.entry.value, row.entry.unit in ("thou", "tenth"))
    in_limits = verdict is not None and verdict.outcome == "in limits"
    turn.say(f"The mean stands: {words}, in limits" if in_limits else "The mean stands")


def mean_reading(rows: tuple[Row[Reading], ...]) -> Reading | None:
    """The mean of readings, for one who asks; None where they can't be averaged."""
    return _mean(rows) if _plain(rows) else None


def _mean(rows: tuple[Row[Reading], ...]) -> Reading:
    """Said with one decimal more than its readings; judged by its exact value."""
    first = rows[0].entry
    sizes = [convert(row.entry.value or 0, row.entry.unit, first.unit) for row in rows]
    exact = to_decimal(sum(sizes, Fraction(0)) / len(sizes))
    same = {row.entry.unit for row in rows} == {first.unit}
    said = mean_of([row.entry.value for row in rows if row.entry.value is not None]) if same else exact
    return Reading(
        step=first.step,
        what=first.what,
        place=first.place,
        value=said,
        unit=first.unit,
        said="",
        low=exact,
        high=exact,
        instrument=first.instrument,
        counts_as="mean",
        from_entries=tuple(row.n for row in rows),
    )
