"""How a session begins: a new build, or one that is resumed."""

from collections.abc import Callable

from benchvoice.session import follow_ups, summary
from benchvoice.session.commands import COMMANDS, find
from benchvoice.session.entries import Amended, NoLongerCounts, Opened, Person, Remembered, Resumed
from benchvoice.session.events import Amend, Begin, Resume
from benchvoice.session.facts import Facts
from benchvoice.session.judging import judge_again
from benchvoice.session.kinds import KINDS
from benchvoice.session.kinds.choose import particular_question
from benchvoice.session.names import is_name
from benchvoice.session.plan import answers, current_step
from benchvoice.session.questions import YES, free_words
from benchvoice.session.rebringing import note_changes
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.session.warmth import open_without_state

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
            instruments=event.instruments,
        )
    )
    turn.say(procedure.title, procedure.introduction or "", MANUAL)


def resume(turn: Turn, event: Resume, tick: Callable[[Turn], bool]) -> None:
    """Go on: what has changed in builds that were brought in, what was to be said first, what time has brought, then
    what is running, loose, left and banned, and where.

    `tick` does what the windows want done now: an open time that ran out while nobody was there is over.
    """
    turn.write(
        Resumed(
            program=event.program,
            set_aside=event.set_aside,
            power_on=event.power_on,
            uptime=event.uptime,
            instruments=event.instruments,
        )
    )
    turn.say(turn.state.procedure.title)
    note_changes(turn, event.brought)
    turn.say(*summary.for_next_time(turn.state))
    notes = tuple(row.n for row in turn.state.facts.of(Remembered) if row.entry.next_time)
    if notes:
        turn.write(NoLongerCounts(entries=notes, what="notes for next time", reason="said on resuming"))
    tick(turn)
    state = turn.state
    turn.say(*summary.standing(state, turn.now), "A torn last line was set aside" if event.set_aside else "")
    turn.say(*follow_ups.said_on_resuming(state, turn.now))
    if state.closed and not follow_ups.owed_words(state, turn.now):
        return
    turn.say(summary.where(state) if not state.closed else "")
    if state.held:
        turn.say('Holding. Say "carry on"')
        return
    before = state.facts.person
    turn.say(f"Who's on? It was {before}" if before else "Who's on?")
    turn.talk(question=who_is_on() if before is None else _still_on(before, known_people(state.facts)))


def bare_name(text: str) -> str:
    """The name in "it's ann", "ann here", "i'm ann", "ann is on"."""
    words = text
    for lead in ("it's ", "it is ", "i'm ", "i am ", "this is "):
        words = words.removeprefix(lead)
    for tail in (" here", " again", " is on", "'s on"):
        words = words.removesuffix(tail)
    return words.strip() or text


def who_is_on() -> Question:
    """Ask for the name of the person who is on."""

    def then(turn: Turn, words: str) -> None:
        name = bare_name(words)
        if not is_name(name):
            turn.say("The name alone")
            return
        before = turn.state.facts.person
        turn.write(Person(name=name, takes_over=before is not None and before != name))

    return free_words("who is on", "Who's on?", then, about="name")


def known_people(facts: Facts) -> tuple[str, ...]:
    """Everyone who was on in this build, newest first."""
    return tuple(dict.fromkeys(row.entry.name for row in reversed(facts.of(Person))))


def _still_on(before: str, people: tuple[str, ...]) -> Question:
    """Who is on after a break: a name, or yes; whoever just goes on with the work is taken for who was on before."""

    def take(turn: Turn, text: str) -> bool:
        words = bare_name(text)
        name = before if words in (*YES, "still me", "me", "same") else words
        if name not in people and not _is_name(turn, name):
            return False
        turn.understood("who is on")
        turn.talk(question=None)
        turn.write(Person(name=name, takes_over=name != before))
        return True

    return Question(name="who is on", prompt="Who's on?", take=take, about="name", may_be_passed_over=True)


def _is_name(turn: Turn, text: str) -> bool:
    """One new word of letters that is neither a command nor anything that the step in hand takes."""
    if not text.isalpha() or find(COMMANDS, text) is not None:
        return False
    step = current_step(turn.state)
    return step is None or not KINDS[step.kind].take(Turn(turn.state, turn.now, turn.utterance), step, text)


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
    judge_again(turn)
    open_without_state(turn)
