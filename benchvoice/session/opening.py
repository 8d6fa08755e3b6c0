"""How a session begins: a new build, or one that is resumed."""

from benchvoice.session import summary
from benchvoice.session.entries import Amended, NoLongerCounts, Opened, Person, Remembered, Resumed, Verdict
from benchvoice.session.events import Amend, Begin, Resume
from benchvoice.session.kinds.choose import particular_question
from benchvoice.session.plan import answers
from benchvoice.session.questions import free_words, listed
from benchvoice.session.readings import all_standing, verdict_on, verdicts
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_place

MANUAL = "The maker's manual comes first where it differs, and local codes and licensed or competent persons"


def begin(turn: Turn, event: Begin) -> None:
    """Open the build and say what it is."""
    procedure = turn.state.procedure
    turn.write(
        Opened(
            title=procedure.title,
            procedure=event.file,
            procedure_sha256=event.sha256,
            machine=event.machine or procedure.machine,
            program=event.program,
            power_on=event.power_on,
            uptime=event.uptime,
        )
    )
    turn.say(procedure.title, procedure.introduction or "", MANUAL)


def resume(turn: Turn, event: Resume) -> None:
    """Go on: windows first, then what is loose, then what was to be said, then where."""
    turn.write(Resumed(program=event.program, set_aside=event.set_aside, power_on=event.power_on, uptime=event.uptime))
    state = turn.state
    turn.say(
        state.procedure.title,
        *summary.windows(state, turn.now),
        *summary.for_next_time(state),
        *summary.loose(state),
        *summary.left_for_later(state),
        *summary.inside(state),
        *summary.bans(state),
        "A torn last line was set aside" if event.set_aside else "",
    )
    notes = tuple(row.n for row in state.facts.of(Remembered) if row.entry.next_time)
    if notes:
        turn.write(NoLongerCounts(entries=notes, what="notes for next time", reason="said on resuming"))
    if state.closed:
        turn.say("The build is closed")
    else:
        turn.say(summary.where(state))
        turn.say(f"Who's on? It was {state.facts.person}" if state.facts.person else "Who's on?")
        turn.talk(question=who_is_on())


def who_is_on() -> Question:
    """Ask for the name of the person who is on."""

    def then(turn: Turn, name: str) -> None:
        before = turn.state.facts.person
        turn.write(Person(name=name, takes_over=before is not None and before != name))

    return free_words("who is on", "Who's on?", then, about="name")


def still_to_ask(state: State) -> Question | None:
    """What must be known before the first step: who is on, and particulars and options that no step asks."""
    if state.facts.person is None:
        return who_is_on()
    asked = {name for step in state.procedure.steps if step.choose for name in (*step.choose.ask, step.choose.name)}
    known = answers(state.facts)
    for name in (*state.procedure.particulars, *state.procedure.options):
        if name not in asked and name not in known:
            return particular_question(state, name, None)
    return None


def say_standing_orders(turn: Turn) -> None:
    """Standing orders are read once, when the first person is on."""
    turn.say(*(f"Throughout: {order}" for order in turn.state.procedure.standing_orders))


def amend(turn: Turn, event: Amend) -> None:
    """Freeze the new version into the build, say the difference, and judge the readings of the affected steps again."""
    turn.write(
        Amended(procedure=event.file, procedure_sha256=event.sha256, reason=event.reason, difference=event.difference)
    )
    turn.say(f"The procedure is amended: {event.difference}")
    state = turn.state
    newest = verdicts(state.facts)
    for step in state.procedure.steps:
        if step.measure is None:
            continue
        changed = []
        for row in all_standing(state.facts, step):
            verdict = verdict_on(state, step, row)
            old = newest.get(row.n)
            if verdict is None or (old is not None and _same(old.entry, verdict)):
                continue
            turn.write(verdict)
            if old is None or old.entry.outcome != verdict.outcome:
                changed.append(f"{say_place(row.entry.place, tuple(step.measure.places))} {verdict.outcome}")
        if changed:
            turn.say(f"{step.measure.what}: {listed(changed, 'and')}")


def _same(old: Verdict, new: Verdict) -> bool:
    return (old.outcome, old.low, old.high, old.unit, old.out_by) == (
        new.outcome,
        new.low,
        new.high,
        new.unit,
        new.out_by,
    )
