"""Numbers without a unit word: what they can mean by the step's unit, its work and what it asks for.

The rules are those of the trade. In an inch step a bare number may be inches, thou or tenths; figures without a point
get it from the limits; a dial is read in divisions; a lone "half" may be half of anything.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from benchvoice.speech.measures import Measure
from benchvoice.speech.numbers import Form, Number, terminates
from benchvoice.speech.sense import Doubt, Sense, plain, times
from benchvoice.speech.units import Meaning, Setting

_THOU, _TENTH, _HUNDREDTH = Fraction(1, 1000), Fraction(1, 10000), Fraction(1, 100)

# Units that a bench reads in whole numbers, so that figures without a point are whole until limits say otherwise.
_WHOLE_UNITS = frozenset({"N_m", "ft_lb", "in_lb", "kgf_cm", "rpm", "deg", "degC", "degF", "delta_degC", "delta_degF",
                          "g", "psi", "kPa", "thou", "um", "s", "min", "N", "lbf", "cc"})  # fmt: skip

# The units that a step without one understands, by what it asks for and whether its work is in inches.
_USUAL: dict[tuple[str, bool], tuple[str, ...]] = {
    ("torque", False): ("N_m",),
    ("torque", True): ("ft_lb", "in_lb"),
    ("pressure", False): ("bar",),
    ("pressure", True): ("psi",),
    ("mass", False): ("g", "kg"),
    ("mass", True): ("oz", "lb"),
    ("temperature", False): ("degC",),
    ("temperature", True): ("degF",),
    ("angle", False): ("deg",),
    ("angle", True): ("deg",),
    ("speed", False): ("rpm",),
    ("speed", True): ("rpm",),
    ("ratio", False): ("1",),
    ("ratio", True): ("1",),
}


def bare(number: Number, measure: Measure, setting: Setting) -> Iterator[Sense]:
    """Every meaning of a number without a unit word."""
    if setting.unit is None:
        yield from _unit_unknown(number, measure, setting)
        return
    face = plain(number, setting.unit)
    if number.form is Form.FIGURES:
        yield from placed(face, setting.unit, setting)
    elif number.denominator is not None:
        yield from _lone_fraction(face, number.denominator, setting)
    elif setting.per_division is not None and not number.places and number.value:
        division = Meaning(unit=setting.unit, factor=Fraction(setting.per_division))
        yield times(face, division, None).doubting(Doubt.DIVISIONS)
    elif not number.value:
        yield face if setting.per_division is None else replace(face, step=Fraction(setting.per_division))
    else:
        yield face
        yield from _small_units(face, setting.unit)


# --- small units that go without saying ------------------------------------------------------------------------------


def _small_units(face: Sense, unit: str) -> Iterator[Sense]:
    """The everyday small units that a bare number may count: thou and tenths in an inch step, hundredths in metric.

    Whole numbers, halves, quarters and single decimals are said of thou; a number with more decimals is not, unless
    the limits ask for it. In a thou step a number with three decimals or more is meant in inches.
    """
    if unit == "in" and face.step >= Fraction(1, 100) and face.step.denominator in (1, 2, 4, 10, 100):
        whole = face.step >= 1
        yield _counted_in(face, unit, _THOU, by_limits=face.places > 1 and face.step.denominator != 4, rival=whole)
        if whole:
            yield _counted_in(face, unit, _TENTH)
    elif unit == "mm" and face.step >= Fraction(1, 2):
        yield _counted_in(face, unit, _HUNDREDTH, by_limits=True)
    elif unit == "thou" and face.places >= 3:
        yield _counted_in(face, unit, Fraction(1000))


def _counted_in(face: Sense, unit: str, factor: Fraction, by_limits: bool = False, rival: bool = False) -> Sense:
    small = times(face, Meaning(unit=unit, factor=factor), None)
    return replace(small.doubting(Doubt.UNIT), scaled=True, by_limits=by_limits, rival=rival)


def _lone_fraction(face: Sense, denominator: int, setting: Setting) -> Iterator[Sense]:
    """ "A quarter" with no unit: of an inch or of a turn, by the step. "Half" of an inch step may be half a thou."""
    lone = face.doubting(Doubt.LONE_FRACTION)
    if not terminates(face.value):
        if setting.kind == "angle":
            yield times(lone, Meaning(unit="deg", factor=Fraction(360)), None)
        return  # nobody can store a third of an inch
    if denominator > 6:
        if setting.unit == "in":
            yield face  # eighths and smaller are inches to everybody
            return
        yield lone
        if setting.kind == "length":
            yield replace(lone, unit="in")
    elif setting.kind == "angle":
        yield times(lone, Meaning(unit="turn"), None)
        yield replace(lone, scaled=True, by_limits=denominator != 2)
    else:
        yield lone
        if setting.unit == "in":
            yield _counted_in(lone, "in", _THOU, by_limits=denominator != 2)


# --- figures that want their point -----------------------------------------------------------------------------------


def placed(face: Sense, unit: str | None, setting: Setting) -> Iterator[Sense]:
    """Figures with the point in every place: "one oh five" is 105, 10.5, 1.05 and 0.105.

    Without limits only the places count where people leave it out; the others wait for limits to ask for them.
    """
    figures = face.figures or ""
    usual = _usual_places(face, unit, setting)
    for places in [*usual, *(n for n in range(len(figures) + 1) if n not in usual)]:
        if figures.startswith("0") and 0 < places < len(figures) - 1:
            continue
        shrink = Fraction(1, 10**places)
        point = {Doubt.POINT} if places else {Doubt.FIGURES}
        yield replace(
            face,
            value=face.value * shrink,
            step=face.step * shrink,
            grain=face.grain * shrink,
            places=face.places + places,
            doubts=face.doubts | point,
            scaled=places > 0,
            by_limits=places not in usual,
        )
    yield from _point_and_nought(face)


def _usual_places(face: Sense, unit: str | None, setting: Setting) -> list[int]:
    """Where the point of figures goes when no limits place it, likeliest first."""
    length = len(face.figures or "")
    if (face.figures or "").startswith("0"):
        if unit in _WHOLE_UNITS:
            return [0, length - 1]
        return [length] if unit == "in" else [length, length - 1]
    if unit in _WHOLE_UNITS:
        return [0]
    if length > 3:
        return list(range(length - 1, -1, -1))
    last = [length] if setting.inch and Doubt.HUNDRED in face.doubts else []
    return [0, length - 1, *last]


def _point_and_nought(face: Sense) -> Iterator[Sense]:
    """ "Ninety five four" may also be ninety five point oh four."""
    groups = face.groups
    if len(groups) == 2 and len(groups[0]) == 2 and len(groups[1]) == 1:
        value = Fraction(int(groups[0])) + Fraction(int(groups[1]), 100)
        step = Fraction(1, 100)
        yield replace(face.doubting(Doubt.POINT), value=value, step=step, grain=step, places=2, scaled=True,
                      by_limits=True, rival=True)  # fmt: skip


# --- steps that name no unit -----------------------------------------------------------------------------------------


def _unit_unknown(number: Number, measure: Measure, setting: Setting) -> Iterator[Sense]:
    """The step names no unit: what it asks for and the work may still say one."""
    face = plain(number, None)
    usual = _USUAL.get((setting.kind or "", setting.inch))
    if setting.kind == "length":
        yield from _offset(face, setting)
    elif usual == ("1",):
        yield replace(face, unit="1")
    elif usual is not None:
        yield from (replace(face, unit=unit).doubting(Doubt.UNIT) for unit in usual)
    elif number.form is Form.FIGURES:
        yield from (replace(sense, unit=None) for sense in placed(face, None, setting) if not sense.by_limits)
    elif measure.signed and face.step >= 1:
        in_inches = [("in", Fraction(1)), ("in", _THOU), ("in", _TENTH)]
        in_metric = [("mm", Fraction(1)), ("mm", _HUNDREDTH), ("in", _THOU)]
        yield from (_counted_in(face, unit, factor) for unit, factor in (in_inches if setting.inch else in_metric))
    else:
        yield face


def _offset(face: Sense, setting: Setting) -> Iterator[Sense]:
    """An oversize or undersize: whole numbers are thou in inch work and anybody's guess in metric."""
    smallest = Fraction(1, 10) if setting.inch else Fraction(1)
    if face.step < smallest or face.step.denominator not in (1, 2, 4, 10):
        yield replace(face, unit="in" if setting.inch else "mm").doubting(Doubt.UNIT)
        return
    yield _counted_in(face, "in", _THOU)
    if not setting.inch:
        yield _counted_in(face, "mm", _HUNDREDTH)
        yield replace(face, unit="mm").doubting(Doubt.UNIT)
