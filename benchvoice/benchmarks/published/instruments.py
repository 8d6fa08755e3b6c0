"""Adapter of what instruments show."""

from benchvoice.benchmarks.published.notation import Inputs, Outputs, given
from benchvoice.quantity import gauges


def _instrument(inputs: Inputs) -> Outputs:
    """Which instrument it is shows in what is given."""
    return next(read(inputs) for name, read in _BY_INPUT.items() if name in inputs)


def _dial(inputs: Inputs) -> Outputs:
    hand, per_turn = given(inputs["hand"]), given(inputs["per_turn"])
    zero = given(inputs["zero"]) if inputs.get("zero") else given({**inputs["hand"], "value": "0"})
    return {"value": gauges.dial(int(inputs["turns"]), hand, per_turn, zero)}


def _drift(inputs: Inputs) -> Outputs:
    before, after = given(inputs["zero_before"]), given(inputs["zero_after"])
    return {
        "drift": gauges.drift(before, after),
        "repeat": gauges.must_repeat(before, after, given(inputs["allowed"])),
    }


def _bore_gauge(inputs: Inputs) -> Outputs:
    sense = gauges.Sense(inputs["dial_sense"])
    return {"size": gauges.bore_size(given(inputs["setting"]), given(inputs["dial"]), sense)}


def _micrometer(inputs: Inputs) -> Outputs:
    vernier = given(inputs["vernier"]) if inputs.get("vernier") else None
    return {"size": gauges.micrometer(given(inputs["sleeve"]), given(inputs["thimble"]), vernier)}


def _ring(inputs: Inputs) -> Outputs:
    certified = given(inputs["ring_certified"])
    zeroed_to = given(inputs["ring_nominal"]) if inputs["zeroed_to"] == "nominal" else certified
    return {"corrected": gauges.corrected(given(inputs["reading"]), certified, zeroed_to)}


def _vernier(inputs: Inputs) -> Outputs:
    return {"size": gauges.vernier_caliper(given(inputs["main"]), inputs["line"], given(inputs["resolution"]))}


_BY_INPUT = {
    "hand": _dial,
    "zero_before": _drift,
    "setting": _bore_gauge,
    "sleeve": _micrometer,
    "ring_certified": _ring,
    "main": _vernier,
}

KINDS = {"instrument": _instrument}
