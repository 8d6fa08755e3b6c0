"""Reckonings of balance, presses, pumps, mixes and windows of time."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from benchvoice.app.reckoning.fields import amount, maybe, measure, proportion, size
from benchvoice.app.reckoning.model import BadReckoning, Reckoning
from benchvoice.quantity import balance, hydraulics, windows
from benchvoice.quantity.units import to_decimal
from benchvoice.quantity.values import Quantity, quantity

Results = Mapping[str, Any]


def _grade(grade: Quantity, speed: Quantity, mass: Quantity) -> Results:
    return {
        "offset": balance.permissible_offset(grade, speed),
        "unbalance": balance.permissible_unbalance(grade, speed, mass),
    }


def _correction(mass: Quantity, radius: Quantity, at: Quantity) -> Results:
    amount = balance.unbalance(mass, radius)
    return {"unbalance": amount, "correction": balance.correction(amount, at)}


def _split(mass: Quantity, at: Quantity, first: Quantity, second: Quantity) -> Results:
    shares = balance.split(mass, at, (first, second))
    return {"at_first": shares[0], "at_second": shares[1]}


def _drill(mass: Quantity, drill: Quantity, density: Quantity) -> Results:
    return {"depth": balance.drilling_depth(mass, drill, density)}


def _force(pressure: Quantity, bore: Quantity, rod: Quantity | None) -> Results:
    push = {"push": hydraulics.push(pressure, bore)}
    return push if rod is None else {**push, "pull": hydraulics.pull(pressure, bore, rod)}


def _flow(displacement: Quantity, speed: Quantity, efficiency: Decimal) -> Results:
    if efficiency > 1:
        raise BadReckoning(f"no pump moves {efficiency} of what it displaces: give a share of one, such as 0.92")
    return {"flow": hydraulics.flow(displacement, speed, efficiency)}


def _cord(pull: Quantity, radius: Quantity) -> Results:
    return {"torque": hydraulics.turning_torque(pull, radius)}


def _mix(total: Quantity, first: Decimal, second: Decimal) -> Results:
    parts = hydraulics.mix(total, (first, second))
    return {"first": parts[0], "second": parts[1]}


def _window(age: Quantity, opens: Quantity | None, closes: Quantity | None) -> Results:
    ends = [None if end is None else to_decimal(end.in_unit("s"), 3) for end in (opens, closes)]
    if ends == [None, None]:
        raise BadReckoning("a window opens or closes: give opens, closes or both")
    window = windows.Window(opens=ends[0] or Decimal(0), closes=ends[1])
    passed = windows.age_by_monotonic(0, age.in_unit("s"))
    left = windows.remaining(window, passed)
    return {
        "state": str(windows.state(window, passed)),
        "remaining": None if left is None else quantity(left, "s"),
    }


def _pace(temperature: Quantity, label: Quantity) -> Results:
    return {"factor": windows.pace(temperature.in_unit("degC"), label.in_unit("degC"))}


_ISO_21940 = "ISO 21940-11:2016 (recalled)"
_DEFINITION = "definition"

TABLE = (
    Reckoning(
        name="balance_grade",
        fields={
            "grade": size("the grade G", "velocity", "6.3mm_s"),
            "speed": size("the speed", "speed", "3000rpm"),
            "mass": size("the rotor", "mass", "25kg"),
        },
        formula="e = G / omega; U = e m",
        source=_ISO_21940,
        function=_grade,
    ),
    Reckoning(
        name="balance_correction",
        fields={
            "mass": amount("the weight too much", "mass", "3.2g"),
            "radius": size("its radius", "length", "110mm"),
            "at": size("the radius to correct at", "length", "95mm"),
        },
        formula="U = m r; U / r2",
        source=_DEFINITION,
        function=_correction,
    ),
    Reckoning(
        name="balance_split",
        fields={
            "mass": amount("the weight", "mass", "4g"),
            "at": measure("its angle", "angle", "30deg"),
            "first": measure("the first hole", "angle", "0deg"),
            "second": measure("the second hole", "angle", "60deg"),
        },
        formula="components along the two holes, same radius",
        source="statics",
        function=_split,
    ),
    Reckoning(
        name="balance_drill",
        fields={
            "mass": amount("the weight to take off", "mass", "5g"),
            "drill": size("the drill", "length", "10mm"),
            "density": size("the metal's density", "density", "7.85g_cc"),
        },
        formula="m / (rho pi/4 d^2), the drill's point left out",
        source="geometry",
        function=_drill,
    ),
    Reckoning(
        name="cylinder_force",
        fields={
            "pressure": amount("the pressure", "pressure", "160bar"),
            "bore": size("the bore", "length", "63mm"),
            "rod": maybe(amount("the rod", "length", "36mm"), typical=True),
        },
        formula="F = p A",
        source=_DEFINITION,
        function=_force,
    ),
    Reckoning(
        name="pump_flow",
        fields={
            "displacement": size("what one turn moves", "displacement", "16cc_rev"),
            "speed": amount("the speed", "speed", "1450rpm"),
            "efficiency": proportion("volumetric efficiency", "0.92", default="1"),
        },
        formula="V n eta",
        source=_DEFINITION,
        function=_flow,
    ),
    Reckoning(
        name="cord_torque",
        fields={
            "pull": amount("the spring balance's reading", "force", "12N"),
            "radius": size("the radius of the cord", "length", "45mm"),
        },
        formula="pull x radius",
        source=_DEFINITION,
        function=_cord,
    ),
    Reckoning(
        name="mix",
        fields={
            "total": size("the total wanted", "mass", "75g"),
            "first": proportion("parts of the first by weight", "100"),
            "second": proportion("parts of the second", "28"),
        },
        formula="total x part / (sum of parts)",
        source=_DEFINITION,
        function=_mix,
    ),
    Reckoning(
        name="window",
        fields={
            "age": amount("how long it has been", "time", "7min"),
            "opens": maybe(amount("not before", "time", "5min")),
            "closes": maybe(amount("not after", "time", "8min"), typical=True),
        },
        formula="opens <= age <= closes",
        source="the label; a warm bench never lengthens it",
        function=_window,
    ),
    Reckoning(
        name="pace",
        fields={
            "temperature": measure("the bench's temperature", "temperature", "30degC"),
            "label": measure("the label's", "temperature", "20degC", default="20degC"),
        },
        formula="half for every ten degrees above the label's",
        source="common practice, no source; brings warnings forward, permits nothing",
        function=_pace,
    ),
)
