"""Adapters of balance and of machines: gearing, pumps, presses, mixes, leak tests."""

from fractions import Fraction

from benchvoice.benchmarks.published.notation import Inputs, Outputs, all_given, given, plain
from benchvoice.quantity import balance, cylinder, gears, hydraulics
from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.values import Quantity


def _balance(inputs: Inputs) -> Outputs:
    if "G" in inputs:
        grade, speed = given(inputs["G"]), Quantity(value=plain(inputs["rpm"]), unit="rpm")
        return {
            "e_per": balance.permissible_offset(grade, speed),
            "U_per": balance.permissible_unbalance(grade, speed, given(inputs["mass"])),
        }
    mass = given(inputs["mass"])
    if "radius" in inputs:
        amount = balance.unbalance(mass, given(inputs["radius"]))
        return {"U": amount, "correction_mass": balance.correction(amount, given(inputs["correction_radius"]))}
    if "holes_at" in inputs:
        first, second = all_given(inputs["holes_at"])
        shares = balance.split(mass, given(inputs["at"]), (first, second))
        return {"m1": shares[0], "m2": shares[1]}
    return {"depth": balance.drilling_depth(mass, given(inputs["drill"]), given(inputs["density"]))}


def _machine(inputs: Inputs) -> Outputs:
    """Which sum is asked for shows in what is given."""
    return next(reckon(inputs) for name, reckon in _BY_INPUT.items() if name in inputs)


def _gearing(inputs: Inputs) -> Outputs:
    driver, driven = inputs["driver_teeth"], inputs["driven_teeth"]
    return {
        "ratio": gears.ratio([(driver, driven)]),
        "hunting": gears.hunting(driver, driven),
        "turns_to_same_mesh": gears.turns_to_meet_again(driver, driven),
    }


def _stages(inputs: Inputs) -> Outputs:
    return {"ratio": gears.ratio([(driver, driven) for driver, driven in inputs["stages"]])}


def _force(inputs: Inputs) -> Outputs:
    pressure, bore = given(inputs["pressure"]), given(inputs["bore"])
    forces = {"push": hydraulics.push(pressure, bore)}
    return {**forces, "pull": hydraulics.pull(pressure, bore, given(inputs["rod"]))} if inputs.get("rod") else forces


def _flow(inputs: Inputs) -> Outputs:
    speed = Quantity(value=plain(inputs["rpm"]), unit="rpm")
    return {"flow": hydraulics.flow(given(inputs["displacement"]), speed, plain(inputs["volumetric_efficiency"]))}


def _preload(inputs: Inputs) -> Outputs:
    return {"torque": hydraulics.turning_torque(given(inputs["pull"]), given(inputs["radius"]))}


def _compressions(inputs: Inputs) -> Outputs:
    share = cylinder.weakest_over_best(all_given(inputs["compression"]))
    return {"lowest_over_highest": share, "at_least_0.75": share >= Fraction(cylinder.WEAKEST_OVER_BEST)}


def _leak(inputs: Inputs) -> Outputs:
    return {"leakage": cylinder.leakage(given(inputs["supply"]), given(inputs["cylinder"]))}


def _mix(inputs: Inputs) -> Outputs:
    first, second = (plain(part) for part in inputs["ratio"].split(":"))
    parts = hydraulics.mix(given(inputs["total"]), (first, second))
    return {"part_a": parts[0], "part_b": parts[1]}


def _flat(inputs: Inputs) -> Outputs:
    return {"worst": COMPUTED["greatest"](of=all_given(inputs["straightedge_gaps"]))}


_BY_INPUT = {
    "driver_teeth": _gearing,
    "stages": _stages,
    "bore": _force,
    "displacement": _flow,
    "pull": _preload,
    "compression": _compressions,
    "supply": _leak,
    "ratio": _mix,
    "straightedge_gaps": _flat,
}

KINDS = {"balance": _balance, "machine": _machine}
