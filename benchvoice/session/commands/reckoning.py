"""Reckoning by voice: figures in other units, what to set with an adapter, leaves, fits, sizes at twenty degrees.

Questions all: they are heard and answered, and nothing else is written. A doubtful one is answered with a question.
"""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.models import Instrument
from benchvoice.quantity.feelers import nearest_stack, stacks
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity, parse_quantity
from benchvoice.session.commands.asking import say_torque, tighten_step
from benchvoice.session.commands.stock import which_shims
from benchvoice.session.commands.table import Command
from benchvoice.session.fasteners import current_task, parts_of
from benchvoice.session.figures import figure_in, is_figure, note_figure, that, which_figure
from benchvoice.session.kinds import KINDS
from benchvoice.session.plan import current_step
from benchvoice.session.questions import aside, listed, one_of
from benchvoice.session.reckoned import (
    MATERIALS,
    UNIT_PHRASES,
    at_twenty,
    converted,
    fit_limits,
    is_conversion,
    is_twenty,
    is_whole_conversion,
    part_with_adapter,
    parted,
    setting_words,
)
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.fits import SpokenFit, spoken_fit
from benchvoice.speech.readings import Context
from benchvoice.speech.say import say_count, say_list, say_number, say_quantity

# Other units ----------------------------------------------------------------------------------------------------------


def _convert(turn: Turn, rest: str) -> None:
    """ "What's that in thou", "what's twelve thou in millimetres"."""
    said = converted(turn.state, rest)
    if isinstance(said, str):
        turn.say(said)
        return
    if len(said.choices) > 1:
        figure, _ = parted(rest) or ("that", "")

        def then(inner: Turn, unit: str) -> None:
            _convert(inner, f"{figure} in {unit}")

        turn.ask(aside(one_of("which unit", f"{listed(said.choices)}?", said.choices, then)))
        return
    turn.say(said.sentence)
    turn.talk(figure=said.figure)  # "that" stays what was read or named: no rounding upon rounding


# With an adapter ------------------------------------------------------------------------------------------------------

_ANGLES = {
    "straight ahead": "0 deg",
    "straight": "0 deg",
    "square": "90 deg",
    "a right angle": "90 deg",
    "straight back": "180 deg",
}


def _set_to(turn: Turn, _rest: str) -> None:
    """What to set in the stage in hand, with its adapter where it has one."""
    step = tighten_step(turn)
    task = current_task(turn.state, step) if step is not None else None
    if task is None or task.part.adapter is not None:
        _setting(turn, "")
    else:
        say_torque(turn, "")


def _setting(turn: Turn, rest: str) -> None:
    """What to set on the wrench with the adapter of the step in hand or of the next one, at any angle."""
    angle: Quantity | None = None
    if rest:
        words = rest.removeprefix("at ").removeprefix("an angle of ")
        heard = figure_in(words, Context(unit="deg", work=turn.state.procedure.work, what="angle"))
        if words in _ANGLES:
            angle = parse_quantity(_ANGLES[words])
        elif heard is not None and heard.value is not None and heard.unit is not None:
            angle = Quantity(value=heard.value, unit=heard.unit)
        else:
            turn.say(f"At what angle? I know no angle {words}")
            return
    found = part_with_adapter(turn.state)
    if isinstance(found, str):
        turn.say(found)
        return
    task, adapter = found
    turned = adapter if angle is None else adapter.model_copy(update={"angle": angle})
    words, mark = setting_words(turn.state, task, turned)
    turn.say(words)
    if mark is not None:
        note_figure(turn, mark.value, mark.unit)


# Leaves ---------------------------------------------------------------------------------------------------------------

_MOST_STACKS = 5


def _leaves(turn: Turn, rest: str) -> None:
    """Which feeler leaves make up a thickness: every stack of the fewest, or the nearest."""
    feelers = _feelers(turn)
    if feelers is None:
        turn.say("No leaves are listed for the feelers")
        return
    largest = sum(feelers.leaves, Decimal(0))
    context = Context(unit=feelers.unit, work=turn.state.procedure.work, low=min(feelers.leaves), high=largest)
    heard = figure_in(rest, context)
    if heard is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != kind_of(feelers.unit):
        turn.say(which_figure(rest, context))
        return
    want = to_decimal(convert(heard.value, heard.unit, feelers.unit))
    note_figure(turn, want, feelers.unit)
    turn.say(_stack_words(want, feelers))


