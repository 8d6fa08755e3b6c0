"""A zero that moved: what was read since the last good zero is doubtful, place by place; nothing is subtracted."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Override, Remeasured, Zeroed
from benchvoice.session.questions import one_of
from benchvoice.session.readings import still_needed, taken
from benchvoice.session.state import State
from benchvoice.session.taking import measure_of, used_at
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import Action, SpokenReading
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


def is_zeroed(state: State, step: Step, when: str) -> bool:
    """Whether the first or the last zero check of a step is good, or was let stand."""
    good = (row.entry for row in state.facts.of(Zeroed) if row.entry.step == step.step and row.entry.good)
    if any(entry.when == when for entry in good):
        return True
    let = (row.entry for row in state.facts.of(Override) if row.entry.step == step.step)
    return when == "last" and any(entry.what == STANDS for entry in let)


def ask_last_zero(turn: Turn, step: Step) -> bool:
    """Ask for the zero check that ends a set; False where none is due."""
    if not measure_of(step).zero_check or is_zeroed(turn.state, step, "last"):
        return False
    ask_zero(turn, step, "last")
    return True


def ask_zero(turn: Turn, step: Step, when: str) -> None:
    """Ask what the gauge reads on its zero, once."""
    measure = measure_of(step)
    key = f"zero {step.step} {when}"
    if turn.state.talk.told == key:
        return
    turn.talk(told=key)
    on = f" on the {measure.master.what}" if measure.master else ""
    turn.say(f"Zero{on}: what does it read?" if when == "first" else f"Zero again{on}: what does it read?")


def awaits_zero(state: State, step: Step) -> str | None:
    """Which zero check the step waits for: the first, the last, or none."""
    measure = measure_of(step)
    if not measure.zero_check:
        return None
    if not is_zeroed(state, step, "first"):
        return "first"
    if not still_needed(state.facts, step) and not is_zeroed(state, step, "last"):
        return "last"
    return None


def take_zero(turn: Turn, step: Step, heard: SpokenReading, when: str) -> bool:
    """Take what the gauge reads on its zero."""
    if heard.value is None or heard.action not in (Action.TAKE, Action.READ_BACK):
        return False
    measure = measure_of(step)
    turn.understood("zero check")
    good = heard.value == 0
    turn.write(
        Zeroed.model_validate(
            {
                "step": step.step,
                "instrument": used_at(turn.state, measure) or "",
                "value": heard.value,
                "unit": heard.unit or measure.unit,
                "when": when,
                "good": good,
            }
        )
    )
    turn.talk(told=None)
    if good:
        turn.say("Zero")
    elif when == "first":
        turn.say("Set it to zero and read it again")
    else:
        zero_moved(turn, step, heard)
    return True
