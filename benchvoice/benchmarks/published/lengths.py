"""Adapters of units: factors, conversions, temperatures, and rounding what was converted."""

from decimal import Decimal
from fractions import Fraction

from benchvoice.benchmarks.published.notation import Inputs, Outputs, given, plain, unit_of
from benchvoice.quantity.rounding import (
    Tie,
    agree,
    mapped_resolution,
    round_converted,
    round_inwards,
    round_places,
    round_to,
)
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity


def _units_factor(inputs: Inputs) -> Outputs:
    """The factor of a unit, or of a fraction of one such as 1/64 in."""
    share, _, named = inputs["unit"].rpartition(" ")
    if not share or not share[0].isdigit():
        share, named = "1", inputs["unit"]
    unit, to = unit_of(named), unit_of(inputs["to"])
    if unit.startswith("delta_") and not to.startswith("delta_"):
        to = f"delta_{to}"
    return {"factor": {"value": convert(Fraction(share), unit, to), "unit": inputs["to"]}}


def _convert(inputs: Inputs) -> Outputs:
    value = given(inputs["value"])
    return {"converted": {"value": value.in_unit(unit_of(inputs["to"])), "unit": inputs["to"]}}


def _temperature(inputs: Inputs) -> Outputs:
    value, mark = given(inputs["value"]), "delta_" if inputs["is"] == "difference" else ""
    converted = convert(value.value, mark + value.unit, mark + unit_of(inputs["to"]))
    return {"converted": {"value": converted, "unit": inputs["to"]}}


def _round_rule(inputs: Inputs) -> Outputs:
    """Rounded once, from the value given: the last of several stages is the one that is asked for."""
    step = inputs["stages"][-1] if "stages" in inputs else inputs["range"]
    return {"rounded": round_to(Decimal(inputs["value"]), Decimal(step), Tie(inputs["rule"]))}


def _round_conversion(inputs: Inputs) -> Outputs:
    rounded, kept = round_converted(given(inputs["value"]), unit_of(inputs["to"]), inputs["significant_digits"])
    return {"rounded": rounded, "digits_kept": kept}


def _round_limits(inputs: Inputs) -> Outputs:
    to, places = unit_of(inputs["to"]), inputs["decimals"]
    low, high = (given(inputs[end]).in_unit(to) for end in ("low", "high"))
    inside = round_inwards(low, high, Decimal((0, (1,), -places)))
    nearest = round_places(low, places), round_places(high, places)
    names = ("A_low", "A_high", "B_low", "B_high")
    return {name: Quantity(value=end, unit=to) for name, end in zip(names, nearest + inside, strict=True)}


def _resolution_map(inputs: Inputs) -> Outputs:
    resolution, to = given(inputs["resolution"]), unit_of(inputs["to"])
    return {
        "resolution": Quantity(value=mapped_resolution(resolution, to), unit=to),
        "exact": {"value": resolution.in_unit(to) - convert(0, resolution.unit, to), "unit": inputs["to"]},
    }


def _paired_spec(inputs: Inputs) -> Outputs:
    first, second = given(inputs["first"]), given(inputs["second"])
    places = plain(inputs["first_place"]), plain(inputs["second_place"])
    return {
        "first_to_second": {"value": first.in_unit(second.unit), "unit": inputs["second"]["unit"]},
        "second_to_first": {"value": second.in_unit(first.unit), "unit": inputs["first"]["unit"]},
        "consistent": agree(first, places[0], second, places[1]),
    }


KINDS = {
    "units_factor": _units_factor,
    "convert": _convert,
    "temperature": _temperature,
    "round_rule": _round_rule,
    "round_conversion": _round_conversion,
    "round_limits": _round_limits,
    "resolution_map": _resolution_map,
    "paired_spec": _paired_spec,
}
