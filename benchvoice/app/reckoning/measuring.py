"""Reckonings of readings: conversion, rounding, verdicts, uncertainty, values computed from readings, instruments."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from benchvoice.app.reckoning.fields import anything, maybe, name, number, one_of, several, share, whole
from benchvoice.app.reckoning.model import BadReckoning, Field, Reckoning
from benchvoice.quantity import acceptance, rounding, uncertainty
from benchvoice.quantity.computed import COMPUTED, ComputedKind
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.probability import conformance
from benchvoice.quantity.uncertainty import Part, Source
from benchvoice.quantity.units import convert, kind_of, to_decimal, units_of
from benchvoice.quantity.values import Quantity, quantity
from benchvoice.quantity.verdict import Rule, RuleKind, judge

Results = Mapping[str, Any]

_READING = anything("the reading", "2.25thou")
_LOW = maybe(anything("the least allowed (left out: none)", "1.5thou"), typical=True)
_HIGH = maybe(anything("the greatest allowed (left out: none)", "3.0thou"), typical=True)


def _convert(value: Quantity, to: str) -> Results:
    if value.unit == "1" and kind_of(to) != "ratio":
        raise BadReckoning(f"{value} has no unit: give it one of {kind_of(to)}, such as {units_of(kind_of(to))[0]}")
    return {"converted": quantity(value.in_unit(to), to)}


def _round(value: Quantity, step: Decimal, tie: rounding.Tie) -> Results:
    return {"rounded": Quantity(value=rounding.round_to(value.value, step, tie), unit=value.unit)}


def _resolution(resolution: Quantity, to: str) -> Results:
    return {"resolution": Quantity(value=rounding.mapped_resolution(resolution, to), unit=to)}


def _inwards(low: Quantity, high: Quantity, to: str, step: Decimal) -> Results:
    if low.in_unit(to) > high.in_unit(to):
        raise BadReckoning(f"the least limit {low} is above the greatest, {high}: swap them")
    inside = rounding.round_inwards(low.in_unit(to), high.in_unit(to), step)
    return {"low": Quantity(value=inside[0], unit=to), "high": Quantity(value=inside[1], unit=to)}


def _same(first: Quantity, first_place: Decimal, second: Quantity, second_place: Decimal) -> Results:
    return {"agree": rounding.agree(first, first_place, second, second_place)}


def _limits(low: Quantity | None, high: Quantity | None, unit: str) -> Limits:
    """Limits in the unit of the reading."""
    low_end, high_end = (None if end is None else to_decimal(end.in_unit(unit), 30) for end in (low, high))
    return Limits(low=low_end, high=high_end, unit=unit)


def _own_unit(low: Quantity | None, high: Quantity | None) -> str:
    """The unit that the limits are written in, so that nothing is rounded before it is compared."""
    written = low or high
    if written is None:
        raise BadReckoning("a reading is judged against limits: give low, high or both")
    return written.unit


def _verdict(
    reading: Quantity, low: Quantity | None, high: Quantity | None, uncertain: Quantity | None, rule: RuleKind
) -> Results:
    verdict = judge(
        low=reading.value,
        high=reading.value,
        unit=reading.unit,
        limits=_limits(low, high, _own_unit(low, high)),
        rule=Rule(kind=rule),
        uncertainty=None if uncertain is None else _difference_in(uncertain, reading.unit),
    )
    by = None if verdict.by is None else Quantity(value=verdict.by, unit=_own_unit(low, high))
    return {"verdict": str(verdict.outcome), "by": by, "reason": verdict.reason}


def _probability(reading: Quantity, u: Quantity, low: Quantity | None, high: Quantity | None) -> Results:
    limits = _limits(low, high, reading.unit)
    if u.value <= 0:
        raise BadReckoning("an uncertainty is above nought: give one")
    return {"probability": conformance(reading.value, _difference_in(u, reading.unit), limits.low, limits.high)}


def _difference_in(value: Quantity, unit: str) -> Decimal:
    """A difference in another unit; a temperature's may be given in degrees of either sort."""
    if kind_of(unit) == "temperature" and kind_of(value.unit) == "temperature difference":
        return to_decimal(convert(value.value, value.unit, f"delta_{unit}"), 30)
    return to_decimal(value.in_unit(unit) - convert(0, value.unit, unit), 30)


