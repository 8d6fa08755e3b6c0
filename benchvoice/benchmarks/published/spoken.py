"""Adapters of spoken readings and spoken durations."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from benchvoice.benchmarks.published.notation import Inputs, Outputs, unit_of
from benchvoice.quantity.values import Quantity
from benchvoice.speech.durations import parse_duration
from benchvoice.speech.readings import Context, parse_reading

# Torque as cases write it; every other unit of a candidate is spelled as in the library.
_WRITTEN = {"ft_lb": "lbf.ft", "in_lb": "lbf.in", "N_m": "N.m", "kgf_m": "kgf.m", "kgf_cm": "kgf.cm"}


def _spoken(inputs: Inputs) -> Outputs:
    reading = parse_reading(inputs["phrase"], context_of(inputs))
    outputs: Outputs = {
        "action": str(reading.action),
        "resolution": None,
        "candidates": [_written(candidate) for candidate in reading.candidates],
        "confusable_with": list(reading.sounds_like),
        "digits": reading.digits,
    }
    if reading.value is not None and reading.unit is not None:
        outputs["value"] = Quantity(value=reading.value, unit=reading.unit)
        if reading.resolution is not None:
            outputs["resolution"] = Quantity(value=reading.resolution, unit=reading.unit)
    return outputs


def context_of(inputs: Inputs) -> Context:
    """The step of a case: its unit, limits and words, under the case's working system."""
    step: Mapping[str, Any] = inputs["step"] or {}
    return Context(
        unit=unit_of(step["unit"]) if "unit" in step else None,
        work=inputs["work"],
        low=_number(step, "low"),
        high=_number(step, "high"),
        what=step.get("what"),
        per_division=_number(step, "per_division"),
        resolution=_number(step, "resolution"),
    )


def _number(step: Mapping[str, Any], key: str) -> Decimal | None:
    return Decimal(str(step[key])) if key in step else None


def _written(candidate: str) -> str:
    number, _, unit = candidate.partition(" ")
    return f"{number} {_WRITTEN[unit]}" if unit in _WRITTEN else candidate


def _duration_words(inputs: Inputs) -> Outputs:
    return {"seconds": parse_duration(inputs["spoken"])}


KINDS = {"spoken": _spoken, "duration_words": _duration_words}
