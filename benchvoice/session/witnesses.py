"""Witness points: another person than the doer looks before the step closes; nothing is suggested to them."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Person, StepEntered, Witnessed
from benchvoice.session.opening import bare_name
from benchvoice.session.questions import NO, YES, free_words
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn

_NOT_A_NAME = frozenset(
    {*YES, *NO, "not", "yet", "wait", "stop", "don't", "done", "i", "me", "myself", "us", "someone", "somebody"}
    | {"nobody", "no one", "none"}
)
_LEADS = ("it was ", "that was ", "yes ", "yeah ")
_TAILS = (
    *(" looked at it", " has looked at it", " checked it", " has checked it", " has looked", " has checked", " looked"),
    *(" checked", " has seen it", " saw it", " seen it", " did", " has", "'s"),
)


def is_witnessed(state: State, step: Step) -> bool:
    """Whether somebody was named as having looked at the step."""
    return any(row.entry.step == step.step for row in state.facts.of(Witnessed))


def doers(state: State, step: Step) -> frozenset[str]:
    """Everyone who did anything of the step that counts, or was on since it was entered, and who is on now."""
    facts = state.facts
    entered = [row for row in facts.of(StepEntered) if row.entry.step == step.step]
    on = [row for row in facts.of(Person) if entered and row.n > entered[-1].n]
    did = [
        row for row in facts.rows() if row.n not in facts.void and getattr(row.entry, "step", None) == step.step
    ]
    return frozenset(name for name in (*(row.by for row in (*on, *did)), facts.person) if name)


def _name_in(words: str) -> str:
    """The name in "bo looked at it", "it was bo", "bo's seen it"."""
    name = words.replace(",", "")
    for lead in _LEADS:
        name = name.removeprefix(lead)
    name = bare_name(name)
    for tail in _TAILS:
        name = name.removesuffix(tail)
    return name


def ask_witness(step: Step) -> Question:
    """Ask who looked: a name, and not that of who did it."""

    def then(turn: Turn, words: str) -> None:
        name = _name_in(words)
        if not name or _NOT_A_NAME & {name, *name.split()} or len(name.split()) > 2:
            turn.say("A witness has a name")
        elif name in doers(turn.state, step):
            turn.say("A witness is another person than who did it")
        else:
            turn.write(Witnessed(step=step.step, witness=name))

    return free_words("witness", "Witness: who looked at it?", then, about="name")