def _too_coarse(resolution: Quantity, low: Quantity, high: Quantity, share: Fraction) -> Results:
    limits = _limits(low, high, low.unit)
    return {
        "steps_in_the_tolerance": acceptance.width_over_resolution(resolution.value, resolution.unit, limits),
        "too_coarse": acceptance.too_coarse(resolution.value, resolution.unit, limits, share),
    }


def _capability(low: Quantity, high: Quantity, u: Quantity) -> Results:
    return {"index": acceptance.capability(_limits(low, high, low.unit), u.value, u.unit)}


def _standard(value: Quantity, kind: Source, k: Decimal) -> Results:
    return {"u": Quantity(value=uncertainty.standard(kind, value.value, k), unit=value.unit)}


def _combine(parts: tuple[Quantity, ...], k: Decimal) -> Results:
    unit = parts[0].unit
    uc = uncertainty.combined([Part(u=_difference_in(part, unit)) for part in parts])
    return {"u": Quantity(value=uc, unit=unit), "expanded": quantity(Fraction(uc) * Fraction(k), unit)}


def _repeats(readings: tuple[Quantity, ...]) -> Results:
    unit = readings[0].unit
    found = uncertainty.of_repeats([to_decimal(reading.in_unit(unit), 30) for reading in readings])
    names = {"mean": found.mean, "deviation": found.deviation, "u_mean": found.u_mean}
    return {key: Quantity(value=value, unit=unit) for key, value in names.items()}


def _report(value: Quantity, expanded: Quantity) -> Results:
    shown, doubt = uncertainty.reported(value.value, _difference_in(expanded, value.unit))
    return {"value": Quantity(value=shown, unit=value.unit), "expanded": Quantity(value=doubt, unit=value.unit)}


def _coverage(p: Decimal, freedom: int) -> Results:
    return {"k": uncertainty.coverage_factor(p, freedom)}


# What the inputs of computed values are typically given as, by their names.
_EXAMPLES = {
    "of": "0.28mm",
    "less": "0.04mm",
    "plus": "111.38mm",
    "minus": "18.04,92.05mm",
    "at": "67.5mm",
    "to": "54mm",
    "tight": "1.8958in",
    "free": "1.8900in",
    "one_end": "2.3741,2.3738in",
    "other_end": "2.3736,2.3734in",
    "bore": "2.9131,2.9133in",
    "shaft": "2.9085in",
    "housing": "2.2390in",
    "shell": "0.0620in",
}
_SEVERAL = "0.14,0.17,0.19,0.15mm"
_ONE_EACH = {
    "swept_volume": {"bore": "74mm", "stroke": "84mm"},
    "compression_ratio": {"swept": "361.3cc", "clearance": "13.2,4.3cc"},
    "at_twenty": {"of": "30.008mm", "temperature": "30degC", "expansion": "0.0000115per_K"},
    "twist": {"one_end": "1.0thou", "other_end": "3.0thou", "apart": "8in", "to": "6in"},
}
_ELSEWHERE = frozenset({"ring_gap", "disc_volume"})
"""Kinds that have a reckoning of their own, which takes more."""


def _computed(kind: ComputedKind) -> Reckoning:
    """A declared kind of computed value as a reckoning: the same names, the same function."""

    def function(**readings: tuple[Quantity, ...]) -> Results:
        return {kind.name: kind(**readings)}

    own = _ONE_EACH.get(kind.name, _EXAMPLES)
    fields: dict[str, Field] = {
        key: several(one.meaning, own[key] if one.most == 1 or key != "of" else _SEVERAL)
        for key, one in kind.inputs.items()
    }
    return Reckoning(
        name=kind.name,
        fields=fields,
        formula=kind.formula,
        source=kind.source,
        function=function,
        caution=kind.caution,
    )


_STEP = number("the step to round to", "0.01")
_TO = name("the unit wanted", "mm")
_TIE = one_of("a tie goes to the even (A) or the greater (B)", rounding.Tie, "A", default="A")
_ISO_80000 = "ISO 80000-1:2009 Annex B (recalled)"
_JCGM = "JCGM 106:2012"
_GUM = "GUM (JCGM 100:2008)"

