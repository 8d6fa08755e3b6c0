"""Answers of the bench arithmetic in words: units, settings with an adapter, fits, sizes at twenty degrees."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from benchvoice.procedure.models import Adapter
from benchvoice.quantity.iso286 import Fit, fit_named, limits_of_size
from benchvoice.quantity.rounding import mapped_resolution, round_to
from benchvoice.quantity.thermal import EXPANSION, at_reference
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import Reading
from benchvoice.session.fasteners import Task, still_open, tasks_of
from benchvoice.session.figures import Figure, figure_in, last_place, that, which_figure
from benchvoice.session.plan import closed_steps, current_step, fitted_steps
from benchvoice.session.settings import setting_on
from benchvoice.session.state import State
from benchvoice.speech.fits import SpokenFit
from benchvoice.speech.readings import Context
from benchvoice.speech.say import say_limits, say_number, say_quantity, say_unit, to_say
from benchvoice.speech.tokens import words_of
from benchvoice.speech.units import PART_TABLE, UNIT_TABLE, Meaning, everyday, meanings, part_meanings, setting_of
from benchvoice.tighten.wrench import WrenchError

UNIT_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "length": ("thou", "inches", "millimetres", "microns", "tenths"),
        "torque": ("newton metres", "foot pounds", "inch pounds"),
        "pressure": ("bar", "kilopascals"),
        "mass": ("grams", "ounces"),
        "temperature": ("celsius", "fahrenheit"),
        "volume": ("cubic centimetres", "litres"),
    }
)
"""Units that the ear listens for, by what was read last; any other unit that can be said is taken too."""
MATERIALS = ("steel", "stainless steel", "cast iron", "aluminium", "bronze", "copper")
"""Materials that the ear knows; others of the table can be typed."""


# Other units ----------------------------------------------------------------------------------------------------------

_SYSTEMS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "metric": MappingProxyType(
            {"length": "mm", "torque": "N_m", "pressure": "bar", "mass": "g", "volume": "cc", "temperature": "degC"}
        ),
        "imperial": MappingProxyType(
            {"length": "in", "torque": "ft_lb", "pressure": "psi", "mass": "oz", "volume": "in3", "temperature": "degF"}
        ),
    }
)
"""What "in metric" and "in imperial" ask for, by what was read."""
_IN_THOU_BELOW = Fraction(1, 10)
"""Of an inch: what is less is said in thou, as it is at the bench."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Converted:
    """A figure, and it in another unit as a sentence; or the units between which the words don't decide."""

    figure: Figure
    sentence: str = ""
    choices: tuple[str, ...] = ()


def is_conversion(rest: str) -> bool:
    """Whether words are a figure, or "that", and a unit that is asked for."""
    return parted(rest) is not None


def is_whole_conversion(text: str) -> bool:
    """Whether words are a figure with a unit of its own, and another unit that is asked for: no reading is said so."""
    found = parted(text)
    if found is None or found[0] == "that" or not text.endswith(f" in {found[1]}"):
        return False
    heard = figure_in(found[0], Context(work="metric"))
    return heard is not None and heard.heard_unit is not None and heard.heard_unit != found[1]


def parted(rest: str) -> tuple[str, str] | None:
    """What is to be converted, and the unit asked for. Without a figure it is "that".

    "That in thou", "thou", "twelve thou in millimetres"; and the other way round, "thou is that", "thou in a tenth".
    To convert is "that to imperial", "twelve thou into millimetres".
    """
    rest = rest.removeprefix("to ").removeprefix("into ")
    if _names_unit(rest):
        return "that", rest
    for between in (" in ", " to ", " into "):
        figure, _, unit = rest.rpartition(between)
        if figure and _names_unit(unit):
            return "that" if figure in _THAT else figure, unit
    for between in (" is ", " are ", " in "):
        unit, _, figure = rest.partition(between)
        if figure and _names_unit(unit):
            return figure, unit
    return None


def _names_unit(words: str) -> bool:
    said = words_of(words)
    return said in UNIT_TABLE or said in PART_TABLE or words in _SYSTEMS


_THAT = ("that", "it", "this")


