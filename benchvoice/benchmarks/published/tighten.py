"""Published values of tightening: threads, bolts, torque and angle, wrenches, orders, and facts of the trade.

Each adapter takes a case's `inputs` and gives what stands under `expected` in a file like check-values.json. It reads
the case's notation and calls the library; what it gives is always reckoned.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from benchvoice.benchmarks.published.notation import Inputs, Outputs, fraction, unit_of
from benchvoice.quantity.gauges import Sense, bore_size
from benchvoice.quantity.practice import (
    JOURNAL,
    repeat_warning,
    same_size_name,
    size_name_gap,
    two_point_warning,
)
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.speech.say import say_digits, say_read_back
from benchvoice.tighten import joint, preload, stretch, turns, wrench
from benchvoice.tighten.advice import reuse_advice
from benchvoice.tighten.order_rules import ring_rules, row_rules
from benchvoice.tighten.stages import AngleStage, TorqueStage, rising, snug_torque, total_angle
from benchvoice.tighten.strength import printed_proof_load, proof_load, property_class, sae_grade
from benchvoice.tighten.threads import Thread, metric, parse_thread, printed_stress_area, unified
from benchvoice.tighten.wrench_class import conforms, deviation, permissible_deviation

Adapter = Callable[[Inputs], Outputs]


def _in(written: Mapping[str, str], unit: str) -> Fraction:
    """A case's quantity in a unit of the library."""
    return convert(fraction(written["value"]), unit_of(written["unit"]), unit)


def _out(value: Fraction, unit: str) -> Outputs:
    return {"value": value, "unit": unit}


def _thread(inputs: Inputs) -> Thread:
    return metric(_in(inputs["d"], "mm"), _in(inputs["P"], "mm"))


def thread_metric(inputs: Inputs) -> Outputs:
    """Geometry and stress area of a thread `d` by `P`."""
    thread = _thread(inputs)
    return {
        "d2": _out(thread.pitch_diameter, "mm"),
        "d3": _out(thread.root_diameter, "mm"),
        "D1": _out(thread.nut_bore, "mm"),
        "As": _out(thread.stress_area, "mm2"),
        "As_table": _out(printed_stress_area(thread), "mm2"),
    }


def thread_inch(inputs: Inputs) -> Outputs:
    """Stress area of a thread `D` with `n` threads per inch."""
    thread = unified(_in(inputs["D"], "in"), fraction(inputs["n"]["value"]))
    return {
        "As": _out(thread.stress_area, "mm2"),
        "As_table": _out(printed_stress_area(thread), "in2"),
    }


def property_class_(inputs: Inputs) -> Outputs:
    """Stresses and proof load of a `class` at a `thread`."""
    thread = parse_thread(inputs["thread"])
    strength = property_class(inputs["class"], thread.diameter)
    return {
        "Rm_nominal": _out(strength.tensile.in_unit("MPa"), "MPa"),
        "yield_nominal": _out(strength.yields.in_unit("MPa"), "MPa"),
        "proof_stress": _out(strength.proof.in_unit("MPa"), "MPa"),
        "proof_load_product": _out(proof_load(_in(inputs["As_nominal"], "mm2"), strength), "N"),
        "proof_load_table": _out(printed_proof_load(thread, inputs["class"]), "N"),
    }


def sae_grade_(inputs: Inputs) -> Outputs:
    """Stresses and proof load of a `grade` at a `size`."""
    thread = parse_thread(inputs["size"])
    strength = sae_grade(inputs["grade"], convert(thread.diameter, "mm", "in"))
    load = proof_load(_in(inputs["As_table"], "mm2"), strength)
    return {
        "proof_ksi": int(strength.proof.value / 1000),
        "yield_ksi": int(strength.yields.value / 1000),
        "tensile_ksi": int(strength.tensile.value / 1000),
        "proof_load": _out(load, "N"),
    }


def torque_kdf(inputs: Inputs) -> Outputs:
    """Torque from preload `F`, or preload from torque `T`, by nut factor `K`."""
    factor, diameter = fraction(inputs["K"]), _in(inputs["D"], "mm")
    if "T" in inputs:
        return {"F": _out(preload.preload_from(_in(inputs["T"], "N_m"), factor, diameter), "N")}
    torque = preload.torque_for(_in(inputs["F"], "N"), factor, diameter)
    return {
        "T": _out(torque, "N_m"),
        "T_lbf_in": _out(torque, "N_m"),
        "T_lbf_ft": _out(torque, "N_m"),
    }