TABLE = (
    Reckoning(
        name="convert",
        fields={"value": anything("the value", "4.5thou"), "to": _TO},
        formula="exact factor x value",
        source="international yard and pound (1959), SI Brochure",
        function=_convert,
    ),
    Reckoning(
        name="round",
        fields={"value": anything("the value", "12.25mm"), "step": _STEP, "tie": _TIE},
        formula="nearest multiple of the step",
        source=_ISO_80000,
        function=_round,
    ),
    Reckoning(
        name="round_limits",
        fields={
            "low": anything("the least", "10.7mm"),
            "high": anything("the greatest", "11.3mm"),
            "to": name("the unit wanted", "in"),
            "step": number("the step to round to", "0.001"),
        },
        formula="least rounded up, greatest rounded down",
        source="IEEE/ASTM SI 10, method B (recalled)",
        function=_inwards,
    ),
    Reckoning(
        name="resolution",
        fields={"resolution": anything("one step of the reading", "0.001in"), "to": _TO},
        formula="largest power of ten not coarser than the converted step",
        source="common practice, no source",
        function=_resolution,
    ),
    Reckoning(
        name="paired",
        fields={
            "first": anything("one printed value", "60N_m"),
            "first_place": number("its last place", "1"),
            "second": anything("the other printed value", "44ft_lb"),
            "second_place": number("its last place", "1"),
        },
        formula="converting either and rounding gives the other",
        source="definition",
        function=_same,
    ),
    Reckoning(
        name="verdict",
        fields={
            "reading": _READING,
            "low": _LOW,
            "high": _HIGH,
            "uncertain": maybe(anything("the reading's expanded uncertainty, k = 2", "0.1thou")),
            "rule": one_of("the decision rule", RuleKind, "guarded acceptance", default=RuleKind.SIMPLE),
        },
        formula="low <= reading <= high, each end with its guard band",
        source=f"{_JCGM}; ISO 14253-1",
        function=_verdict,
    ),
    Reckoning(
        name="probability",
        fields={"reading": _READING, "u": anything("its standard uncertainty", "0.1thou"), "low": _LOW, "high": _HIGH},
        formula="Phi((high - y)/u) - Phi((low - y)/u)",
        source=f"{_JCGM} clause 7",
        function=_probability,
    ),
    Reckoning(
        name="too_coarse",
        fields={
            "resolution": anything("one step of the reading", "0.01mm"),
            "low": anything("the least allowed", "95.38mm"),
            "high": anything("the greatest allowed", "95.42mm"),
            "share": share("the greatest share of the tolerance", "1/4", default="1/4"),
        },
        formula="step > share x tolerance",
        source="common practice, no source",
        function=_too_coarse,
    ),
    Reckoning(
        name="capability",
        fields={
            "low": anything("the least allowed", "95.40mm"),
            "high": anything("the greatest allowed", "95.42mm"),
            "u": anything("the standard uncertainty", "0.0015mm"),
        },
        formula="tolerance / (4 u)",
        source=f"{_JCGM} 7.6.3 (recalled)",
        function=_capability,
    ),
    Reckoning(
        name="uncertainty",
        fields={
            "value": anything("the figure of doubt", "0.01mm"),
            "kind": one_of("what the figure is", Source, "resolution"),
            "k": number("the coverage factor of a certificate", "2", default="2"),
        },
        formula="d/sqrt(12), a/sqrt(3), a/sqrt(6), a/sqrt(2) or U/k",
        source=f"{_GUM} 4.3",
        function=_standard,
    ),
    Reckoning(
        name="combine",
        fields={
            "parts": several("standard uncertainties of independent sources", "0.003mm,0.004mm"),
            "k": number("the coverage factor", "2", default="2"),
        },
        formula="sqrt(sum of squares); U = k u",
        source=f"{_GUM} 5.1.2, 6.2.1",
        function=_combine,
    ),
    Reckoning(
        name="repeats",
        fields={"readings": several("repeats of one reading", "79.98,79.99,80.00mm")},
        formula="mean; s = sqrt(sum (x - mean)^2/(n - 1)); s/sqrt(n)",
        source=f"{_GUM} 4.2",
        function=_repeats,
    ),
    Reckoning(
        name="report",
        fields={
            "value": anything("the value", "95.40347mm"),
            "expanded": anything("its expanded uncertainty", "0.003124mm"),
        },
        formula="two significant digits, the value to the same place",
        source=f"{_GUM} 7.2.6; EA-4/02 (recalled)",
        function=_report,
    ),
    Reckoning(
        name="coverage",
        fields={
            "p": number("the share to cover", "0.95"),
            "freedom": whole("degrees of freedom", "10"),
        },
        formula="quantile of Student's t",
        source=f"{_GUM} table G.2",
        function=_coverage,
    ),
    *(_computed(kind) for name, kind in COMPUTED.items() if name not in _ELSEWHERE),
)
