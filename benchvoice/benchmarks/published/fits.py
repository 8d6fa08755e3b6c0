"""Adapters of ISO 286: fits, grades, and readings against a fit."""

from decimal import Decimal

from benchvoice.benchmarks.published.notation import Inputs, Outputs, given
from benchvoice.quantity import iso286
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.units import to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.verdict import Outcome, judge


def _mm(inputs: Inputs, name: str) -> Decimal:
    return to_decimal(given(inputs[name]).in_unit("mm"))


def _iso_fit(inputs: Inputs) -> Outputs:
    fit = iso286.fit(_mm(inputs, "nominal"), inputs["hole"], inputs["shaft"])
    ends = {"upper": "high", "lower": "low"}
    sizes = {
        f"{part}_{end}": {"value": getattr(getattr(fit, part), field), "unit": "mm"}
        for part in ("hole", "shaft")
        for end, field in ends.items()
    }
    return {
        **sizes,
        "clearance_min": Quantity(value=fit.clearance_least, unit="um"),
        "clearance_max": Quantity(value=fit.clearance_most, unit="um"),
        "fit": str(fit.kind),
    }


def _it_grade(inputs: Inputs) -> Outputs:
    size = _mm(inputs, "size")
    return {
        "tolerance": Quantity(value=iso286.tolerance(size, inputs["grade"]), unit="um"),
        "formula_value": {"value": iso286.tolerance_by_formula(size, inputs["grade"]), "unit": "um"},
    }


def _fit_reading(inputs: Inputs) -> Outputs:
    fit = iso286.fit_named(_mm(inputs, "nominal"), inputs["fit"])
    bore, journal = given(inputs["bore"]), given(inputs["journal"])
    return {
        "bore_ok": _in(bore, fit.hole),
        "journal_ok": _in(journal, fit.shaft),
        "clearance": COMPUTED["clearance_mean"](bore=(bore,), shaft=(journal,)),
    }


def _in(reading: Quantity, limits: Limits) -> bool:
    verdict = judge(low=reading.value, high=reading.value, unit=reading.unit, limits=limits)
    return verdict.outcome is Outcome.IN


KINDS = {"iso_fit": _iso_fit, "it_grade": _it_grade, "fit_reading": _fit_reading}