def converted(state: State, rest: str) -> Converted | str:
    """The figure in the unit asked for, or in a sentence why there is none."""
    found = parted(rest)
    assert found is not None
    words, unit_words = found
    figure = that(state) if words == "that" else _said(state, words)
    if figure is None:
        return "No figure was read or said yet" if words == "that" else which_figure(words, _context(state))
    targets = tuple(_targets(unit_words, figure, state))
    if not targets:
        kind = kind_of(figure.size.unit)
        article = "an" if kind[0] in "aeiou" else "a"
        return f"{_spoken(figure.size)} is {article} {kind}; that is no unit of it"
    if len({each.unit for each in targets}) > 1:
        return Converted(figure=figure, choices=tuple(say_unit(each.unit) for each in targets))
    return _sentence(figure, targets[0], unit_words)


def _context(state: State) -> Context:
    step = current_step(state)
    unit = step.measure.unit if step is not None and step.measure is not None else None
    return Context(unit=unit, work=state.procedure.work)


def _said(state: State, words: str) -> Figure | None:
    """A figure that is said in the question; with the step's unit where it names none."""
    heard = figure_in(words, Context(work=state.procedure.work)) or figure_in(words, _context(state))
    if heard is None or heard.value is None or heard.unit is None or heard.unit == "1":
        return None
    size = Quantity(value=heard.value, unit=heard.unit)
    return Figure(size, heard.resolution or last_place(heard.value), state.facts.count)


def _targets(words: str, figure: Figure, state: State) -> Iterable[Meaning]:
    kind = kind_of(figure.size.unit)
    if words in _SYSTEMS:
        size = figure.size
        small = kind == "length" and abs(convert(size.value, size.unit, "in")) < _IN_THOU_BELOW
        unit = "thou" if small and words == "imperial" else _SYSTEMS[words].get(kind)
        return (Meaning(unit=unit),) if unit is not None else ()
    said = words_of(words)
    setting = setting_of(figure.size.unit, state.procedure.work, None, None)
    found = meanings(UNIT_TABLE[said], setting) if said in UNIT_TABLE else part_meanings(PART_TABLE[said], setting)
    return (each for each in found if kind_of(each.unit) == kind)


def _sentence(figure: Figure, target: Meaning, words: str) -> Converted:
    size = figure.size
    exact = convert(size.value, size.unit, target.unit)
    if everyday(size.unit, target.unit):
        value = to_decimal(exact)  # thou and inches, microns and millimetres: the same figures
    elif size.unit == "in" and _is_part(figure.resolution) and Fraction(short := to_decimal(exact, 3)) == exact:
        value = short  # a quarter inch is a name of a size, and no rough quarter: 6.35
    else:
        value = round_to(exact, mapped_resolution(Quantity(value=figure.resolution, unit=size.unit), target.unit))
    about = "" if Fraction(value) == exact else "about "
    if words_of(words) in PART_TABLE:  # "tenths", "hundredths": so many of a part of the unit
        count = to_decimal(Fraction(value) / target.factor)
        spoken = f"{say_number(count, fractions=True)} {words.removesuffix('s') if count == 1 else words}"
    else:
        spoken = _spoken_at(value, target.unit)
    return Converted(figure=figure, sentence=f"{_spoken(size)} is {about}{spoken}")


def _is_part(resolution: Decimal) -> bool:
    """Whether a figure was said in halves, quarters or eighths."""
    return resolution.normalize().as_tuple().digits != (1,)


def _spoken_at(value: Decimal, unit: str) -> str:
    whole = value.to_integral_value()
    return say_quantity(whole if whole == value else value, unit)


def _spoken(size: Quantity) -> str:
    return say_quantity(to_say(size.value, size.unit), size.unit)


# With an adapter ------------------------------------------------------------------------------------------------------


def part_with_adapter(state: State) -> tuple[Task, Adapter] | str:
    """The stage in hand, or the next to come, that has an adapter; a sentence where none has."""
    closed, steps = closed_steps(state.facts), fitted_steps(state)
    step = current_step(state)
    names = [each.step for each in steps]
    start = names.index(step.step) if step is not None and step.step in names else 0
    for each in steps[start:]:
        tasks = [task for task in tasks_of(state, each) if task.part.adapter and task.part.wrench and task.stage.torque]
        if tasks and each.step not in closed:
            task = next((one for one in tasks if still_open(state.facts, one)), tasks[-1])
            assert task.part.adapter is not None
            return task, task.part.adapter
    return "No tightening with an adapter is coming"


