"""Matched sets: which part goes with which, proposed the best first, kept once it is taken.

Exact, from the readings that stand; a part that is read anew makes the match void, and it is proposed anew.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.models import Match, Step
from benchvoice.procedure.places import places_of
from benchvoice.quantity.matching import even_banks, even_clearances, even_totals, nearest_pairs
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.entries import Matched, NoLongerCounts, Place, Reading, StepClosed
from benchvoice.session.facts import Row
from benchvoice.session.packing import NEXT
from benchvoice.session.questions import NO, YES
from benchvoice.session.readings import standing_at
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count, say_list, say_place, say_quantity, to_say

Sets = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Matches:
    """Every best way (as many as are told), what it comes to, and the readings it rests on."""

    ways: tuple[Sets, ...]
    figure: Decimal
    unit: str
    rows: tuple[int, ...]


def matches_of(state: State, match: Match) -> Matches | None:
    """The best ways to match; None while a reading is missing or the parts can't be matched."""
    first = _parts(state, match.of)
    other = _parts(state, match.partners) if match.partners is not None else ((), "")
    if first is None or other is None:
        return None
    (parts, unit), (partners, _) = first, other
    rows = tuple(sorted(row.n for _, row in (*parts, *partners)))
    values, others = ([_in(row, unit) for _, row in each] for each in (parts, partners))
    names, other_names = ([name for name, _ in each] for each in (parts, partners))
    try:
        figure, found = _BY_HOW[match.how](values, others)
    except BenchvoiceError:
        return None
    ways = tuple(
        tuple(tuple((names if side == 0 else other_names)[at] for side, at in group) for group in way) for way in found
    )
    return Matches(ways, figure, unit, rows)


_Parts = tuple[tuple[str, Row[Reading]], ...]


def _parts(state: State, name: str) -> tuple[_Parts, str] | None:
    """The parts of a step by their places, each with the reading that stands."""
    step = state.step(name)
    assert step.measure is not None
    found: list[tuple[str, Row[Reading]]] = []
    for place in places_of(step.measure):
        rows = standing_at(state.facts, step, place)
        if not rows or rows[-1].entry.value is None:
            return None
        found.append((_name(place, tuple(step.measure.places)), rows[-1]))
    return tuple(found), step.measure.unit


def _name(place: Place, axes: tuple[str, ...]) -> str:
    return say_place(place, axes).removeprefix("number ")


def _in(row: Row[Reading], unit: str) -> Decimal:
    assert row.entry.value is not None
    return to_decimal(convert(row.entry.value, row.entry.unit, unit))


# Each way is groups of (0: of the first kind, 1: of the partners; which one).
_Way = tuple[tuple[tuple[int, int], ...], ...]
_Found = tuple[Decimal, tuple[_Way, ...]]
_Values = list[Decimal]


def _pairs(values: _Values, _others: _Values) -> _Found:
    found = nearest_pairs(values)
    return found.largest, tuple(tuple(tuple((0, at) for at in pair) for pair in way) for way in found.pairings)


def _banks(values: _Values, _others: _Values) -> _Found:
    found = even_banks(values)
    every = range(len(values))
    return found.difference, tuple(
        (tuple((0, at) for at in bank), tuple((0, at) for at in every if at not in bank)) for bank in found.banks
    )


def _totals(values: _Values, others: _Values) -> _Found:
    found = even_totals(values, others)
    return found.spread, tuple(tuple(((0, at), (1, to)) for at, to in enumerate(way)) for way in found.partners)


def _clearances(values: _Values, others: _Values) -> _Found:
    found = even_clearances(values, others)
    return found.spread, tuple(tuple(((0, at), (1, to)) for at, to in enumerate(way)) for way in found.partners)


_BY_HOW: dict[str, Callable[[_Values, _Values], _Found]] = {
    "pairs": _pairs,
    "banks": _banks,
    "totals": _totals,
    "clearances": _clearances,
}


# Proposing -----------------------------------------------------------------------------------------------------------


def match_owed(state: State, step: Step) -> Match | None:
    """The match that a step asks for, while it is not taken."""
    match = step.measure.match if step.measure is not None else None
    if match is None or any(row.entry.step == step.step for row in state.facts.of(Matched)):
        return None
    return match


def ask_match(turn: Turn, step: Step) -> bool:
    """Propose the best way to match; False when the step owes none or it can't be worked out."""
    match = match_owed(turn.state, step)
    found = matches_of(turn.state, match) if match is not None else None
    if match is None or found is None:
        return False
    turn.ask(_proposal(step.step, match, found, 0))
    return True


def _proposal(step: str, match: Match, found: Matches, at: int) -> Question:
    def take(turn: Turn, text: str) -> bool:
        if text in YES:
            turn.understood("matched")
            turn.talk(question=None)
            turn.write(
                Matched(
                    step=step,
                    what=match.what,
                    how=match.how,
                    sets=found.ways[at],
                    figure=found.figure,
                    unit=found.unit,
                    from_entries=found.rows,
                )
            )
            turn.say("Kept")
            return True
        if text not in (*NO, *NEXT):
            return False
        turn.understood("next way")
        turn.ask(_proposal(step, match, found, (at + 1) % len(found.ways)))
        return True

    more = "" if len(found.ways) == 1 else f", or the next of {say_count(len(found.ways))}"
    prompt = f"{match.what}. {say_match(match, found, at).capitalize()}. As said: yes or no{more}?"
    return Question(name="match", prompt=prompt, take=take, phrases=("yes", "no", NEXT[0]))


def say_match(match: Match, found: Matches, at: int = 0) -> str:
    """One way in one breath: "one with three, two with one; totals within two grams"."""
    amount = say_quantity(to_say(found.figure, found.unit), found.unit)
    return _say_sets(match.how, found.ways[at], amount)


def _say_sets(how: str, way: Sets, amount: str = "") -> str:
    """The groups of one way, and what they come to where that is to be said too."""
    if how == "banks":
        banks = "; ".join(say_list(list(bank)) for bank in way)
        return f"{banks}; {amount} between the banks" if amount else banks
    groups = ", ".join(" with ".join(group) for group in way)
    return f"{groups}; {_WITHIN[how]} within {amount}" if amount else groups


def recall_match(state: State, step: str) -> tuple[str, ...]:
    """What was matched at a step, as it is to go together, in sentences."""
    return tuple(
        f"{row.entry.what.capitalize()}: {_say_sets(row.entry.how, row.entry.sets)}"
        for row in state.facts.of(Matched)
        if row.entry.step == step
    )


def say_kept(entry: Matched) -> str:
    """What was taken, and what it came to."""
    return _say_sets(entry.how, entry.sets, say_quantity(to_say(entry.figure, entry.unit), entry.unit))


_WITHIN = {"pairs": "each pair", "totals": "totals", "clearances": "clearances"}


def void_matches(turn: Turn) -> None:
    """Make a match void when a reading it rests on doesn't count any more: its step opens again to match anew."""
    void = turn.state.facts.void
    for row in turn.state.facts.of(Matched):
        if void.isdisjoint(row.entry.from_entries):
            continue
        shut = [each.n for each in turn.state.facts.of(StepClosed) if each.entry.step == row.entry.step]
        why = "a part was read anew"
        turn.write(NoLongerCounts(entries=(row.n, *shut), what=f"{row.entry.what} matched", reason=why))
