"""Witness points: another person than the doer looks before the step closes; nothing is suggested to them."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Person, StepEntered, Witnessed
from benchvoice.session.names import is_name
from benchvoice.session.opening import bare_name, known_people
from benchvoice.session.questions import free_words, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn

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
        if not is_name(name):
            turn.say("A witness has a name")
        elif name in doers(turn.state, step):
            turn.say("A witness is another person than who did it")
        elif " " in name and name not in known_people(turn.state.facts):
            prompt = f"{name} looked at it. Yes or no?"
            turn.ask(yes_or_no("confirm witness", prompt, lambda inner: seen(inner, name), no))
        else:
            seen(turn, name)

    def seen(turn: Turn, name: str) -> None:
        turn.write(Witnessed(step=step.step, witness=name))

    def no(turn: Turn) -> None:
        turn.say("A witness has a name")

    return free_words("witness", "Witness: who looked at it?", then, about="name")