def _feelers(turn: Turn) -> Instrument | None:
    """The set of the step in hand, or the one set that there is."""
    step, instruments = current_step(turn.state), turn.state.procedure.instruments
    here = instruments.get(step.measure.instrument or "") if step is not None and step.measure is not None else None
    if here is not None and here.leaves:
        return here
    return next((each for each in instruments.values() if each.leaves), None)


def _stack_words(want: Decimal, feelers: Instrument) -> str:
    if want <= 0:
        return "A thickness is above nought"
    found = stacks(want, feelers.leaves)
    if found:
        more = f", and {say_count(len(found) - _MOST_STACKS)} more ways" if len(found) > _MOST_STACKS else ""
        return f"{say_list([_stack(each) for each in found[:_MOST_STACKS]], last='or')}{more}"
    near = nearest_stack(want, feelers.leaves)
    assert near is not None
    total = to_decimal(sum(map(Fraction, near), Fraction(0)))
    size = say_quantity(total, feelers.unit)
    return f"No leaves make {say_quantity(want, feelers.unit)}. Nearest: {_stack(near)}, {size}"


def _stack(leaves: tuple[Decimal, ...]) -> str:
    said = [say_number(leaf, fractions=True) for leaf in leaves]
    return f"{said[0]} alone" if len(said) == 1 else say_list(said)


def _make_up(turn: Turn, rest: str) -> None:
    """What makes up a size: leaves where feelers are in hand, else pieces from the tray."""
    feelers, step = _feelers(turn), current_step(turn.state)
    here = step.measure.instrument if step is not None and step.measure is not None else None
    in_hand = feelers is not None and here is not None and turn.state.procedure.instruments.get(here) is feelers
    if in_hand or not turn.state.procedure.stock:
        _leaves(turn, rest)
    else:
        which_shims(turn, rest)


# Fits -----------------------------------------------------------------------------------------------------------------


def _fit(turn: Turn, text: str) -> None:
    """The limits of a hole, a shaft or both from the name of a fit; a mark that looks like one stays a mark."""
    step = current_step(turn.state)
    if step is not None and step.mark is not None and KINDS["mark"].take(turn, step, text):
        return
    fit = spoken_fit(text)
    assert fit is not None
    if len(fit.zones) == 1 and fit.side is None:

        def then(inner: Turn, side: str) -> None:
            _say_fit(inner, replace(fit, side="hole" if side == "hole" else "shaft"))

        turn.ask(aside(one_of("hole or shaft", "Of the hole or of the shaft?", ("hole", "shaft"), then)))
        return
    _say_fit(turn, fit)


def _say_fit(turn: Turn, fit: SpokenFit) -> None:
    try:
        turn.say(*fit_limits(fit))
    except BenchvoiceError as fault:
        turn.say(str(fault).partition(":")[0])


# Twenty degrees -------------------------------------------------------------------------------------------------------


def _twenty(turn: Turn, rest: str) -> None:
    """The last figure, as it is at twenty degrees, with the material named and the temperature said or read."""
    said = at_twenty(turn.state, rest)
    if isinstance(said, str):
        turn.say(said)
        return
    if said.ask_material:

        def then(inner: Turn, material: str) -> None:
            _twenty(inner, f"for {material} {rest}".strip())

        turn.ask(aside(one_of("material", f"Of what: {listed(MATERIALS)}?", MATERIALS, then)))
        return
    turn.say(said.sentence)
    turn.talk(figure=said.figure)


_THAT = (
    "what's that in",
    "what is that in",
    "what would that be in",
    "how much is that in",
    "give me that in",
    "say that in",
    "that in",
    "and in",
    "in",
)
_WITH = (
    "what do i set with the",
    "what do i set it to with the",
    "what do i set the wrench to with the",
    "what should i set with the",
    "what setting with the",
    "what's the setting with the",
    "how much with the",
    "and with the",
    "with the",
)
_WITH_A_TOOL = tuple(f"{opening} {tool}" for opening in _WITH for tool in ("crowfoot", "adapter", "extension"))
_MAKES = ("for", "four", "make", "makes", "make up")
_FEELERS = ("leaves", "feelers", "blades", "feeler blades", "feeler leaves")
_LEAVES_FOR = (
    *(f"{which} {what} {to}" for which in ("what", "which") for what in _FEELERS for to in _MAKES),
    *(f"what {what} do i need for" for what in _FEELERS),
    *(f"{what} for" for what in _FEELERS),
)
_OF_A_FIT = (
    "what are the limits of",
    "what are the limits for",
    "limits of",
    "limits for",
    "what limits for",
    "what is the fit",
    "what's the fit for",
    "what fit is",
    "what is",
    "what's",
    "tolerance of",
    "what's the tolerance of",
    "what's the tolerance on",
    "what's the clearance of",
    "what's the clearance on",
    *(f"{opening} {of}" for opening in ("what's the press", "what's the interference") for of in ("of", "on", "for")),
    "how tight is",
)


