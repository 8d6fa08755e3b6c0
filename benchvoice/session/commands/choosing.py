"""Choosing by voice: a ring gap for a bore, a shim for a lash, which parts go together.

Questions all: nothing but what was heard and said is written. What a step declares is what it is reckoned by.
"""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Literal

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.inputs import constant, sources_of
from benchvoice.procedure.models import Computed, Match, Step
from benchvoice.quantity.cylinder import ring_gap
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.shims import choose_shim, lash_shim
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.session.commands.table import Command
from benchvoice.session.entries import Matched
from benchvoice.session.figures import figure_in, note_figure, which_figure
from benchvoice.session.hearing import named_place
from benchvoice.session.matching import matches_of, say_kept, say_match
from benchvoice.session.plan import current_step, fitted_steps
from benchvoice.session.readings import still_needed
from benchvoice.session.sources import computed_row
from benchvoice.session.state import State
from benchvoice.session.stock import at_hand, say_piece, say_total
from benchvoice.session.taking import band_at, context_at
from benchvoice.session.turn import Turn
from benchvoice.speech.places import Axes
from benchvoice.speech.readings import Context
from benchvoice.speech.say import say_count, say_list, say_place, say_quantity, to_say

# Ring gaps ------------------------------------------------------------------------------------------------------------


def _ring_gap(turn: Turn, rest: str) -> None:
    """The least gap for a bore: the bore of a place that was read, or one that is said."""
    declared = next(_ring_gaps(turn.state), None)
    if declared is None:
        turn.say("No gap per bore is declared")
        return
    step, name, computed = declared
    measure = step.measure
    assert measure is not None
    unit = computed.unit or measure.unit
    axes = {axis: measure.places[axis] for axis in computed.per if axis in measure.places}
    place = named_place(rest, axes) or _numbered(rest, axes)
    if place is not None:
        row = computed_row(turn.state.facts, step.step, name, place)
        if row is None or row.entry.value is None:
            turn.say(f"The bore of {say_place(place, tuple(axes))} was not read")
            return
        _say_gap(turn, say_place(place, tuple(axes)), row.entry.value, unit)
        return
    per = constant(sources_of(step.step, computed)["per"][0])
    words = rest.removeprefix("a ").removeprefix("bore of ")
    context = Context(unit=_bore_unit(turn.state), work=turn.state.procedure.work)
    heard = figure_in(words, context)
    if per is None or heard is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != "length":
        turn.say(which_figure(words, context))
        return
    bore = Quantity(value=heard.value, unit=heard.unit)
    gap = ring_gap(bore, per.value)
    _say_gap(turn, say_quantity(bore.value, bore.unit), to_decimal(gap.in_unit(unit), 10), unit)


def _numbered(rest: str, axes: Axes) -> tuple[str, ...] | None:
    """ "Bore two", "cylinder two": the place of that name on the only axis."""
    what, _, name = rest.partition(" ")
    known = next(iter(axes.values()), ()) if len(axes) == 1 else ()
    return (name,) if what in ("bore", "cylinder") and name in known else None


def _ring_gaps(state: State) -> Iterator[tuple[Step, str, Computed]]:
    for step in fitted_steps(state):
        for name, computed in step.measure.computed.items() if step.measure is not None else ():
            if computed.kind == "ring_gap":
                yield step, name, computed


def _bore_unit(state: State) -> str:
    return "in" if state.procedure.work == "inch" else "mm"


def _say_gap(turn: Turn, bore: str, gap: Decimal, unit: str) -> None:
    said = to_say(gap, unit)
    turn.say(f"{bore}: at least {say_quantity(said, unit)}")
    note_figure(turn, said, unit)


# Lash shims -----------------------------------------------------------------------------------------------------------

_LASH = re.compile(r"(?P<lash>.+?) with (?P<old>.+?)(?: fitted| in)?")
_STEPS = {"mm": Decimal("0.05"), "thou": Decimal(2)}
"""Steps of lash shims where the procedure has no stock of them (common practice, no source)."""


def _lash(turn: Turn, rest: str) -> None:
    """Which shim brings a lash to the middle of the limits in force, from the lash read and the shim that is fitted."""
    step = current_step(turn.state)
    todo = still_needed(turn.state.facts, step) if step is not None and step.measure is not None else ()
    place = turn.state.talk.place or (todo[0] if todo else ())
    lashes = step is not None and step.measure is not None and "lash" in step.measure.what
    band = band_at(turn.state, step, place) if step is not None and lashes else None
    if step is None or step.measure is None or band is None or band.low is None or band.high is None:
        turn.say("What lash is wanted? Ask at the step whose limits say it")
        return
    found = _LASH.fullmatch(rest)
    assert found is not None
    unit, work = step.measure.unit, turn.state.procedure.work
    ways = (context_at(turn.state, step, place), Context(unit=unit, work=work))
    lash, old = (figure_in(found[name], way) for name, way in zip(("lash", "old"), ways, strict=True))
    for heard, name, way in ((lash, "lash", ways[0]), (old, "old", ways[1])):
        if heard is None or heard.unit is None or kind_of(heard.unit) != kind_of(unit):
            turn.say(which_figure(found[name], way))
            return
    assert lash is not None
    assert old is not None
    read, fitted = (to_decimal(convert(each.value or 0, each.unit or unit, unit)) for each in (lash, old))
    turn.say(_lash_words(turn.state, Limits(low=band.low, high=band.high, unit=unit), read, fitted))


