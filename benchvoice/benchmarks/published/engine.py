"""Adapters of the engine: ring gap, volumes, piston."""

from benchvoice.benchmarks.published.notation import Inputs, Outputs, given, plain
from benchvoice.quantity import cylinder
from benchvoice.quantity.values import Quantity, quantity


def _ring_gap(inputs: Inputs) -> Outputs:
    if "bore_wear" in inputs:
        return {"gap_growth": cylinder.ring_gap_growth(given(inputs["bore_wear"]))}
    bore = given(inputs["bore"])
    return {f"gap_{end}": cylinder.ring_gap(bore, plain(inputs[f"factor_{end}"])) for end in ("low", "high")}


def _compression(inputs: Inputs) -> Outputs:
    if "skim" in inputs:
        removed = cylinder.disc(given(inputs["bore"]), given(inputs["skim"]))
        return {"volume_removed_if_open_to_bore": quantity(removed, "cc")}
    if "CR" in inputs:
        return {"clearance": cylinder.clearance_for(given(inputs["swept"]), plain(inputs["CR"]))}
    found = cylinder.volumes(
        bore=given(inputs["bore"]),
        stroke=given(inputs["stroke"]),
        chamber=given(inputs["chamber"]),
        gasket_bore=given(inputs["gasket_bore"]),
        gasket_thickness=given(inputs["gasket_thickness"]),
        below_deck=given(inputs["piston_below_deck"]),
        dish=given(inputs["dish"]),
        cylinders=inputs["cylinders"],
    )
    return {
        "swept": found.swept,
        "gasket": found.gasket,
        "deck": found.deck,
        "clearance": found.clearance,
        "CR": found.ratio,
        "displacement": found.displacement,
    }


def _piston(inputs: Inputs) -> Outputs:
    if "rpm" in inputs:
        speed = Quantity(value=plain(inputs["rpm"]), unit="rpm")
        return {"mean_speed": cylinder.mean_piston_speed(given(inputs["stroke"]), speed)}
    if "rod" in inputs:
        angle = given(inputs["crank_angle"]).in_unit("deg")
        return {"drop": cylinder.piston_drop(given(inputs["stroke"]), given(inputs["rod"]), angle)}
    if "pulley_diameter" in inputs:
        return {"rim_distance": cylinder.rim_distance(given(inputs["pulley_diameter"]), given(inputs["angle"]))}
    return {"tdc_mark": cylinder.top_dead_centre(given(inputs["stop_before"]), given(inputs["stop_after"]))}


KINDS = {"ring_gap": _ring_gap, "compression": _compression, "piston": _piston}
