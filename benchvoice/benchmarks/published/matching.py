"""Adapter of matched sets. Cases count parts from one."""

from collections.abc import Sequence
from decimal import Decimal

from benchvoice.benchmarks.published.notation import Inputs, Outputs, given, text_of
from benchvoice.quantity import matching
from benchvoice.quantity.units import to_decimal
from benchvoice.quantity.values import Quantity


def _values(written: Sequence[dict[str, str]], unit: str) -> list[Decimal]:
    return [to_decimal(given(one).in_unit(unit)) for one in written]


def _match(inputs: Inputs) -> Outputs:
    into = inputs["into"]
    if into == "least total":
        return {"total": {"value": matching.least_total(inputs["cost_um"]), "unit": "um"}}
    if into == "pairs of nearest weight":
        return _pairs(inputs["weights"])
    first, second = ("pistons", "rods") if into == "equal totals" else ("bores", "pistons")
    unit = given(inputs[first][0]).unit
    ones, others = _values(inputs[first], unit), _values(inputs[second], unit)
    found = (matching.even_totals if into == "equal totals" else matching.even_clearances)(ones, others)
    clearances = [one - others[partner] for one, partner in zip(ones, found.partners[0], strict=True)]
    return {
        "min_spread": Quantity(value=found.spread, unit=unit),
        "assignments": [[partner + 1 for partner in partners] for partners in found.partners],
        "clearances_first": [text_of(clearance) for clearance in clearances],
        "unique": found.unique,
    }


def _pairs(weights: Sequence[dict[str, str]]) -> Outputs:
    unit = given(weights[0]).unit
    found = matching.nearest_pairs(_values(weights, unit))
    return {
        "min_max_difference": Quantity(value=found.largest, unit=unit),
        "sum_of_differences": Quantity(value=found.total, unit=unit),
        "pairs": [[[one + 1, other + 1] for one, other in pairing] for pairing in found.pairings],
        "unique": found.unique,
    }


KINDS = {"match": _match}
