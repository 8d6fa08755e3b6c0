"""Reckonings of wrenches, threads, preload, angle and stretch."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from benchvoice.app.reckoning.fields import amount, maybe, measure, name, names, proportion, size
from benchvoice.app.reckoning.model import BadReckoning, Reckoning
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity, quantity
from benchvoice.tighten import preload, stretch, turns, wrench, wrench_class
from benchvoice.tighten.advice import ClampAdvice, angle_advice, snug_load, stretch_advice, torque_advice
from benchvoice.tighten.lubricant import CONDITIONS, Condition, condition_of
from benchvoice.tighten.orders import order_of, slackening
from benchvoice.tighten.strength import proof_load, strength_of
from benchvoice.tighten.threads import Thread, area_of, parse_thread

Results = Mapping[str, Any]

_LEVER = measure("the wrench's lever, from the middle of the grip to the square", "length", "12in")
_ADAPTER = amount("the adapter, from square to fastener", "length", "6in")
_ANGLE = measure("the adapter's angle to the lever, 0 straight ahead", "angle", "0deg", default="0deg")
_FACTOR = proportion("the nut factor K, given and never guessed", "0.2")
_DIAMETER = size("the thread's nominal diameter", "length", "10mm")
_THREAD = name("the thread, as it is written", "M10 x 1.5")
_CLASS = name("property class, or SAE grade of an inch thread", "10.9")
_SECTION = size("the length that stretches", "length", "48mm")
_AREA = size("its cross-section", "area", "58mm2")
_MODULUS = size("Young's modulus", "pressure", "205GPa", default="205GPa")


def _adapter(torque: Quantity, lever: Quantity, adapter: Quantity, angle: Quantity) -> Results:
    made = wrench.Adapter(length=adapter, lever=lever, angle=angle)
    return {"set": quantity(Fraction(torque.value) * made.ratio(), torque.unit)}


def _adapter_torque(set: Quantity, lever: Quantity, adapter: Quantity, angle: Quantity) -> Results:
    made = wrench.Adapter(length=adapter, lever=lever, angle=angle)
    return {"torque": quantity(Fraction(set.value) / made.ratio(), set.unit)}


def _drag(torque: Quantity, drag: Quantity) -> Results:
    return {"set": quantity(Fraction(torque.value) + drag.in_unit(torque.unit), torque.unit)}


def _wrench_range(torque: Quantity, capacity: Quantity) -> Results:
    return {"in_usable_range": wrench.well_inside(torque.in_unit(capacity.unit), capacity.value)}


def _wrench_off(shown: Quantity, reference: Quantity) -> Results:
    off = wrench_class.deviation(shown.in_unit("N_m"), reference.in_unit("N_m"))
    return {"deviation": quantity(off, "percent")}


def _torque(load: Quantity, factor: Decimal, diameter: Quantity) -> Results:
    torque = preload.torque_for(load.in_unit("N"), factor, diameter.in_unit("mm"))
    unit = "ft_lb" if diameter.unit == "in" else "N_m"
    return {"torque": quantity(convert(torque, "N_m", unit), unit)}


def _preload(torque: Quantity, factor: Decimal, diameter: Quantity) -> Results:
    return {"load": quantity(preload.preload_from(torque.in_unit("N_m"), factor, diameter.in_unit("mm")), "N")}


def _thread(size: str) -> Results:
    thread = parse_thread(size)
    return {
        "pitch_diameter": quantity(thread.pitch_diameter, "mm"),
        "root_diameter": quantity(thread.root_diameter, "mm"),
        "nut_bore": quantity(thread.nut_bore, "mm"),
        "stress_area": quantity(thread.stress_area, "mm2"),
    }


def _proof(size: str, strength: str) -> Results:
    thread = parse_thread(size)
    found = strength_of(strength, thread)
    return {"proof_stress": found.proof, "proof_load": quantity(proof_load(area_of(thread), found), "N")}


def _clamp(torque: Quantity, size: str, strength: str, condition: str) -> Results:
    thread = parse_thread(size)
    found = torque_advice(torque.value, torque.unit, _condition(condition), thread, strength_of(strength, thread))
    return _advised(found)


def _clamp_angle(
    angle: Quantity,
    snug: Quantity,
    condition: str,
    size: str,
    strength: str,
    grip: Quantity,
    shank: Quantity,
    across: Quantity | None,
    joint: Quantity | None,
) -> Results:
    thread = parse_thread(size)
    load = snug_load(snug.value, snug.unit, _condition(condition), thread)
    stiff = None if joint is None else joint.in_unit("N_per_mm")
    bolt = _bolt_of(thread, grip, shank, across)
    return _advised(angle_advice(angle.in_unit("deg"), load, bolt, thread, strength_of(strength, thread), stiff))


def _clamp_stretch(
    stretched: Quantity, size: str, strength: str, grip: Quantity, shank: Quantity, across: Quantity | None
) -> Results:
    thread, longer = parse_thread(size), stretched.in_unit("mm")
    bolt = _bolt_of(thread, grip, shank, across)
    return _advised(stretch_advice(longer, longer, bolt, thread, strength_of(strength, thread)))


def _condition(said: str) -> Condition:
    found = condition_of(said)
    if found is None:
        raise BadReckoning(f"{said!r} is not a condition of a thread: give one of {', '.join(CONDITIONS)}")
    return found


def _bolt_of(thread: Thread, grip: Quantity, shank: Quantity, across: Quantity | None) -> tuple[stretch.Section, ...]:
    plain = shank.in_unit("mm")
    return stretch.in_the_grip(
        thread, grip.in_unit("mm") - plain, plain, None if across is None else across.in_unit("mm")
    )


def _advised(advice: ClampAdvice) -> Results:
    loads = {"likely": advice.likely, "least": advice.least, "greatest": advice.greatest, "proof": advice.proof}
    return {**{key: quantity(load, "N") for key, load in loads.items()}, "advice": advice.sentence}


def _section(length: Quantity, area: Quantity) -> list[stretch.Section]:
    return [stretch.Section(length=length.in_unit("mm"), area=area.in_unit("mm2"))]


def _bolt_stretch(load: Quantity, length: Quantity, area: Quantity, modulus: Quantity) -> Results:
    longer = stretch.stretch(load.in_unit("N"), _section(length, area), modulus.in_unit("MPa"))
    return {"stretch": quantity(convert(longer, "mm", length.unit), length.unit)}


def _bolt_load(stretched: Quantity, length: Quantity, area: Quantity, modulus: Quantity) -> Results:
    load = stretch.load_from(stretched.in_unit("mm"), _section(length, area), modulus.in_unit("MPa"))
    return {"load": quantity(load, "N")}


def _nut_angle(load: Quantity, pitch: Quantity, bolt: Quantity, joint: Quantity | None) -> Results:
    parts = None if joint is None else joint.in_unit("N_per_mm")
    angle = turns.angle_for(load.in_unit("N"), pitch.in_unit("mm"), bolt.in_unit("N_per_mm"), parts)
    return {"angle": quantity(angle, "deg")}


def _angle_load(angle: Quantity, pitch: Quantity, bolt: Quantity, joint: Quantity | None, snug: Quantity) -> Results:
    parts = None if joint is None else joint.in_unit("N_per_mm")
    load = turns.load_after(
        angle.in_unit("deg"), pitch.in_unit("mm"), bolt.in_unit("N_per_mm"), parts, snug.in_unit("N")
    )
    return {"load": quantity(load, "N")}


def _order(pattern: str, positions: list[str]) -> Results:
    order = order_of(pattern, positions)
    return {"order": list(order), "slackening": list(slackening(order))}


_CONDITION = name("the condition of the thread", "oiled")
_GRIP = {
    "grip": size("the length that stretches, shank and all", "length", "48mm"),
    "shank": amount("how much of it is plain shank", "length", "0mm", default="0mm"),
    "across": maybe(size("the shank's diameter (left out: the thread's)", "length", "10mm")),
}
_PITCH = size("the thread's pitch", "length", "1.5mm")
_BOLT = size("the bolt's stiffness", "stiffness", "199133N_per_mm")
_JOINT = maybe(size("the stiffness of what is clamped (left out: rigid)", "stiffness", "800000N_per_mm"))

_SCATTER = "scatter NASA RP-1228 (recalled)"

TABLE = (
    Reckoning(
        name="adapter",
        fields={
            "torque": size("the torque wanted at the fastener", "torque", "30ft_lb"),
            "lever": _LEVER,
            "adapter": _ADAPTER,
            "angle": _ANGLE,
        },
        formula="set = torque x L / (L + E cos a)",
        source="statics of the lever, the hand in the middle of the grip",
        function=_adapter,
    ),
    Reckoning(
        name="adapter_torque",
        fields={
            "set": size("what the wrench is set to", "torque", "20ft_lb"),
            "lever": _LEVER,
            "adapter": _ADAPTER,
            "angle": _ANGLE,
        },
        formula="torque = set x (L + E cos a) / L",
        source="statics of the lever, the hand in the middle of the grip",
        function=_adapter_torque,
    ),
    Reckoning(
        name="drag_torque",
        fields={
            "torque": size("the torque wanted above the drag", "torque", "30N_m"),
            "drag": amount("what a free fastener drags", "torque", "4N_m"),
        },
        formula="set = torque + drag",
        source="common practice, no source",
        function=_drag,
    ),
    Reckoning(
        name="wrench_range",
        fields={
            "torque": size("the torque wanted", "torque", "65N_m"),
            "capacity": size("the wrench's greatest torque", "torque", "200N_m"),
        },
        formula="a fifth of the capacity <= torque <= capacity",
        source="common practice, no source",
        function=_wrench_range,
    ),
    Reckoning(
        name="wrench_deviation",
        fields={
            "shown": amount("what the tool shows or is set to", "torque", "100N_m"),
            "reference": size("what the reference reads", "torque", "97N_m"),
        },
        formula="100 (shown - reference) / reference",
        source="ISO 6789 (recalled); 4 or 6 % by type and class",
        function=_wrench_off,
    ),
    Reckoning(
        name="bolt_torque",
        fields={
            "load": size("the clamp load wanted", "force", "25000N"),
            "factor": _FACTOR,
            "diameter": _DIAMETER,
        },
        formula="T = K D F",
        source="handbook formula",
        function=_torque,
        caution="K scatters by a quarter or more: the maker's torque wins",
    ),
    Reckoning(
        name="bolt_preload",
        fields={"torque": size("the torque", "torque", "50N_m"), "factor": _FACTOR, "diameter": _DIAMETER},
        formula="F = T / (K D)",
        source="handbook formula",
        function=_preload,
        caution="K scatters by a quarter or more: this is advice, not a permission",
    ),
    Reckoning(
        name="thread",
        fields={"size": _THREAD},
        formula="ISO 68-1, ISO 724, stress area pi/4 ((d2 + d3)/2)^2; inch: D - 0.9743 P",
        source="ISO 68-1, ISO 724, ISO 898-1, ASME B1.1 (recalled)",
        function=_thread,
    ),
    Reckoning(
        name="proof_load",
        fields={"size": _THREAD, "strength": _CLASS},
        formula="proof stress x printed stress area",
        source="ISO 898-1, SAE J429 (recalled)",
        function=_proof,
    ),
    Reckoning(
        name="clamp",
        fields={
            "torque": size("the torque", "torque", "65N_m"),
            "size": _THREAD,
            "strength": _CLASS,
            "condition": _CONDITION,
        },
        formula="F = T / (K D), K usual for the condition, with its scatter",
        source=f"handbook formula; K common practice, no source; {_SCATTER}",
        function=_clamp,
    ),
    Reckoning(
        name="clamp_angle",
        fields={
            "angle": amount("the angle from snug", "angle", "60deg"),
            "snug": size("the torque at snug", "torque", "25N_m"),
            "condition": _CONDITION,
            "size": _THREAD,
            "strength": _CLASS,
            **_GRIP,
            "joint": _JOINT,
        },
        formula="snug T / (K D) + angle/360 x P / (1/kb + 1/kj), at most the load at yield",
        source=f"elasticity; K and E common practice, no source; {_SCATTER}",
        function=_clamp_angle,
        caution="with a joint that gives, the clamp is less: leave it out only where it is far stiffer than the bolt",
    ),
    Reckoning(
        name="clamp_stretch",
        fields={
            "stretched": amount("tight length less free length", "length", "0.14mm"),
            "size": _THREAD,
            "strength": _CLASS,
            **_GRIP,
        },
        formula="stretch x E / sum(L/A), at most the load at yield",
        source=f"elasticity; E common practice, no source; {_SCATTER}",
        function=_clamp_stretch,
    ),
    Reckoning(
        name="bolt_stretch",
        fields={
            "load": amount("the load", "force", "20000N"),
            "length": _SECTION,
            "area": _AREA,
            "modulus": _MODULUS,
        },
        formula="F L / (E A)",
        source="elasticity",
        function=_bolt_stretch,
    ),
    Reckoning(
        name="bolt_load",
        fields={
            "stretched": amount("tight length less free length", "length", "0.15mm"),
            "length": _SECTION,
            "area": _AREA,
            "modulus": _MODULUS,
        },
        formula="stretch x E A / L",
        source="elasticity",
        function=_bolt_load,
    ),
    Reckoning(
        name="nut_angle",
        fields={
            "load": amount("the load above snug", "force", "25275N"),
            "pitch": _PITCH,
            "bolt": _BOLT,
            "joint": _JOINT,
        },
        formula="360 F (1/kb + 1/kj) / P",
        source="elasticity",
        function=_nut_angle,
    ),
    Reckoning(
        name="angle_load",
        fields={
            "angle": amount("the angle from snug", "angle", "90deg"),
            "pitch": _PITCH,
            "bolt": _BOLT,
            "joint": _JOINT,
            "snug": amount("the load at snug", "force", "5000N", default="0N"),
        },
        formula="snug + angle/360 x P / (1/kb + 1/kj)",
        source="elasticity",
        function=_angle_load,
    ),
    Reckoning(
        name="order",
        fields={
            "pattern": name("the pattern's name", "star"),
            "positions": names("the positions as they lie", "1,2,3,4,5,6"),
        },
        formula="each position once, by the pattern's rule",
        source="common practice, no source; ring orders as ASME PCC-1 legacy (recalled)",
        function=_order,
    ),
)
