"""What changes in the middle of a set: it ran, it is hot now, it is cold now."""

from collections.abc import Callable

from benchvoice.procedure.models import Step, Warmth
from benchvoice.session.commands.table import Command
from benchvoice.session.plan import current_step
from benchvoice.session.readings import state_said
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.session.warmth import change, say_state, warmth_of

RAN = ("it ran", "it has run", "it ran again", "i ran it", "we ran it", "it's been run")
HOT = ("it's hot now", "it got hot", "it's warmed up", "it warmed up")
COLD = ("it's cold now", "it's gone cold", "it's cooled down", "it cooled down")


def _asks_state(state: State) -> tuple[Step, Warmth] | None:
    """The step in hand and what it asks, where that is whether it is cold or hot, or how long since it ran."""
    step = current_step(state)
    warmth = warmth_of(step) if step is not None else None
    if step is None or warmth is None or not (warmth.tables or warmth.since_it_ran is not None):
        return None
    return step, warmth


def _ran(turn: Turn, _rest: str) -> None:
    asks = _asks_state(turn.state)
    if asks is None:
        turn.say("Nothing here asks whether it ran")
        return
    change(turn, asks[0], "it ran")


def _now(turn: Turn, state: str) -> None:
    asks = _asks_state(turn.state)
    if asks is None or not asks[1].tables:
        turn.say("Cold and hot have no limits of their own here")
        return
    step = asks[0]
    said = state_said(turn.state.facts, step.step)
    if said is not None and said.entry.state == state:
        turn.say(f"{state} already")
        return
    change(turn, step, f"it is {state} now")
    turn.say(state)
    say_state(turn, step, state, f"it's {state} now")


def _sayable(*phrases: str) -> Callable[[State], tuple[str, ...]]:
    """What the ear listens for where the step in hand asks."""
    return lambda state: phrases if _asks_state(state) is not None else ()


WARMING = (
    Command(name="it ran", says=RAN, act=_ran, moves=True, heard=_sayable(*RAN)),
    Command(name="it's hot now", says=HOT, act=lambda turn, _rest: _now(turn, "hot"), moves=True, heard=_sayable(*HOT)),
    Command(
        name="it's cold now", says=COLD, act=lambda turn, _rest: _now(turn, "cold"), moves=True, heard=_sayable(*COLD)
    ),
)