def torque_friction(inputs: Inputs) -> Outputs:
    """Torque and nut factor from friction."""
    thread, load = _thread(inputs), _in(inputs["F"], "N")
    friction = preload.Friction(
        thread=fraction(inputs["mu_thread"]),
        head=fraction(inputs["mu_head"]),
        outer=_in(inputs["Do"], "mm"),
        inner=_in(inputs["dh"], "mm"),
    )
    return {
        "T_iso16047": _out(preload.torque_iso_16047(load, thread, friction).total, "N_m"),
        "T_vdi2230": _out(preload.torque_vdi_2230(load, thread, friction).total, "N_m"),
        "K": _out(preload.nut_factor(thread, friction), "1"),
    }


def vdi_preload(inputs: Inputs) -> Outputs:
    """Assembly preload at nine tenths of yield."""
    load = preload.preload_at_yield(_in(inputs["Rp02"], "MPa"), _thread(inputs), fraction(inputs["mu"]))
    return {"F_M": _out(load, "N")}


def stretch_(inputs: Inputs) -> Outputs:
    """Stretch and stiffness under a load `F`, or the load from a `stretch`."""
    modulus = _in(inputs["E"], "MPa")
    bolt = [stretch.Section(length=_in(s["L"], "mm"), area=_in(s["A"], "mm2")) for s in inputs["sections"]]
    if "stretch" in inputs:
        return {"F": _out(stretch.load_from(_in(inputs["stretch"], "mm"), bolt, modulus), "N")}
    return {
        "stretch": _out(stretch.stretch(_in(inputs["F"], "N"), bolt, modulus), "mm"),
        "k": _out(stretch.stiffness(bolt, modulus), "N_per_mm"),
    }


def angle(inputs: Inputs) -> Outputs:
    """Torque and angle: stages, angles as said, advance, angle for a load, load after an angle."""
    if "stages" in inputs:
        return _stages(inputs["stages"])
    if "spoken" in inputs:
        return {"angle": _out(turns.said_angle(inputs["spoken"], inputs["head"]), "deg")}
    pitch = _in(inputs["P"], "mm")
    if "turns" in inputs:
        return {"advance": _out(turns.advance(fraction(inputs["turns"]), pitch), "mm")}
    bolt = _in(inputs["kb"], "N_per_mm")
    parts = None if inputs["kj"] is None else _in(inputs["kj"], "N_per_mm")
    if "angle" in inputs:
        snug = _in(inputs["F_snug"], "N")
        return {"F": _out(turns.load_after(_in(inputs["angle"], "deg"), pitch, bolt, parts, snug), "N")}
    return {"angle": _out(turns.angle_for(_in(inputs["F"], "N"), pitch, bolt, parts), "deg")}


def _stages(texts: Sequence[str]) -> Outputs:
    stages: list[TorqueStage | AngleStage] = []
    for text in texts:
        value, unit = text.split()
        figure = Quantity(value=Decimal(value), unit=unit_of(unit))
        turned = kind_of(figure.unit) == "angle"
        stages.append(AngleStage(angle=figure) if turned else TorqueStage(torque=figure))
    return {"angle_total": _out(total_angle(stages), "deg"), "snug": snug_torque(stages)}


def adapter(inputs: Inputs) -> Outputs:
    """The number to set for a torque `T`, or the torque from a setting `T_set`, in the unit of the case."""
    lever, length, theta = _in(inputs["L"], "mm"), _in(inputs["E"], "mm"), _in(inputs["theta"], "deg")
    if "T_set" in inputs:
        torque = wrench.torque_from(fraction(inputs["T_set"]["value"]), lever, length, theta)
        return {"T": _out(torque, inputs["T_set"]["unit"])}
    setting = wrench.setting_for(fraction(inputs["T"]["value"]), lever, length, theta)
    return {"T_set": _out(setting, inputs["T"]["unit"])}


def wrench_class(inputs: Inputs) -> Outputs:
    """The limit of a tool's class, its deviation, and whether that is inside."""
    limit = permissible_deviation(inputs["type"], inputs["class"], _in(inputs["max_torque"], "N_m"))
    indicated, reference = _in(inputs["set"], "N_m"), _in(inputs["reference"], "N_m")
    return {
        "limit_percent": str(limit),
        "deviation": _out(deviation(indicated, reference), "%"),
        "conforms": conforms(indicated, reference, limit),
    }


def stage(inputs: Inputs) -> Outputs:
    """Rising stages as shares of a final torque."""
    stages = rising(fraction(inputs["final"]["value"]), [fraction(share) for share in inputs["fractions"]])
    return {"stages": [f"{to_decimal(torque):f}" for torque in stages]}


def pattern_ring(inputs: Inputs) -> Outputs:
    """Which rules an order round a ring keeps."""
    ring = [str(position) for position in range(1, inputs["n"] + 1)]
    rules = ring_rules([str(position) for position in inputs["order"]], ring)
    return {
        "R1_permutation": rules.permutation,
        "R2_opposites": rules.opposites,
        "R3_no_neighbours": rules.no_neighbours,
        "valid": rules.valid,
    }