def _unit_words(state: State) -> tuple[str, ...]:
    """The units that the last figure may be asked in."""
    figure = that(state)
    units = UNIT_PHRASES.get(kind_of(figure.size.unit), ()) if figure is not None else ()
    other = "metric" if state.procedure.work == "inch" else "imperial"
    systems = (f"what's that in {other}", f"convert that to {other}") if units else ()
    return (*(f"{opening} {unit}" for unit in units for opening in ("what's that in", "and in")), *systems)


def _crowfoot_words(state: State) -> tuple[str, ...]:
    """Where an adapter is declared; its angles where it is in hand."""
    parts = [(step, part) for step in state.procedure.steps for part in parts_of(step) if part.adapter is not None]
    here = current_step(state)
    angles = ("at ninety degrees", "at forty five degrees") if any(step is here for step, _ in parts) else ()
    return ("what do i set with the crowfoot", *angles) if parts else ()


def _set_words(state: State) -> tuple[str, ...]:
    """Where a wrench is in hand."""
    step = current_step(state)
    return ("what do i set",) if step is not None and any(part.wrench for part in parts_of(step)) else ()


def _leaves_words(state: State) -> tuple[str, ...]:
    return (
        ("what leaves for", "what feelers for", "what blades for")
        if any(each.leaves for each in state.procedure.instruments.values())
        else ()
    )


def _fit_words(state: State) -> tuple[str, ...]:
    """Zones in use, at steps whose own limits are by a fit: letters alone would be heard for other words."""
    step = current_step(state)
    tables = step.measure.tables if step is not None and step.measure is not None else ()
    return _ZONES if any(limits.fit is not None for limits in tables) else ()


_ZONES = (
    "h seven", "h six", "h eight", "h nine", "g six", "f seven", "k six", "m six", "n six", "p six", "hole", "shaft",
    "hotel seven", "hotel six", "hotel eight", "golf six", "foxtrot seven", "kilo six", "mike six", "papa six",
)  # fmt: skip


def _material_words(state: State) -> tuple[str, ...]:
    """Where the procedure declares what a part is made of."""
    measures = (step.measure for step in state.procedure.steps if step.measure is not None)
    named = any(each.material is not None for measure in measures for each in measure.computed.values())
    return ("what's that at twenty", *(f"what's that at twenty for {each}" for each in MATERIALS)) if named else ()


RECKONING = (
    Command(
        name="what's that in",
        leads=("what's", "what is", "how many", "convert", *_THAT),
        act=_convert,
        fits=is_conversion,
        whole=is_whole_conversion,
        heard=_unit_words,
    ),
    Command(
        name="what do i set with the crowfoot",
        says=_WITH_A_TOOL,
        leads=_WITH_A_TOOL,
        act=_setting,
        heard=_crowfoot_words,
    ),
    Command(
        name="what do i set",
        says=(
            "what do i set",
            "what do i set it to",
            "what do i set the wrench to",
            "what should i set",
            "what should i set it to",
            "what's the setting",
            "what setting",
        ),
        act=_set_to,
        heard=_set_words,
    ),
    Command(
        name="what makes up",
        leads=("what makes", "what makes up", "how do i make", "how do i make up", "what do i need for"),
        act=_make_up,
        fits=is_figure,
        heard=lambda _state: (),
    ),
    Command(
        name="what leaves for",
        leads=_LEAVES_FOR,
        act=_leaves,
        heard=_leaves_words,
    ),
    Command(
        name="limits of a fit",
        leads=_OF_A_FIT,
        act=_fit,
        fits=lambda rest: spoken_fit(rest) is not None,
        whole=lambda text: (fit := spoken_fit(text)) is not None and len(fit.zones) == 2,
        heard=_fit_words,
    ),
    Command(
        name="what's that at twenty",
        says=("what's that at twenty", "what is that at twenty", "what's that at twenty degrees"),
        leads=("what's that at twenty", "what is that at twenty"),
        act=_twenty,
        fits=is_twenty,
        heard=_material_words,
    ),
)
