"""Questions about readings: which places there are, which reading stands at each, and what it is against its limits."""

from dataclasses import dataclass
from decimal import Decimal

from benchvoice.procedure.models import Limits, Step
from benchvoice.procedure.places import places_of
from benchvoice.session.entries import (
    Decision,
    LeftForLater,
    Place,
    Reading,
    Remeasured,
    Stands,
    Verdict,
    WarmthSaid,
)
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import answers
from benchvoice.session.state import State

WHOLE = "whole"
"""How a place is called when the step has none: the one reading it asks for."""


@dataclass(frozen=True, slots=True)
class Bandwidth:
    """The limits in force at a place: which ones, least and greatest, in the unit of the step."""

    name: str
    low: Decimal | None
    high: Decimal | None
    nominal: Decimal | None = None
    """The nominal size or value; of a fit it may lie outside the limits."""
    worn: tuple[Decimal | None, Decimal | None] | None = None
    """The wear limits beside new ones."""


def taken(facts: Facts, step: str, what: str | None = None) -> tuple[Row[Reading], ...]:
    """Readings of a step that count, without zero checks and computed values."""
    rows = facts.worked_out(_by_step).get(step, ())
    return tuple(row for row in rows if what is None or row.entry.what == what)


def _by_step(facts: Facts) -> dict[str, list[Row[Reading]]]:
    found: dict[str, list[Row[Reading]]] = {}
    for row in facts.of(Reading):
        if row.entry.counts_as not in ("computed", "zero check", "mean"):
            found.setdefault(row.entry.step, []).append(row)
    return found


def _by_place(facts: Facts) -> dict[tuple[str, Place], tuple[Row[Reading], ...]]:
    found: dict[tuple[str, Place], tuple[Row[Reading], ...]] = {}
    for step, rows in facts.worked_out(_by_step).items():
        for row in rows:
            key = (step, row.entry.place)
            found[key] = (*found.get(key, ()), row)
    return found


def at_place(facts: Facts, step: str, place: Place) -> tuple[Row[Reading], ...]:
    """Readings at a place that count, oldest first."""
    return facts.worked_out(_by_place).get((step, place), ())


def standing(facts: Facts, step: Step, place: Place) -> Row[Reading] | None:
    """The reading that stands at a place: the only one, or the one that was chosen; None while that is open."""
    rows = at_place(facts, step.step, place)
    if len(rows) <= 1 or (step.measure is not None and step.measure.repeats > 1):
        return rows[-1] if rows else None
    chosen = [row for row in facts.of(Stands) if row.entry.step == step.step and row.entry.place == place]
    if chosen and chosen[-1].n > rows[-1].n:
        both = (*rows, *means_at(facts, step.step, place))
        return next((row for row in both if row.n == chosen[-1].entry.reading), None)
    return None


def means_at(facts: Facts, step: str, place: Place) -> tuple[Row[Reading], ...]:
    """Means of repeats at a place that count, and so does every reading they are of."""
    return tuple(
        row
        for row in facts.of(Reading)
        if row.entry.counts_as == "mean"
        and (row.entry.step, row.entry.place) == (step, place)
        and not facts.void.intersection(row.entry.from_entries)
    )


def is_stale(facts: Facts, n: int) -> bool:
    """Whether a reading is void, or is a mean of readings of which one is: it stands for nothing any more."""
    if n in facts.void:
        return True
    return any(
        row.n == n and row.entry.counts_as == "mean" and facts.void.intersection(row.entry.from_entries)
        for row in facts.all(Reading)
    )


def was_remeasured(facts: Facts, step: str, place: Place) -> bool:
    """Whether what was read at a place was made void because the part had changed."""
    gone = {n for row in facts.of(Remeasured) if row.entry.step == step for n in row.entry.entries}
    return any(row.n in gone and row.entry.place == place for row in facts.all(Reading))


def standing_at(facts: Facts, step: Step, place: Place) -> tuple[Row[Reading], ...]:
    """The reading that stands at a place, or every repeat of a step that asks for repeats."""
    if step.measure is not None and step.measure.repeats > 1:
        return at_place(facts, step.step, place)
    row = standing(facts, step, place)
    return (row,) if row is not None else ()


def all_standing(facts: Facts, step: Step) -> tuple[Row[Reading], ...]:
    """The readings that stand, by place; every repeat of a step that asks for repeats."""
    if step.measure is None:
        return taken(facts, step.step)
    if step.measure.repeats > 1:
        return taken(facts, step.step)
    rows = (standing(facts, step, place) for place in places_of(step.measure))
    return tuple(row for row in rows if row is not None)


