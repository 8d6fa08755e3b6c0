"""What is said of instruments and wrenches: which is used, another one, and what a torque is likely to clamp."""

from benchvoice.procedure.models import Step
from benchvoice.session.clamping import clamp_words
from benchvoice.session.commands.asking import tighten_step
from benchvoice.session.commands.table import Command
from benchvoice.session.fasteners import parts_of
from benchvoice.session.instruments import candidates, tool
from benchvoice.session.plan import current_step
from benchvoice.session.settings import refuses_for
from benchvoice.session.turn import Turn
from benchvoice.session.using import about, can_do, which_instrument


def _named(turn: Turn) -> tuple[Step, str] | None:
    """The step in hand and the procedure's name of what it reads with or tightens with."""
    step = current_step(turn.state)
    if step is None:
        return None
    if step.measure is not None and step.measure.instrument is not None:
        return step, step.measure.instrument
    wrenches = [part.wrench for part in parts_of(step) if part.wrench is not None]
    return (step, wrenches[0]) if wrenches else None


def _which(turn: Turn, _rest: str) -> None:
    found = _named(turn)
    used = tool(turn.state, found[1]) if found is not None else None
    turn.say("This step names no instrument" if used is None else about(used, turn.now.at.date()))


def _another(turn: Turn, _rest: str) -> None:
    found = _named(turn)
    if found is None or not candidates(turn.state, found[1]):
        turn.say("There is no other in the register")
        return
    step, name = found
    refuses = refuses_for(step, name) if step.tighten is not None else can_do
    turn.talk(told=None)
    turn.ask(which_instrument(turn.state, step, name, refuses))


def _clamp(turn: Turn, _rest: str) -> None:
    step = tighten_step(turn)
    turn.say(clamp_words(turn.state, step) if step is not None else "No tightening is coming")


INSTRUMENTS = (
    Command(
        name="which instrument",
        says=("which instrument", "which gauge", "which wrench", "what class", "which class", "what wrench"),
        act=_which,
    ),
    Command(
        name="another instrument",
        says=("another instrument", "other instrument", "another gauge", "another wrench", "change instrument"),
        act=_another,
        moves=True,
    ),
    Command(
        name="what's the clamp load",
        says=(
            "what's the clamp load",
            "what is the clamp load",
            "what clamp load is that",
            "what clamp load",
            "clamp load",
            "how much does it clamp",
            "how much does that clamp",
            "how hard does that clamp",
            "what clamp does that give",
            "what preload is that",
            "what's the preload",
        ),
        act=_clamp,
    ),
)