def _lash_words(state: State, limits: Limits, read: Decimal, fitted: Decimal) -> str:
    unit = limits.unit
    stock = next((name for name, each in state.procedure.stock.items() if "lash" in each.what), None)
    try:
        if stock is not None and state.procedure.stock[stock].unit == unit:
            held = [size for size, count in at_hand(state, stock).items() if count]
            choice = choose_shim(fitted, read, limits, held)
            shims = say_list([say_piece(each, unit) for each in choice.shims], last="or")
            out = "" if choice.in_limits else ", not in limits"
            return f"{shims} gives {say_total(choice.plays[0], unit)}{out}"
        best = lash_shim(fitted, read, limits, _STEPS.get(unit, Decimal("0.05")))
    except BenchvoiceError as fault:
        return str(fault).partition(":")[0]
    leave = "" if best.change_needed else "In limits as it is. Else "
    return f"{leave}{say_piece(best.shim, unit)} gives {say_total(best.lash, unit)}"


# Matched sets ---------------------------------------------------------------------------------------------------------


def _which(turn: Turn, text: str, how: str = "") -> None:
    """Which parts go together (in the way that is named): as they were kept, else by the readings."""
    found = _matching_step(turn.state, text, how)
    if found is None:
        turn.say("Nothing here is to be matched")
        return
    step, match = found
    kept = [row.entry for row in turn.state.facts.of(Matched) if row.entry.step == step.step]
    if kept:
        turn.say(f"{kept[-1].what}: {say_kept(kept[-1])}")
        return
    _say_best(turn, match)


def _matching_step(state: State, text: str, how: str) -> tuple[Step, Match] | None:
    """The match that is meant: by the parts that are named, the step in hand or what it recalls, the last one kept."""
    parts = _PARTS.findall(text)
    declared = [(each, match) for each in fitted_steps(state) if (match := _match_of(each)) is not None]
    meant = [
        (each, match)
        for each, match in declared
        if how in ("", match.how) and all(part in match.what for part in parts)
    ]
    here = current_step(state)
    recalled = here.recalls if here is not None else ()
    kept = {row.entry.step: row.n for row in state.facts.of(Matched)}
    meant.sort(key=lambda each: (each[0].step in recalled, kept.get(each[0].step, 0)), reverse=True)
    in_hand = (each for each in meant if each[0] == here)
    known = (each for each in meant if each[0].step in kept or matches_of(state, each[1]) is not None)
    return next(in_hand, None) or next(known, None)


def _match_of(step: Step) -> Match | None:
    return step.measure.match if step.measure is not None else None


def _say_best(turn: Turn, match: Match) -> None:
    found = matches_of(turn.state, match)
    if found is None:
        turn.say(f"{match.what}: not every one was read, or they can't be matched")
        return
    more = f", and {say_count(len(found.ways) - 1)} more ways" if len(found.ways) > 1 else ""
    turn.say(f"{match.what}: {say_match(match, found)}{more}")


class _Into:
    """What the step in hand reads, into pairs or into banks."""

    def __init__(self, how: Literal["pairs", "banks"]) -> None:
        self.how = how

    def __call__(self, turn: Turn, _rest: str) -> None:
        step = current_step(turn.state)
        if step is None or step.measure is None:
            _which(turn, "", self.how)
            return
        _say_best(turn, Match(what=step.measure.what, how=self.how, of=step.step))


def _gap_words(state: State) -> tuple[str, ...]:
    return ("what ring gap for",) if any(True for _ in _ring_gaps(state)) else ()


def _lash_shim_words(state: State) -> tuple[str, ...]:
    step = current_step(state)
    here = step is not None and step.measure is not None and "lash" in step.measure.what
    return ("what lash shim for", "with", "fitted") if here else ()


def _match_words(state: State) -> tuple[str, ...]:
    declared = any(step.measure is not None and step.measure.match is not None for step in state.procedure.steps)
    return ("which goes with which",) if declared else ()


def _sort_words(state: State) -> tuple[str, ...]:
    step = current_step(state)
    here = step is not None and step.measure is not None and step.measure.match is not None
    return ("into pairs", "into banks") if here else ()


_WHICH = re.compile(r"which [a-z]+(?: goes)? with which [a-z]+")
_PARTS = re.compile(r"which (?!goes\b)([a-z]+)")

CHOOSING = (
    Command(
        name="what ring gap for",
        leads=(
            "what ring gap for",
            "what ring gap four",
            "ring gap for",
            "what gap for",
            "what's the ring gap for",
            "what should the ring gap be for",
            "least gap for",
        ),
        act=_ring_gap,
        heard=_gap_words,
    ),
    Command(
        name="what lash shim for",
        leads=("what lash shim for", "what lash shim four", "which lash shim for"),
        act=_lash,
        fits=lambda rest: _LASH.fullmatch(rest) is not None,
        heard=_lash_shim_words,
    ),
    Command(
        name="which goes with which",
        says=("which goes with which", "what goes with what", "which go together", "match them"),
        whole=lambda text: _WHICH.fullmatch(text) is not None,
        act=_which,
        heard=_match_words,
    ),
    Command(
        name="into pairs",
        says=("into pairs", "pair them", "pair them up", "which pairs"),
        act=_Into("pairs"),
        heard=_sort_words,
    ),
    Command(
        name="into banks",
        says=("into banks", "split them into banks", "which banks"),
        act=_Into("banks"),
        heard=lambda _state: (),
    ),
)
