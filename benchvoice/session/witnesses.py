"""Witness points: another person than the doer looks before the step closes; nothing is suggested to them."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Heard, Person, StepEntered, Witnessed
from benchvoice.session.opening import bare_name
from benchvoice.session.questions import NO, YES, free_words
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn

_NOT_A_NAME = frozenset(
    {*YES, *NO, "i", "me", "myself", "us", "done", "someone", "somebody", "nobody", "no one", "none"}
)
_TAILS = (" looked at it", " has looked at it", " checked it", " has looked", " has checked", " looked", " did", " has")


def is_witnessed(state: State, step: Step) -> bool:
    """Whether somebody was named as having looked at the step."""
    return any(row.entry.step == step.step for row in state.facts.of(Witnessed))


def doers(state: State, step: Step) -> frozenset[str]:
    """Everyone who was on when something was done in the step since it was entered, and who is on now."""
    entered = [row for row in state.facts.of(StepEntered) if row.entry.step == step.step]
    since = entered[-1:] if entered else []
    rows = [row for row in state.facts.since(since[-1].n if since else 0) if not isinstance(row.entry, Person | Heard)]
    worked = {row.by for row in (*since, *rows) if getattr(row.entry, "step", None) == step.step}
    return frozenset(name for name in (*worked, state.facts.person) if name)


def ask_witness(step: Step) -> Question:
    """Ask who looked: a name, and not that of who did it."""

    def then(turn: Turn, words: str) -> None:
        name = bare_name(words)
        for tail in _TAILS:
            name = name.removesuffix(tail)
        if name in _NOT_A_NAME or len(name.split()) > 2:
            turn.say("A witness has a name")
        elif name in doers(turn.state, step):
            turn.say("A witness is another person than who did it")
        else:
            turn.write(Witnessed(step=step.step, witness=name))

    return free_words("witness", "Witness: who looked at it?", then, about="name")