def left_places(facts: Facts, step: str) -> frozenset[Place]:
    """Places of a step that were left for later, as one spoken place each."""
    return frozenset(
        tuple(position.split(", ")) if position != WHOLE else ()
        for row in facts.of(LeftForLater)
        if row.entry.step == step
        for position in row.entry.positions
    )


def place_key(place: Place) -> str:
    """A place as one text, for entries that name several."""
    return ", ".join(place) or WHOLE


def still_needed(facts: Facts, step: Step) -> tuple[Place, ...]:
    """Places that still want a reading, in the order they are asked."""
    assert step.measure is not None
    left = left_places(facts, step.step)
    return tuple(
        place
        for place in places_of(step.measure)
        if place not in left and len(at_place(facts, step.step, place)) < step.measure.repeats
    )


def to_choose(facts: Facts, step: Step) -> tuple[Place, ...]:
    """Places with several readings of which none was chosen."""
    assert step.measure is not None
    if step.measure.repeats > 1:
        return ()
    return tuple(
        place
        for place in places_of(step.measure)
        if len(at_place(facts, step.step, place)) > 1 and standing(facts, step, place) is None
    )


def to_decide(facts: Facts, step: Step) -> tuple[Row[Verdict], ...]:
    """Verdicts of the step that are not in limits and stand without a decision, and were not left for later."""
    left = left_places(facts, step.step)
    return tuple(row for row in undecided(facts) if row.entry.step == step.step and row.entry.place not in left)


def undecided(facts: Facts) -> tuple[Row[Verdict], ...]:
    """Every verdict that is not in limits, whose reading counts and stands, without a decision on it."""
    decided = {row.entry.reading for row in facts.of(Decision)}
    newest = verdicts(facts)
    passed_over = _passed_over(facts)
    return tuple(
        row
        for row in newest.values()
        if row.entry.outcome != "in limits"
        and row.entry.reading not in decided
        and row.entry.reading not in facts.void
        and row.entry.reading not in passed_over
    )


def _passed_over(facts: Facts) -> set[int]:
    """Readings kept beside another one that was chosen to stand."""
    out: set[int] = set()
    for choice in facts.of(Stands):
        out.update(
            row.n
            for row in at_place(facts, choice.entry.step, choice.entry.place)
            if row.n != choice.entry.reading and row.n < choice.n
        )
    chosen = {row.entry.reading: row.n for row in facts.of(Stands)}
    newest = {(row.entry.step, row.entry.place): row.n for row in facts.of(Stands)}
    for row in facts.of(Reading):
        if row.entry.counts_as == "mean":
            stale = chosen.get(row.n) != newest.get((row.entry.step, row.entry.place))
            if stale or facts.void.intersection(row.entry.from_entries):
                out.add(row.n)
    return out


def verdicts(facts: Facts) -> dict[int, Row[Verdict]]:
    """The newest verdict on each reading, by the reading's line."""
    return {row.entry.reading: row for row in facts.of(Verdict)}


def state_said(facts: Facts, step: str) -> Row[WarmthSaid] | None:
    """Whether it is cold or hot for the readings of a step; None where that was not said."""
    rows = [row for row in facts.of(WarmthSaid) if row.entry.step == step]
    return rows[-1] if rows else None


def limits_in_force(state: State, step: Step) -> Limits | None:
    """The table of limits that a step's readings are judged by: where cold and hot have one each, that of the state
    that was said, and none before."""
    measure = step.measure
    if measure is None or measure.warmth is None or not measure.warmth.tables:
        return measure.limits if measure is not None else None
    said = state_said(state.facts, step.step)
    return measure.warmth.tables[said.entry.state] if said is not None else None


def bounds_at(state: State, limits: Limits | None, axes: tuple[str, ...], place: Place) -> Bandwidth | None:
    """The limits in force at a place; None where there are none, or where what chooses them is not known yet."""
    if limits is None:
        return None
    if limits.by is None:
        name = "new" if "new" in limits.bands else "worn"
    elif limits.by in axes:
        name = place[axes.index(limits.by)]
    else:
        name = answers(state.facts).get(limits.by, "")
    band = limits.bands.get(name, limits.bands.get("other"))
    if band is None:
        return None
    worn = limits.worn.get(name) if limits.by is not None else limits.bands.get("worn")
    return Bandwidth(name, *band, limits.nominal, None if worn == band else worn)
