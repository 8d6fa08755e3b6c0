"""Figures in questions: what was said, in a unit; what "that" is; and sizes of a stock."""

from dataclasses import dataclass, replace
from decimal import Decimal

from benchvoice.quantity.values import Quantity
from benchvoice.session.entries import Reading
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import Action, Context, SpokenReading, parse_reading
from benchvoice.speech.say import say_list, say_number


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that was read or said, and the smallest step that it implies, in its unit."""

    size: Quantity
    resolution: Decimal
    n: int
    """How many lines the log had when it was said."""


def note_figure(turn: Turn, value: Decimal, unit: str, resolution: Decimal | None = None) -> None:
    """Remember a figure that was just said, for "what's that in …"."""
    size = Quantity(value=value, unit=unit)
    turn.talk(figure=Figure(size, resolution or last_place(value), turn.state.facts.count))


_UNSAID = ("computed", "mean", "zero check")
"""Values that were not read out by the person; a computed one that was said aloud is the figure said last."""


def that(state: State) -> Figure | None:
    """The figure that was said last, or the last reading, whichever is newer."""
    said = state.talk.figure
    every = (row for row in state.facts.of(Reading) if row.entry.value is not None)
    rows = [row for row in every if row.entry.counts_as not in _UNSAID]
    if not rows or (said is not None and said.n >= rows[-1].n):
        return said
    entry = rows[-1].entry
    assert entry.value is not None
    size = Quantity(value=entry.value, unit=entry.unit)
    return Figure(size, entry.resolution or last_place(entry.value), rows[-1].n)


def last_place(value: Decimal) -> Decimal:
    """One in the last decimal that was said."""
    exponent = value.as_tuple().exponent
    return Decimal(1).scaleb(min(0, exponent if isinstance(exponent, int) else 0))


def figure_in(words: str, context: Context) -> SpokenReading | None:
    """The one number that the words are, when they are one; None where they are none or might be several.

    A figure with its unit needs no limits to be understood, and may be as coarse as it likes: nothing is judged by it.
    """
    for way in (context, replace(context, low=None, high=None, resolution=None)):
        heard = parse_reading(words, way)
        if heard.action in (Action.TAKE, Action.READ_BACK) and heard.value is not None and heard.unit is not None:
            return heard if way is context or heard.heard_unit is not None else None
    return None


def is_figure(words: str) -> bool:
    """Whether words hold a number at all, so that a question may be about it."""
    return parse_reading(words, Context(work="metric")).action is not Action.NOT_A_VALUE


def which_figure(words: str, context: Context) -> str:
    """Why words in a question are no figure, and what to say instead."""
    heard = parse_reading(words, context)
    if len(heard.candidates) > 1:
        said = [_spoken(each) for each in heard.candidates[:3]]
        return f"{say_list(said, last='or')}? Ask again with the point"
    return f"I know no figure {words}"


def _spoken(candidate: str) -> str:
    figures = candidate.partition(" ")[0]
    try:
        return say_number(Decimal(figures))
    except ArithmeticError:
        return candidate
