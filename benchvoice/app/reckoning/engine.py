"""Reckonings of cylinders, heat and gears."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from benchvoice.app.reckoning.fields import (
    amount,
    maybe,
    measure,
    name,
    number,
    pairs,
    proportion,
    several,
    size,
    whole,
)
from benchvoice.app.reckoning.model import BadReckoning, Reckoning
from benchvoice.quantity import cylinder, gears, thermal
from benchvoice.quantity.values import Quantity, quantity

Results = Mapping[str, Any]


def _ring_gap(bore: Quantity, factor: Decimal) -> Results:
    return {"gap": cylinder.ring_gap(bore, factor)}


def _gap_growth(wear: Quantity) -> Results:
    return {"growth": cylinder.ring_gap_growth(wear)}


def _compression(cylinders: int, **sizes: Quantity) -> Results:
    found = cylinder.volumes(cylinders=cylinders, **sizes)
    return {
        "swept": found.swept,
        "clearance": found.clearance,
        "ratio": found.ratio,
        "gasket": found.gasket,
        "deck": found.deck,
        "displacement": found.displacement,
    }


def _disc(diameter: Quantity, height: Quantity) -> Results:
    return {"volume": quantity(cylinder.disc(diameter, height), "cc")}


def _clearance_volume(swept: Quantity, ratio: Decimal) -> Results:
    return {"clearance": cylinder.clearance_for(swept, ratio)}


def _speed(stroke: Quantity, speed: Quantity) -> Results:
    return {"mean_speed": cylinder.mean_piston_speed(stroke, speed, "ft_min" if stroke.unit == "in" else "m_s")}


def _drop(stroke: Quantity, rod: Quantity, angle: Quantity) -> Results:
    return {"drop": cylinder.piston_drop(stroke, rod, angle.in_unit("deg"))}


def _rim(diameter: Quantity, angle: Quantity) -> Results:
    return {"distance": cylinder.rim_distance(diameter, angle)}


def _tdc(before: Quantity, after: Quantity) -> Results:
    return {"top_dead_centre": cylinder.top_dead_centre(before, after)}


def _even(pressures: tuple[Quantity, ...]) -> Results:
    if len(pressures) < 2:
        raise BadReckoning("one cylinder is even with itself: give the readings of all")
    share = cylinder.weakest_over_best(pressures)
    return {"lowest_over_highest": share, "even": share >= cylinder.WEAKEST_OVER_BEST}


def _leak(supply: Quantity, holds: Quantity) -> Results:
    if holds.in_unit(supply.unit) > supply.value:
        raise BadReckoning(f"a cylinder can't hold {holds} of {supply}: look at the two figures")
    return {"leakage": cylinder.leakage(supply, holds)}


def _alpha(material: str | None, alpha: Quantity | None) -> Decimal:
    if alpha is not None:
        return alpha.value
    if material is None:
        raise BadReckoning("give the material by name, or its expansion as alpha")
    return thermal.expansion_of(material)


def _growth(length: Quantity, cold: Quantity, warm: Quantity, material: str | None, alpha: Quantity | None) -> Results:
    return {"growth": thermal.growth(length, _alpha(material, alpha), cold, warm)}


def _at_20(reading: Quantity, temperature: Quantity, material: str | None, alpha: Quantity | None) -> Results:
    return {"at_20_degrees": thermal.at_reference(reading, _alpha(material, alpha), temperature)}


def _clearance_at(bore: Quantity, bore_of: str, shaft: Quantity, shaft_of: str, temperature: Quantity) -> Results:
    alphas = thermal.expansion_of(bore_of), thermal.expansion_of(shaft_of)
    return {"clearance": thermal.clearance_at(bore, alphas[0], shaft, alphas[1], temperature)}


def _heat_to(
    interference: Quantity,
    room: Quantity,
    diameter: Quantity,
    temperature: Quantity,
    material: str | None,
    alpha: Quantity | None,
) -> Results:
    return {"heat_to": thermal.heat_to(interference, room, diameter, _alpha(material, alpha), temperature)}


def _backlash(reading: Quantity, at: Quantity, to: Quantity) -> Results:
    return {"backlash": gears.at_radius(reading, at, to), "angle": gears.play_angle(reading, at)}


def _centres(apart: Quantity, pressure_angle: Quantity) -> Results:
    return {"change": gears.change_by_centres(apart, pressure_angle.in_unit("deg"))}


def _moved(moved: Quantity, pressure_angle: Quantity, cone: Quantity) -> Results:
    return {"change": gears.change_by_shims(moved, pressure_angle.in_unit("deg"), cone.in_unit("deg"))}


def _round(readings: tuple[Quantity, ...]) -> Results:
    found = gears.round_the_gear(readings)
    return {"least": found.least, "greatest": found.greatest, "variation": found.variation}


def _ratio(stages: list[tuple[int, int]]) -> Results:
    return {"ratio": gears.ratio(stages)}


def _mesh(driver: int, driven: int) -> Results:
    return {"turns_to_meet_again": gears.turns_to_meet_again(driver, driven), "hunting": gears.hunting(driver, driven)}


_BORE = size("the bore", "length", "86.0mm")
_STROKE = size("the stroke", "length", "86.0mm")
_PRESSURE_ANGLE = measure("the pressure angle", "angle", "20deg", default="20deg")
_MATERIAL = maybe(name("the material", "steel"), typical=True)
_ALPHA = maybe(measure("its expansion, when known better than the handbook", "expansion", "0.0000115per_K"))
_TEMPERATURE = measure("the temperature", "temperature", "31degC")
_DEFINITION = "definition"
_GEOMETRY = "geometry"
_ISO_1 = "ISO 1:2016; expansion from handbooks, about a tenth either way"

TABLE = (
    Reckoning(
        name="ring_gap",
        fields={"bore": size("the bore", "length", "4.000in"), "factor": proportion("gap per unit of bore", "0.004")},
        formula="factor x bore",
        source="common practice, no source; the maker's figure wins",
        function=_ring_gap,
    ),
    Reckoning(
        name="ring_gap_growth",
        fields={"wear": measure("how much the bore is larger", "length", "0.05mm")},
        formula="pi x wear",
        source=_GEOMETRY,
        function=_gap_growth,
    ),
    Reckoning(
        name="compression",
        fields={
            "bore": _BORE,
            "stroke": _STROKE,
            "chamber": amount("the chamber in the head", "volume", "50.0cc"),
            "gasket_bore": size("the gasket's bore", "length", "87.0mm"),
            "gasket_thickness": amount("the gasket, crushed", "length", "1.2mm"),
            "below_deck": measure("the piston below the deck (above: negative)", "length", "0.2mm"),
            "dish": measure("the piston's dish (a dome: negative)", "volume", "5.0cc"),
            "cylinders": whole("how many cylinders", "4", default="1", least=1),
        },
        formula="(swept + clearance) / clearance",
        source=_DEFINITION,
        function=_compression,
    ),
    Reckoning(
        name="disc_volume",
        fields={"diameter": _BORE, "height": measure("the height: a skim, a gasket", "length", "0.25mm")},
        formula="pi/4 d^2 h",
        source=_GEOMETRY,
        function=_disc,
    ),
    Reckoning(
        name="clearance_volume",
        fields={
            "swept": size("the swept volume", "volume", "499.56cc"),
            "ratio": number("the ratio wanted", "10.5"),
        },
        formula="swept / (ratio - 1)",
        source=_DEFINITION,
        function=_clearance_volume,
    ),
    Reckoning(
        name="piston_speed",
        fields={"stroke": _STROKE, "speed": amount("the engine's speed", "speed", "6000rpm")},
        formula="2 S n",
        source="kinematics",
        function=_speed,
    ),
    Reckoning(
        name="piston_drop",
        fields={
            "stroke": _STROKE,
            "rod": size("the rod between centres", "length", "143mm"),
            "angle": measure("crank angle from top dead centre", "angle", "28deg"),
        },
        formula="r (1 - cos a) + l - sqrt(l^2 - r^2 sin^2 a)",
        source="kinematics",
        function=_drop,
    ),
    Reckoning(
        name="rim_distance",
        fields={"diameter": size("the pulley", "length", "150mm"), "angle": measure("the angle", "angle", "10deg")},
        formula="pi D a / 360",
        source=_GEOMETRY,
        function=_rim,
    ),
    Reckoning(
        name="top_dead_centre",
        fields={
            "before": measure("wheel at the stop, before (negative)", "angle", "-38deg"),
            "after": measure("wheel at the stop, after", "angle", "34deg"),
        },
        formula="midway",
        source=_GEOMETRY,
        function=_tdc,
    ),
    Reckoning(
        name="even_compression",
        fields={"pressures": several("the readings of all cylinders", "11.8,12.1,11.5,12.0bar", kind="pressure")},
        formula="lowest / highest, three quarters at least",
        source="common practice, no source",
        function=_even,
    ),
    Reckoning(
        name="leakage",
        fields={
            "supply": size("the supply", "pressure", "100psi"),
            "holds": amount("what the cylinder holds", "pressure", "88psi"),
        },
        formula="1 - cylinder / supply",
        source=_DEFINITION,
        function=_leak,
    ),
    Reckoning(
        name="growth",
        fields={
            "length": size("the length", "length", "100mm"),
            "cold": measure("from", "temperature", "20degC", default="20degC"),
            "warm": measure("to", "temperature", "95degC"),
            "material": _MATERIAL,
            "alpha": _ALPHA,
        },
        formula="alpha L dt",
        source=_ISO_1,
        function=_growth,
    ),
    Reckoning(
        name="at_20_degrees",
        fields={
            "reading": size("the reading", "length", "95.412mm"),
            "temperature": _TEMPERATURE,
            "material": _MATERIAL,
            "alpha": _ALPHA,
        },
        formula="L / (1 + alpha (t - 20))",
        source=_ISO_1,
        function=_at_20,
    ),
    Reckoning(
        name="clearance_at",
        fields={
            "bore": size("the bore at 20 degrees", "length", "86.000mm"),
            "bore_of": name("what it is of", "cast iron"),
            "shaft": size("the shaft at 20 degrees", "length", "85.960mm"),
            "shaft_of": name("what it is of", "aluminium"),
            "temperature": _TEMPERATURE,
        },
        formula="bore - shaft, each grown by alpha L (t - 20)",
        source=_ISO_1,
        function=_clearance_at,
    ),
    Reckoning(
        name="heat_to",
        fields={
            "interference": amount("the interference", "length", "0.060mm"),
            "room": amount("room to work", "length", "0.050mm"),
            "diameter": size("the diameter", "length", "70mm"),
            "temperature": measure("the shop's temperature", "temperature", "20degC", default="20degC"),
            "material": _MATERIAL,
            "alpha": _ALPHA,
        },
        formula="t + (interference + room) / (alpha d)",
        source=_ISO_1,
        function=_heat_to,
        caution="hot parts burn, and bearings have a greatest temperature: the maker's figure wins",
    ),
    Reckoning(
        name="backlash",
        fields={
            "reading": amount("the reading", "length", "0.28mm"),
            "at": size("the radius it was read at", "length", "67.5mm"),
            "to": size("the pitch radius", "length", "54mm"),
        },
        formula="reading x r2 / r1; angle = reading / r1",
        source=_GEOMETRY,
        function=_backlash,
    ),
    Reckoning(
        name="backlash_by_centres",
        fields={"apart": measure("how far centres move apart", "length", "0.10mm"), "pressure_angle": _PRESSURE_ANGLE},
        formula="2 dC tan(phi)",
        source="handbook",
        function=_centres,
    ),
    Reckoning(
        name="backlash_by_shims",
        fields={
            "moved": measure("shim moved from side to side", "length", "0.05mm"),
            "pressure_angle": _PRESSURE_ANGLE,
            "cone": measure("the wheel's cone angle", "angle", "64.7deg"),
        },
        formula="2 x moved x tan(phi) x sin(cone)",
        source=_GEOMETRY,
        function=_moved,
    ),
    Reckoning(
        name="round_the_gear",
        fields={"readings": several("backlash round the gear", "0.14,0.17,0.19,0.15mm", kind="length")},
        formula="least, greatest, their difference; judge the tightest place",
        source=_DEFINITION,
        function=_round,
    ),
    Reckoning(
        name="gear_ratio",
        fields={"stages": pairs("driver and driven teeth of each stage", "18:32,20:30")},
        formula="product of driven / driver",
        source=_DEFINITION,
        function=_ratio,
    ),
    Reckoning(
        name="meshing",
        fields={"driver": whole("driver's teeth", "17"), "driven": whole("driven teeth", "36")},
        formula="driven / greatest common divisor",
        source=_DEFINITION,
        function=_mesh,
    ),
)
