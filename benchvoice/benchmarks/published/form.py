"""Adapters of form and heat: bearings, lobes, run-out, backlash, expansion."""

from benchvoice.benchmarks.published.notation import Inputs, Outputs, all_given, expansion_in, given
from benchvoice.quantity import gears, thermal, vee_block
from benchvoice.quantity.computed import COMPUTED


def _bearing(inputs: Inputs) -> Outputs:
    if "plane_1" in inputs:
        one, other = all_given(inputs["plane_1"]), all_given(inputs["plane_2"])
        return {
            "out_of_round_1": COMPUTED["out_of_round"](of=one),
            "out_of_round_2": COMPUTED["out_of_round"](of=other),
            "taper": COMPUTED["taper"](one_end=one, other_end=other),
            "max_difference": COMPUTED["spread"](of=one + other),
        }
    if "undersize" in inputs:
        sizes = given(inputs["standard"]), given(inputs["undersize"])
        return {"ground_size": COMPUTED["difference"](of=sizes[:1], less=sizes[1:])}
    if "oversize" in inputs:
        return {"rebore_size": COMPUTED["sum"](of=(given(inputs["standard_bore"]), given(inputs["oversize"])))}
    journal = (given(inputs["journal"]),)
    if "shell" in inputs:
        housing, shell = given(inputs["housing"]), given(inputs["shell"])
        return {"clearance": COMPUTED["shell_clearance"](housing=(housing,), shell=(shell,), shaft=journal)}
    clearance = COMPUTED["clearance_mean"](bore=(given(inputs["bore"]),), shaft=journal)
    return {"clearance": clearance, "radial": COMPUTED["half"](of=(clearance,))}


def _lobing(inputs: Inputs) -> Outputs:
    if inputs["v_angle"] == "two-point":
        return {"factor": vee_block.two_point_factor(inputs["lobes"])}
    return {"factor": vee_block.vee_factor(inputs["lobes"], given(inputs["v_angle"]).in_unit("deg"))}


def _v_size(inputs: Inputs) -> Outputs:
    angle = given(inputs["v_angle"]).in_unit("deg")
    return {"reading_change": vee_block.reading_change(given(inputs["dD"]), angle)}


def _tir(inputs: Inputs) -> Outputs:
    if "readings" in inputs:
        readings = all_given(inputs["readings"])
        return {"TIR": COMPUTED["run_out"](of=readings), "eccentricity": COMPUTED["eccentricity"](of=readings)}
    difference = COMPUTED["difference"](of=(given(inputs["bottom"]),), less=(given(inputs["top"]),))
    return {"offset": COMPUTED["half"](of=(difference,))}


def _backlash(inputs: Inputs) -> Outputs:
    if "round_the_gear" in inputs:
        found = gears.round_the_gear(all_given(inputs["round_the_gear"]))
        return {"min": found.least, "max": found.greatest, "variation": found.variation}
    if "dC" in inputs:
        angle = given(inputs["pressure_angle"]).in_unit("deg")
        return {"change": gears.change_by_centres(given(inputs["dC"]), angle)}
    reading, radius = given(inputs["reading"]), given(inputs["at_radius"])
    return {
        "at_pitch_radius": gears.at_radius(reading, radius, given(inputs["pitch_radius"])),
        "angle": gears.play_angle(reading, radius),
    }


def _thermal(inputs: Inputs) -> Outputs:
    if "bore20" in inputs:
        bore, shaft = (thermal.expansion_of(inputs[f"{part}_material"]) for part in ("bore", "shaft"))
        sizes = given(inputs["bore20"]), given(inputs["shaft20"])
        return {"clearance": thermal.clearance_at(sizes[0], bore, sizes[1], shaft, given(inputs["temperature"]))}
    if "gauge" in inputs:
        part, gauge = ((expansion_in(inputs[f"alpha_{one}"]), given(inputs[f"{one}_t"])) for one in ("part", "gauge"))
        return {"read_error": thermal.reading_error(given(inputs["L"]), part, gauge)}
    alpha = expansion_in(inputs["alpha"]) if "alpha" in inputs else thermal.expansion_of(inputs["material"])
    if "interference" in inputs:
        wanted = given(inputs["interference"]), given(inputs["extra"])
        return {"heat_to": thermal.heat_to(*wanted, given(inputs["d"]), alpha, given(inputs["room"]))}
    if "L_read" in inputs:
        return {"L20": thermal.at_reference(given(inputs["L_read"]), alpha, given(inputs["temperature"]))}
    return {"change": thermal.growth(given(inputs["L"]), alpha, given(inputs["from"]), given(inputs["to"]))}


KINDS = {
    "bearing": _bearing,
    "lobing": _lobing,
    "v_size": _v_size,
    "tir": _tir,
    "backlash": _backlash,
    "thermal": _thermal,
}
