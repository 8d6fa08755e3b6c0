"""What a reading is against its limits, by the decision rule that the procedure asks for."""

from decimal import ROUND_FLOOR, Decimal

from benchvoice.procedure.limits import NEW
from benchvoice.procedure.models import Band, Computed, DecisionRule, Limits, Step
from benchvoice.quantity.budget import Expanded, expanded, rounded_up, span
from benchvoice.quantity.limits import Limits as Bounds
from benchvoice.quantity.verdict import SIMPLE, judge, probability
from benchvoice.quantity.verdict import Verdict as Found
from benchvoice.session.doubt import effects_on
from benchvoice.session.entries import Reading, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.readings import bounds_at, limits_in_force, state_said
from benchvoice.session.state import State

_FOUR = Decimal("0.0001")


def verdict_on(state: State, step: Step, row: Row[Reading], computed: Computed | None = None) -> Verdict | None:
    """What a reading (or a computed value) is against the limits in force; None where none are declared."""
    assert step.measure is not None
    axes = computed.per if computed else tuple(step.measure.places)
    limits = computed.limits if computed else limits_in_force(state, step)
    rule = computed.rule if computed else step.measure.rule
    unit = (computed.unit if computed else None) or step.measure.unit
    band = bounds_at(state, limits, axes, row.entry.place)
    if band is None:
        return None
    doubt = _doubt(state, row) if rule is not None and rule.weighs else None
    within = Bounds(low=band.low, high=band.high, unit=unit)
    found = _judge(row.entry, within, rule, doubt)
    return Verdict(
        step=step.step,
        place=row.entry.place,
        reading=row.n,
        outcome=found.outcome.value,
        out_by=found.by,
        low=band.low,
        high=band.high,
        unit=unit,
        limits=band.name if computed else _named(state, step, band.name),
        reason=found.reason or _within_wear(limits, band.name, row.entry, found.outcome.value, (unit, rule, doubt)),
        rule=rule.words(unit) if rule is not None else "",
        uncertainty=rounded_up(span(doubt.value, row.entry.unit, unit)) if doubt is not None else None,
        coverage_factor=doubt.k if doubt is not None else None,
        probability=_likely(row.entry, within, doubt),
    )


def _named(state: State, step: Step, band: str) -> str:
    """What a reading's limits are called: where the state has a table of its own, "cold" or "cold, two"."""
    assert step.measure is not None
    said = state_said(state.facts, step.step)
    if said is None or step.measure.warmth is None or not step.measure.warmth.tables:
        return band
    return said.entry.state if band == NEW else f"{said.entry.state}, {band}"


def _doubt(state: State, row: Row[Reading]) -> Expanded | None:
    """The expanded uncertainty of a reading, in its unit."""
    effects = effects_on(state, row)
    return None if effects is None else expanded(effects)


def _judge(reading: Reading, limits: Bounds, rule: DecisionRule | None, doubt: Expanded | None) -> Found:
    return judge(
        low=reading.low,
        high=reading.high,
        unit=reading.unit,
        limits=limits,
        rule=SIMPLE if rule is None else rule.rule(),
        uncertainty=None if doubt is None else doubt.value,
    )


def _likely(reading: Reading, limits: Bounds, doubt: Expanded | None) -> Decimal | None:
    """The probability of conforming, to four decimals and never more than it is; None where nothing is in doubt."""
    if doubt is None:
        return None
    found = probability(low=reading.low, high=reading.high, unit=reading.unit, limits=limits, uncertainty=doubt.value)
    return None if found is None else max(Decimal(0), found).quantize(_FOUR, ROUND_FLOOR)


_Doubt = tuple[str, DecisionRule | None, Expanded | None]


def _within_wear(limits: Limits | None, name: str, reading: Reading, outcome: str, judged: _Doubt) -> str:
    """Whether a reading that is not in the new limits is still in the worn ones, by the same rule, in words."""
    if outcome == "in limits" or limits is None:
        return ""
    band: Band | None = limits.worn.get(name) if limits.by is not None else limits.bands.get("worn")
    if band is None:
        return ""
    unit, rule, doubt = judged
    found = _judge(reading, Bounds(low=band[0], high=band[1], unit=unit), rule, doubt)
    if found.outcome.value == "too close to call":
        return "too close to the wear limit to call"
    return "inside the wear limit" if found.outcome.value == "in limits" else "past the wear limit too"
