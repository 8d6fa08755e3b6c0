"""Reckonings of what instruments show: vee blocks, dials, bore gauges, micrometers, masters."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from benchvoice.app.reckoning.fields import amount, maybe, measure, one_of, size, whole
from benchvoice.app.reckoning.model import Reckoning
from benchvoice.quantity import gauges, vee_block
from benchvoice.quantity.values import Quantity

Results = Mapping[str, Any]


def _vee(lobes: int, angle: Quantity) -> Results:
    return {"factor": vee_block.vee_factor(lobes, angle.in_unit("deg")), "two_point": vee_block.two_point_factor(lobes)}


def _vee_size(change: Quantity, angle: Quantity) -> Results:
    return {"moved": vee_block.reading_change(change, angle.in_unit("deg"))}


def _dial(turns: int, hand: Quantity, per_turn: Quantity, zero: Quantity | None) -> Results:
    return {"value": gauges.dial(turns, hand, per_turn, zero or Quantity(value=Decimal(0), unit=hand.unit))}


def _bore_gauge(setting: Quantity, dial: Quantity, sense: gauges.Sense) -> Results:
    return {"size": gauges.bore_size(setting, dial, sense)}


def _micrometer(sleeve: Quantity, thimble: Quantity, vernier: Quantity | None) -> Results:
    return {"size": gauges.micrometer(sleeve, thimble, vernier)}


def _vernier(main: Quantity, line: int, resolution: Quantity) -> Results:
    return {"size": gauges.vernier_caliper(main, line, resolution)}


def _ring(reading: Quantity, certified: Quantity, zeroed_to: Quantity) -> Results:
    return {"corrected": gauges.corrected(reading, certified, zeroed_to)}


def _drift(before: Quantity, after: Quantity, allowed: Quantity) -> Results:
    return {"drift": gauges.drift(before, after), "repeat": gauges.must_repeat(before, after, allowed)}


_VEE = measure("the vee's included angle", "angle", "90deg")
_PRACTICE = "instrument practice"

TABLE = (
    Reckoning(
        name="vee_factor",
        fields={"lobes": whole("how many lobes", "3"), "angle": _VEE},
        formula="|1 + cos(n (90 + a/2)) / sin(a/2)|; two points: 2 for even n, 0 for odd",
        source="geometry (three-point method)",
        function=_vee,
    ),
    Reckoning(
        name="vee_size",
        fields={"change": measure("the change of diameter", "length", "0.010mm"), "angle": _VEE},
        formula="dD/2 (1 + 1/sin(a/2))",
        source="geometry",
        function=_vee_size,
    ),
    Reckoning(
        name="dial",
        fields={
            "turns": whole("whole turns by the small hand", "2"),
            "hand": measure("the large hand", "length", "0.43mm"),
            "per_turn": size("one turn", "length", "1mm"),
            "zero": maybe(measure("what it showed at zero", "length", "0.02mm")),
        },
        formula="turns x range + hand - zero",
        source=_PRACTICE,
        function=_dial,
    ),
    Reckoning(
        name="bore_gauge",
        fields={
            "setting": size("the master it was set to", "length", "86.00mm"),
            "dial": measure("what it shows", "length", "0.02mm"),
            "sense": one_of("which way it counts", gauges.Sense, "plus is larger"),
        },
        formula="setting + or - dial",
        source=_PRACTICE,
        function=_bore_gauge,
    ),
    Reckoning(
        name="micrometer",
        fields={
            "sleeve": amount("the sleeve", "length", "12.5mm"),
            "thimble": amount("the thimble", "length", "0.34mm"),
            "vernier": maybe(amount("the vernier", "length", "0.006mm")),
        },
        formula="sleeve + thimble + vernier",
        source=_PRACTICE,
        function=_micrometer,
    ),
    Reckoning(
        name="vernier",
        fields={
            "main": amount("the main scale", "length", "23mm"),
            "line": whole("the line that meets", "17"),
            "resolution": size("one line", "length", "0.02mm"),
        },
        formula="main + line x resolution",
        source=_PRACTICE,
        function=_vernier,
    ),
    Reckoning(
        name="ring_correction",
        fields={
            "reading": size("the reading", "length", "50.013mm"),
            "certified": size("the ring's certified size", "length", "50.0012mm"),
            "zeroed_to": size("the size it was zeroed as", "length", "50mm"),
        },
        formula="reading + certified - zeroed to",
        source=_PRACTICE,
        function=_ring,
    ),
    Reckoning(
        name="drift",
        fields={
            "before": measure("zero before", "length", "0.00mm"),
            "after": measure("zero after", "length", "0.02mm"),
            "allowed": amount("what is allowed", "length", "0.01mm"),
        },
        formula="after - before; repeat when above what is allowed",
        source=_PRACTICE,
        function=_drift,
    ),
)
