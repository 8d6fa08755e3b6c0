"""Adapters of uncertainty: single sources, sums, repeats, reports, coverage factors."""

from decimal import Decimal
from typing import Any

from benchvoice.benchmarks.published.notation import Inputs, Outputs, difference_in, in_unit_of, plain
from benchvoice.quantity import uncertainty
from benchvoice.quantity.uncertainty import Part, Source


def _of(value: Decimal, written: dict[str, str]) -> dict[str, Any]:
    """A result in the unit of an input."""
    return {"value": value, "unit": written["unit"]}


def _type_b(inputs: Inputs) -> Outputs:
    k = plain(inputs.get("k", "2"))
    return {"u": _of(uncertainty.standard(Source(inputs["kind"]), plain(inputs["value"]["value"]), k), inputs["value"])}


def _combine(inputs: Inputs) -> Outputs:
    first = inputs["parts"][0]["u"]
    parts = [Part(u=difference_in(part["u"], first), times=plain(part["c"])) for part in inputs["parts"]]
    uc = uncertainty.combined(parts)
    return {"uc": _of(uc, first), "U": _of(uc * plain(inputs["k"]), first)}


def _repeat(inputs: Inputs) -> Outputs:
    first = inputs["readings"][0]
    readings = [reading for written in inputs["readings"] if (reading := in_unit_of(written, first)) is not None]
    repeats = uncertainty.of_repeats(readings)
    return {
        "mean": _of(repeats.mean, first),
        "s": _of(repeats.deviation, first),
        "u_mean": _of(repeats.u_mean, first),
    }


def _report(inputs: Inputs) -> Outputs:
    expanded = difference_in(inputs["U"], inputs["value"])
    shown, doubt = uncertainty.reported(plain(inputs["value"]["value"]), expanded)
    return {"value": _of(shown, inputs["value"]), "U": _of(doubt, inputs["value"])}


def _k_factor(inputs: Inputs) -> Outputs:
    if "parts" in inputs:
        parts = [Part(u=plain(part["u"]), freedom=_freedom(part["nu"])) for part in inputs["parts"]]
        return {"nu_eff": uncertainty.effective_freedom(parts)}
    return {"k": uncertainty.coverage_factor(plain(inputs["p"]), _freedom(inputs["nu"]))}


def _freedom(written: str | int | None) -> int | None:
    """Degrees of freedom, cut to the whole number below (GUM G.4.1); None for any number of them."""
    if written is None or not Decimal(written).is_finite():
        return None
    return int(Decimal(written))


KINDS = {
    "u_type_b": _type_b,
    "u_combine": _combine,
    "u_repeat": _repeat,
    "u_report": _report,
    "k_factor": _k_factor,
}
