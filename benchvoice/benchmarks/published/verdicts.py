"""Adapters of decisions: guard bands, simple acceptance, coarse readings, conformance probability, capability."""

from fractions import Fraction

from benchvoice.benchmarks.published.notation import Inputs, Outputs, difference_in, given, in_unit_of, plain, unit_of
from benchvoice.quantity import acceptance
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.probability import conformance
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.verdict import GUARDED, Outcome, judge

_ZONES = {
    Outcome.IN: "conforms",
    Outcome.CLOSE: "uncertain",
    Outcome.OVER: "does not conform",
    Outcome.UNDER: "does not conform",
}


def _limits(inputs: Inputs) -> Limits:
    """Limits in the unit of the end that is given."""
    written = inputs["low"] or inputs["high"]
    low, high = in_unit_of(inputs["low"], written), in_unit_of(inputs["high"], written)
    return Limits(low=low, high=high, unit=unit_of(written["unit"]))


def _zone(inputs: Inputs) -> Outputs:
    reading = given(inputs["reading"])
    verdict = judge(
        low=reading.value,
        high=reading.value,
        unit=reading.unit,
        limits=_limits(inputs),
        rule=GUARDED,
        uncertainty=difference_in(inputs["w"], inputs["reading"]),
    )
    return {"zone": _ZONES[verdict.outcome]}


def _zone_simple(inputs: Inputs) -> Outputs:
    reading, limits = given(inputs["reading"]), _limits(inputs)
    verdict = judge(low=reading.value, high=reading.value, unit=reading.unit, limits=limits)
    return {
        "absolute": verdict.outcome is Outcome.IN,
        "rounding": acceptance.accepted_after_rounding(reading.value, reading.unit, limits),
        "rounded": Quantity(value=acceptance.rounded_for(reading.value, reading.unit, limits), unit=limits.unit),
    }


def _too_coarse(inputs: Inputs) -> Outputs:
    step, limits = given(inputs["resolution"]), _limits(inputs)
    return {
        "tolerance_to_resolution": acceptance.width_over_resolution(step.value, step.unit, limits),
        "too_coarse": acceptance.too_coarse(step.value, step.unit, limits, Fraction(inputs["share"])),
    }


def _conform_prob(inputs: Inputs) -> Outputs:
    """The formula knows no units: a reading in volts will do."""
    reading = inputs["reading"]
    u = difference_in(inputs["u"], reading)
    low, high = in_unit_of(inputs["low"], reading), in_unit_of(inputs["high"], reading)
    return {"probability": conformance(plain(reading["value"]), u, low, high)}


def _capability(inputs: Inputs) -> Outputs:
    u = given(inputs["u"])
    return {"Cm": acceptance.capability(_limits(inputs), u.value, u.unit)}


KINDS = {
    "zone": _zone,
    "zone_simple": _zone_simple,
    "too_coarse": _too_coarse,
    "conform_prob": _conform_prob,
    "capability": _capability,
}
