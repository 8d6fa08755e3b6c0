"""Other builds: bringing one in after its step went on without it, or another one in its place."""

from benchvoice.procedure.models import Step
from benchvoice.session.bringing import look
from benchvoice.session.commands.table import Command
from benchvoice.session.follow_ups import is_sealed
from benchvoice.session.plan import fitted_steps
from benchvoice.session.questions import plain
from benchvoice.session.state import State
from benchvoice.session.turn import Turn


def _bringing(state: State) -> dict[str, Step]:
    """The steps that bring a build in, by what it is called."""
    return {plain(step.brings_in.what): step for step in fitted_steps(state) if step.brings_in is not None}


def _bring_in(turn: Turn, rest: str) -> None:
    step = _bringing(turn.state).get(plain(rest))
    if step is None:
        turn.say(f"No step here brings in a {rest}")
        return
    if is_sealed(turn.state, step):
        turn.say(f"{rest} was settled when the build was closed")
        return
    look(turn, step)


BUILDS = (
    Command(
        name="bring in the",
        leads=("bring in the", "bring in a", "bring in"),
        act=_bring_in,
        moves=True,
        while_asked=False,
        heard=lambda state: tuple(f"bring in the {name}" for name in _bringing(state)),
    ),
)
