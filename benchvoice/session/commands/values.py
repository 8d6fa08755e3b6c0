"""Values asked by name: the mean of what was read, the press that two sizes make, any other that a step computes.

Questions all: they are heard and answered, and nothing else is written.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from benchvoice.procedure.models import Step
from benchvoice.session.commands.table import Command
from benchvoice.session.entries import Reading
from benchvoice.session.facts import Row
from benchvoice.session.figures import note_figure
from benchvoice.session.means import mean_reading
from benchvoice.session.plan import current_step, fitted_steps
from benchvoice.session.readings import all_standing, at_place, still_needed, taken
from benchvoice.session.sources import computed_row, places_of_computed
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count, say_place, say_quantity, to_say

_MEAN = "mean"
_ASKED: Mapping[str, str] = MappingProxyType(
    {
        _MEAN: _MEAN,
        "average": _MEAN,
        "press": "press",
        "interference": "press",
        "squeeze": "squeeze",
        "spread": "spread",
        "taper": "taper",
        "oval": "oval",
        "out of round": "out_of_round",
    }
)
"""What is asked for, by what is said: a word of the name that a document gives the value."""
_MOST_SAID = 6
"""Places that are said in one breath; how many more there are is said after them."""


@dataclass(frozen=True, slots=True)
class _Known:
    """A computed value that stands, at each of its places that was worked out."""

    step: Step
    name: str
    axes: tuple[str, ...]
    rows: tuple[Row[Reading], ...]

    @property
    def newest(self) -> int:
        return max(row.n for row in self.rows)


def _value(turn: Turn, rest: str) -> None:
    """The value of that name at the step in hand, else the one that was worked out last."""
    word = _ASKED[rest]
    here = _read_last(turn.state)
    if here is not None and _is_blind(turn.state, here):
        turn.say("After the last reading")
        return
    known = _known(turn.state, word)
    if word == _MEAN:
        known = tuple(each for each in known if here is not None and each.step == here)
    best = max(known, key=lambda each: each.newest, default=None)
    if best is not None:
        _say_known(turn, best)
    elif word == _MEAN:
        _say_mean(turn, here)
    else:
        turn.say(f"No {rest} was worked out yet")


def _read_last(state: State) -> Step | None:
    """The step in hand where something was read at it, else the one of the last reading."""
    step = current_step(state)
    if step is not None and taken(state.facts, step.step):
        return step
    rows = [row for row in state.facts.of(Reading) if row.entry.counts_as not in ("computed", "zero check", "mean")]
    return state.step(rows[-1].entry.step) if rows else None


def _is_blind(state: State, step: Step) -> bool:
    """Whether nothing is to be known of the readings before the last of them is in."""
    hidden = step.witness or (step.measure is not None and step.measure.say_limits == "after")
    return hidden and bool(still_needed(state.facts, step))


def _known(state: State, word: str) -> tuple[_Known, ...]:
    found = []
    for step in fitted_steps(state):
        for name, computed in step.measure.computed.items() if step.measure is not None else ():
            if f"_{word}_" not in f"_{name}_":
                continue
            assert step.measure is not None
            places = places_of_computed(step.measure, computed)
            rows = (computed_row(state.facts, step.step, name, place) for place in places)
            standing = tuple(row for row in rows if row is not None and row.entry.value is not None)
            if standing:
                found.append(_Known(step, name, computed.per, standing))
    return tuple(found)


def _say_known(turn: Turn, known: _Known) -> None:
    said = [_at(row.entry, known.axes) for row in known.rows[:_MOST_SAID]]
    more = len(known.rows) - len(said)
    turn.say(f"{_called(known)}: {'; '.join(said)}{f'; and {say_count(more)} more' if more else ''}")
    _note(turn, known.rows[len(said) - 1].entry)


def _called(known: _Known) -> str:
    assert known.step.measure is not None
    return known.step.measure.computed[known.name].say or known.name.replace("_", " ")


def _at(reading: Reading, axes: tuple[str, ...]) -> str:
    place = say_place(reading.place, axes)
    return f"{place} {_said(reading)}" if place else _said(reading)


def _said(reading: Reading) -> str:
    assert reading.value is not None
    return say_quantity(to_say(reading.value, reading.unit), reading.unit)


def _note(turn: Turn, reading: Reading) -> None:
    assert reading.value is not None
    note_figure(turn, to_say(reading.value, reading.unit), reading.unit)


def _say_mean(turn: Turn, step: Step | None) -> None:
    """The mean of the readings at a place that has several, else of all that stand at the step."""
    rows = _to_average(turn.state, step) if step is not None else ()
    if step is None or not rows:
        turn.say("Nothing was read yet")
        return
    mean = mean_reading(rows)
    if mean is None:
        turn.say("A mean wants values; between two leaves there is none")
        return
    what = step.measure.what if step.measure is not None else rows[0].entry.what
    several = {row.entry.place for row in rows}
    place = say_place(rows[0].entry.place) if len(several) == 1 else ""
    where = f"{what}, {place}" if place else what
    if len(rows) == 1:  # one reading is its own mean, with the decimals it was said with
        turn.say(f"{where}: {_said(rows[0].entry)}, read once")
        _note(turn, rows[0].entry)
        return
    turn.say(f"{where}: mean of {say_count(len(rows))}, {_said(mean)}")
    _note(turn, mean)


def _to_average(state: State, step: Step) -> tuple[Row[Reading], ...]:
    """The repeats at the place in hand, while one of them is to be chosen; else what stands, place by place."""
    place = state.talk.again or state.talk.place
    repeats = at_place(state.facts, step.step, place) if place is not None else ()
    return repeats if len(repeats) > 1 else all_standing(state.facts, step)


def _value_words(state: State) -> tuple[str, ...]:
    """Where there is something to average, or a press to tell."""
    step = _read_last(state)
    several = step is not None and len(taken(state.facts, step.step)) > 1
    return (*(("what's the mean",) if several else ()), *(("what's the press",) if _known(state, "press") else ()))


VALUES = (
    Command(
        name="what's the mean",
        leads=("what's the", "what is the", "what was the"),
        act=_value,
        fits=lambda rest: rest in _ASKED,
        heard=_value_words,
    ),
)
