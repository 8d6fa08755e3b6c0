"""Shim moved from one side to the other: their sum is kept, and so is what the sum makes (a preload).

The value that is out falls by `change` for each unit taken from the first pack and put to the second. The pieces come
from both packs and the tray, so that the new packs may be made of other pieces than the old.
"""

from dataclasses import dataclass
from fractions import Fraction

from benchvoice.procedure.models import Measure, Shift, Step
from benchvoice.quantity.packs import BadStock, Move, moves
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.computing import update_computed
from benchvoice.session.entries import PackTaken, Reading, Remeasured, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.packing import Offer, Then
from benchvoice.session.questions import listed
from benchvoice.session.readings import taken
from benchvoice.session.state import State
from benchvoice.session.stock import Wanted, Way, at_hand, say_total, say_way, standing_packs
from benchvoice.session.turn import Turn


@dataclass(frozen=True, slots=True)
class _Now:
    """The two packs as they are, and the value that they give, in the step's unit."""

    first: PackTaken
    second: PackTaken
    value: Fraction
    unit: str

    @property
    def total(self) -> Fraction:
        return Fraction(self.first.total) + Fraction(self.second.total)


def ask_shift_on_way_out(turn: Turn, step: Step, out: Row[Reading], then: Then) -> bool:
    """Propose the move, before going back; False where none is declared or none helps, which is said."""
    measure = step.measure
    assert measure is not None
    shift = measure.out.shift if measure.out is not None else None
    if shift is None:
        return False
    now = _now(turn.state, step.step, measure, shift, out)
    if now is None:
        turn.say(f"{listed(shift.packs, 'and')} were not taken from the tray: the move can't be worked out")
        return False
    found = {(move.first, move.second): move for move in _ways(turn.state, shift, now)}
    if not found:
        turn.say(f"No move between {listed(shift.packs, 'and')} with their sum kept brings it in")
        return False

    def after(inner: Turn) -> None:
        _spoil(inner, step.step, shift)
        then(inner)

    total = to_decimal(now.total)
    wanted = Wanted(shift.packs, now.first.stock, total, total, now.first.unit, reading=now.first.reading)
    first = f"Mean {_said(now.value, now.unit)}"

    def say(way: Way) -> str:
        return _say(shift, now, wanted, found[way[0], way[1]])

    offer = Offer(now.first.step, wanted, tuple(found), say, after, _MOVED, first)
    turn.ask(offer.question())
    return True


_MOVED = "moved from side to side, the sum kept"


def _now(state: State, step: str, measure: Measure, shift: Shift, out: Row[Reading]) -> _Now | None:
    standing = standing_packs(state.facts)
    first, second = (standing.get((name, ())) for name in shift.packs)
    if first is None or second is None:
        return None
    rows = [
        row.entry for row in state.facts.of(Reading) if (row.entry.step, row.entry.what) == (step, out.entry.what)
    ] or [out.entry]
    values = [convert(each.value, each.unit, measure.unit) for each in rows if each.value is not None]
    return _Now(first.entry, second.entry, sum(values, Fraction(0)) / len(values), measure.unit)


def _ways(state: State, shift: Shift, now: _Now) -> tuple[Move, ...]:
    """Every move that brings the value into the aim, in the unit of the packs, the nearest to its middle first."""
    unit = now.first.unit
    value, low, high = (convert(to_decimal(each), now.unit, unit) for each in (now.value, *shift.aim))
    tray = at_hand(state, now.first.stock, but=tuple((name, ()) for name in shift.packs))
    try:
        return tuple(moves(tray, (now.first.total, now.second.total), value, (low, high), shift.change))
    except BadStock:  # far more ways than can be meant
        return ()


def _say(shift: Shift, now: _Now, wanted: Wanted, move: Move) -> str:
    """Move five hundredths from left to right: about zero point one nine one. Then both packs, and their sum."""
    source, target = shift.packs if move.moved > 0 else shift.packs[::-1]
    after = convert(to_decimal(move.value), now.first.unit, now.unit)
    amount = say_total(abs(move.moved), now.first.unit)
    way = say_way(wanted, (move.first, move.second))
    return f"Move {amount} from {source} to {target}, to about {_said(after, now.unit)}. {way}"


def _said(value: Fraction, unit: str) -> str:
    return say_total(to_decimal(value), unit)


def _spoil(turn: Turn, step: str, shift: Shift) -> None:
    """The move spoils every reading of this step, and of the steps that are to be read again for it."""
    for name in (step, *shift.again):
        rows = {row.n for row in taken(turn.state.facts, name)}
        if rows:
            judged = {row.n for row in turn.state.facts.of(Verdict) if row.entry.reading in rows}
            turn.write(Remeasured(step=name, entries=tuple(sorted(rows | judged)), reason=_MOVED))
    update_computed(turn)
