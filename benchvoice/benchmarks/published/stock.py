"""Adapters of choosing from stock: shims, lash shims, feeler leaves."""

from collections.abc import Mapping
from decimal import Decimal

from benchvoice.benchmarks.published.notation import (
    Inputs,
    Outputs,
    difference_in,
    fraction,
    given,
    in_unit_of,
    plain,
    text_of,
    unit_of,
)
from benchvoice.quantity import feelers, shims
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.values import Quantity


def _limits(inputs: Inputs, part: Mapping[str, str]) -> Limits:
    """Limits in the unit of a part."""
    low, high = in_unit_of(inputs["low"], part), in_unit_of(inputs["high"], part)
    return Limits(low=low, high=high, unit=unit_of(part["unit"]))


def _shim(inputs: Inputs) -> Outputs:
    if "wanted_preload" in inputs:
        return {"shim": shims.preload_shim(given(inputs["gap_without_shim"]), given(inputs["wanted_preload"]))}
    if "wanted_clearance" in inputs:
        depth, width = given(inputs["housing_depth"]), given(inputs["bearing_width"])
        return {"shim": shims.clearance_shim(depth, width, given(inputs["wanted_clearance"]))}
    fitted = given(inputs["fitted"])
    stock = [thickness for one in inputs["stock"] if (thickness := in_unit_of(one, inputs["fitted"])) is not None]
    choice = shims.choose_shim(
        fitted.value,
        in_unit_of(inputs["measured_play"], inputs["fitted"]) or Decimal(0),
        _limits(inputs, inputs["fitted"]),
        stock,
    )
    return {
        "needed_for_middle": Quantity(value=choice.needed, unit=fitted.unit),
        "choose": [f"{shim:f}" for shim in choice.shims],
        "resulting_play": [text_of(play) for play in choice.plays],
        "in_limits": choice.in_limits,
    }


def _valve(inputs: Inputs) -> Outputs:
    if "screw_pitch" in inputs:
        change, pitch = given(inputs["lash_change_at_valve"]), given(inputs["screw_pitch"])
        turn = shims.screw_turn(change, fraction(inputs["rocker_ratio"]), pitch)
        return {"turns": turn, "degrees": {"value": turn.in_unit("deg"), "unit": "deg"}}
    if "hot" in inputs:
        return {"cold": shims.cold_lash(given(inputs["hot"]), given(inputs["growth_closes"]))}
    old = given(inputs["old_shim"])
    measured, step = (difference_in(inputs[name], inputs["old_shim"]) for name in ("measured", "stock_step"))
    lash = shims.lash_shim(old.value, measured, _limits(inputs, inputs["old_shim"]), step)
    return {
        "needed": Quantity(value=lash.needed, unit=old.unit),
        "choose": Quantity(value=lash.shim, unit=old.unit),
        "resulting": Quantity(value=lash.lash, unit=old.unit),
        "in_limits": lash.in_limits,
        "change_needed": lash.change_needed,
    }


def _feeler(inputs: Inputs) -> Outputs:
    if "go" in inputs:
        go = given(inputs["go"])
        gap = feelers.between(go.value, difference_in(inputs["no_go"], inputs["go"]))
        names = {"gap_at_least": gap.low, "gap_below": gap.high, "middle": gap.middle, "u_rectangular": gap.u}
        return {name: Quantity(value=value, unit=go.unit) for name, value in names.items()}
    stacks = feelers.stacks(plain(inputs["want"]["value"]), [plain(leaf) for leaf in inputs["set"]])
    return {
        "fewest_leaves": len(stacks[0]) if stacks else None,
        "stacks": [[f"{leaf:f}" for leaf in stack] for stack in stacks],
    }


KINDS = {"shim": _shim, "valve": _valve, "feeler": _feeler}
