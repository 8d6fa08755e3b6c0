"""A zero that moved: what was read since the last good zero is doubtful, place by place; nothing is subtracted."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Override, Remeasured, Zeroed
from benchvoice.session.questions import one_of
from benchvoice.session.readings import taken
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import SpokenReading
from benchvoice.speech.say import say_count, say_number

STANDS = "the zero had moved"
"""What an override is called that lets readings stand although the zero moved."""


def zero_moved(turn: Turn, step: Step, heard: SpokenReading) -> None:
    """Ask what is to be done with the readings since the last good zero."""
    good = [row.n for row in turn.state.facts.of(Zeroed) if row.entry.step == step.step and row.entry.good]
    since = good[-1] if good else 0
    rows = [row for row in taken(turn.state.facts, step.step) if row.n > since]
    assert heard.value is not None

    def then(inner: Turn, choice: str) -> None:
        if choice == "read them again":
            inner.write(
                Remeasured(
                    step=step.step,
                    entries=tuple(row.n for row in rows),
                    reason="the zero had moved",
                )
            )
            inner.talk(place=None)
        else:
            inner.write(Override(what=STANDS, reason="let them stand", step=step.step))

    turn.say(
        f"The zero moved: {say_number(heard.value)}. {say_count(len(rows))} readings since the last zero are doubtful"
    )
    turn.ask(one_of("zero moved", "Read them again, or let them stand?", ("read them again", "let them stand"), then))