def pattern_rows(inputs: Inputs) -> Outputs:
    """Which rules an order over two rows keeps."""
    rules = row_rules(inputs["order"], joint.two_rows(inputs["n"]).positions)
    return {
        "S1_permutation": rules.permutation,
        "S2_centre_first": rules.centre_first,
        "S3_outwards": rules.outwards,
        "S4_crosswise": rules.crosswise,
        "valid": rules.valid,
    }


def trade(inputs: Inputs) -> Outputs:
    """Facts of the trade: which one is asked shows in the inputs."""
    return next(fact(inputs) for key, fact in _FACTS.items() if key in inputs)


def _size_names(inputs: Inputs) -> Outputs:
    mm, thou = Decimal(inputs["named_mm"]["value"]), Decimal(inputs["named_thou"]["value"])
    return {"same_oversize_name": same_size_name(mm, thou), "difference": _out(size_name_gap(mm, thou), "mm")}


_COUNTS = (
    *("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen"),
    *("fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)


def _joint(inputs: Inputs) -> Outputs:
    """A joint in words: "ten bolts in two rows of five, slackening", "six studs in a ring"."""
    words = inputs["joint"]
    shaft = "shaft" in words
    rows = re.search(r"two rows of (\w+)", words)
    described = (
        joint.two_rows(_COUNTS.index(rows[1]) + 2, holds_shaft=shaft)
        if rows
        else joint.ring(_COUNTS.index(words.split()[0]) + 2, holds_shaft=shaft)
    )
    way = joint.loosening(described) if "slackening" in words else joint.tightening(described)
    return {
        "order_rule": way.rule,
        "stages": way.stages,
        "between_stages": way.between,
        "example_order": list(way.order),
        "stages_rise": joint.named_stages_rise(inputs.get("stages", [])),
    }


def _wrench_range(inputs: Inputs) -> Outputs:
    target, most = _in(inputs["target"], "N_m"), _in(inputs["wrench_max"], "N_m")
    return {"in_usable_range": wrench.well_inside(target, most, fraction(inputs["lowest_share"]))}


def _zeroed_on_the_journal(inputs: Inputs) -> Outputs:
    """Whatever the journal's size: the bore that the gauge finds, less the journal that it was set to."""
    journal = Quantity(value=Decimal("2.0000"), unit="in")
    dial = Quantity(value=Decimal(inputs["dial"]["value"]), unit=inputs["dial"]["unit"])
    bore = bore_size(journal, dial, Sense.LARGER)
    return {"clearance": _out(bore.in_unit(dial.unit) - journal.in_unit(dial.unit), dial.unit)}


def _used_bolt(inputs: Inputs) -> Outputs:
    return {"reuse": reuse_advice(into_yield="into yield" in inputs["bolt"], used_before=inputs["used_before"])}


def _stored_wrench(_inputs: Inputs) -> Outputs:
    return {"set_to": wrench.STORE_AT}


def _journal(_inputs: Inputs) -> Outputs:
    return {"readings_at_least": JOURNAL.least, "where": str(JOURNAL)}


def _lobes(_inputs: Inputs) -> Outputs:
    return {"warn": two_point_warning([2, 3, 4, 5])}


def _repeats(inputs: Inputs) -> Outputs:
    readings = [Quantity(value=Decimal(r["value"]), unit=r["unit"]) for r in inputs["repeat_readings"]]
    return {"warn": repeat_warning(readings)}


def _read_back(inputs: Inputs) -> Outputs:
    """An inch value: below one also in thou."""
    value = Decimal(inputs["read_back"])
    return {"say": say_read_back(value, "in") if abs(value) < 1 else say_digits(value)}


_FACTS: Mapping[str, Adapter] = MappingProxyType(
    {
        "named_mm": _size_names,
        "joint": _joint,
        "wrench_max": _wrench_range,
        "bore_gauge": _zeroed_on_the_journal,
        "bolt": _used_bolt,
        "click_wrench": _stored_wrench,
        "journal": _journal,
        "odd_lobes_suspected": _lobes,
        "repeat_readings": _repeats,
        "read_back": _read_back,
    }
)

KINDS: Mapping[str, Adapter] = MappingProxyType(
    {
        "thread_metric": thread_metric,
        "thread_inch": thread_inch,
        "property_class": property_class_,
        "sae_grade": sae_grade_,
        "torque_kdf": torque_kdf,
        "torque_friction": torque_friction,
        "vdi_preload": vdi_preload,
        "stretch": stretch_,
        "angle": angle,
        "adapter": adapter,
        "wrench_class": wrench_class,
        "stage": stage,
        "pattern_ring": pattern_ring,
        "pattern_rows": pattern_rows,
        "trade": trade,
    }
)
"""Kind of case -> what runs it."""