def setting_words(state: State, task: Task, adapter: Adapter) -> tuple[str, Quantity | None]:
    """What to set, and which way the adapter points; the reason where it can't be set."""
    assert task.stage.torque is not None
    assert task.part.wrench is not None
    try:
        setting = setting_on(state, task, part=adapter)
    except WrenchError as fault:
        return str(fault), None
    asked = say_quantity(task.stage.torque.value, task.stage.torque.unit)
    exact = round_to(setting.exact, Decimal("0.01"))
    nearest = "" if Fraction(setting.mark) == setting.exact else f"; {say_number(exact)}, to the nearest mark"
    whole = setting.mark.to_integral_value()
    mark = Quantity(value=whole if whole == setting.mark else setting.mark, unit=setting.unit)
    where = _pointing(adapter)
    return f"For {asked} set {say_quantity(mark.value, mark.unit)} with the {adapter.what} {where}{nearest}", mark


def _pointing(adapter: Adapter) -> str:
    degrees = to_decimal(adapter.angle.in_unit("deg"))
    named = {Decimal(0): "straight ahead", Decimal(90): "square", Decimal(180): "straight back"}
    return named.get(degrees, f"at {say_quantity(degrees, 'deg')}")


# Fits -----------------------------------------------------------------------------------------------------------------


def fit_limits(fit: SpokenFit) -> tuple[str, ...]:
    """The limits of a fit in sentences; UnknownFit for a zone that the tables don't have."""
    if len(fit.zones) == 1:
        side = fit.side or "hole"
        limits = limits_of_size(fit.size, fit.name(side))
        return (f"{side} {say_limits(limits.low, limits.high, 'mm')}",)
    found = fit_named(fit.size, f"{fit.name('hole')}/{fit.name('shaft')}")
    hole, shaft = (say_limits(each.low, each.high) for each in (found.hole, found.shaft))
    return (f"Hole {hole}, shaft {shaft} millimetres", _clearance(found))


def _clearance(fit: Fit) -> str:
    if fit.clearance_least >= 0:
        return f"Clearance {say_limits(fit.clearance_least, fit.clearance_most, 'um')}"
    if fit.clearance_most <= 0:
        return f"Interference {say_limits(-fit.clearance_most, -fit.clearance_least, 'um')}"
    tight, loose = say_number(-fit.clearance_least), say_quantity(fit.clearance_most, "um")
    return f"From {tight} tight to {loose} loose"


# Twenty degrees -------------------------------------------------------------------------------------------------------

_TWENTY = re.compile(
    r"(?:degrees ?)?(?:(?:for|four|of|in) (?P<material>[a-z ]+?))?(?: ?\bdegrees\b)?"
    r"(?: ?\b(?:read at|from|at|now at) (?P<warm>.+))?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class AtTwenty:
    """A figure, and it at twenty degrees in a sentence; or that the material must be asked."""

    figure: Figure
    sentence: str = ""
    ask_material: bool = False


def is_twenty(rest: str) -> bool:
    """Whether words say no more than a material and how warm it is."""
    found = _TWENTY.fullmatch(rest)
    return found is not None and (found["material"] is None or found["material"] in EXPANSION)


def at_twenty(state: State, rest: str) -> AtTwenty | str:
    """The last figure at twenty degrees, or in a sentence why it can't be told."""
    figure = that(state)
    if figure is None:
        return "No figure was read or said yet"
    if kind_of(figure.size.unit) != "length":
        return f"{_spoken(figure.size)} is no length"
    found = _TWENTY.fullmatch(rest)
    assert found is not None
    material = found["material"]
    if material is None:
        return AtTwenty(figure=figure, ask_material=True)
    warm = _warm(state, found["warm"])
    if isinstance(warm, str):
        return warm
    exact = at_reference(figure.size, EXPANSION[material], warm)
    value = round_to(exact.value, figure.resolution / 10)
    now = say_quantity(warm.value, warm.unit)
    size = f"{_spoken(figure.size)} of {material} at {now} is about {_spoken_at(value, exact.unit)} at twenty"
    return AtTwenty(figure=figure, sentence=f"{size}, by a gauge that is true")


def _warm(state: State, said: str | None) -> Quantity | str:
    """How warm the part is: as said, else as it was read last in this build."""
    if said is not None:
        heard = figure_in(said, Context(unit="degC", work=state.procedure.work, what="temperature"))
        if heard is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != "temperature":
            return f"How warm is it? I know no temperature {said}"
        return Quantity(value=heard.value, unit=heard.unit)
    for row in reversed(state.facts.of(Reading)):
        if kind_of(row.entry.unit) == "temperature" and row.entry.value is not None:
            return Quantity(value=row.entry.value, unit=row.entry.unit)
    return "How warm is it? Say it at the end: at thirty degrees"
