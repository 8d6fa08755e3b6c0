"""Work owed after hand-over: what is left of it, taking it up on the closed build, and when it is done.

The first closing stays in the log: a follow-up opens nothing but its own steps, and closes with an entry of its own.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Closed, FollowUp, NoLongerCounts, Owed, OwedDone, StepClosed
from benchvoice.session.facts import Facts, Instant, Row
from benchvoice.session.plan import closed_steps, fitted_steps, follow_up_steps
from benchvoice.session.questions import listed, plain, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.session.windows import Running, is_full, running
from benchvoice.speech.say import say_count, say_duration

QUESTION = "follow-up"
NOT_NOW = ("none", "not now", "no", "later", "nothing")
_DONE = ("done", "it's done", "that's done", "all done", "finished")


def owed_rows(facts: Facts) -> tuple[Row[Owed], ...]:
    """What is owed after hand-over and not done."""
    done = {row.entry.entry for row in facts.of(OwedDone)}
    return tuple(row for row in facts.of(Owed) if row.n not in done)


def cures_left(state: State, now: Instant) -> tuple[Running, ...]:
    """Cures that may outlast the build and have not had their time by any clock that is sure."""
    outlast = {step.step for step in state.procedure.steps if step.wait is not None and step.wait.may_outlast}
    return tuple(
        window
        for window in running(state.facts, now)
        if not window.is_open_time and window.name in outlast and not is_full(state.facts, window)
    )


def owed_words(state: State, now: Instant) -> tuple[str, ...]:
    """All that is owed, in words: work, and cures with the time that is to go."""
    cures = (f"{each.row.entry.what}: {_to_go(each)}" for each in cures_left(state, now))
    return (*(row.entry.what for row in owed_rows(state.facts)), *cures)


def _to_go(cure: Running) -> str:
    return "full by the clock, and not vouched for" if cure.doubtful else f"{say_duration(cure.left)} to go"


def first_closing(facts: Facts) -> int:
    """Line of the first closing; 0 while the build is open."""
    rows = facts.of(Closed)
    return rows[0].n if rows else 0


def is_sealed(state: State, step: Step) -> bool:
    """Whether a step was closed with the build: a follow-up does not open it again."""
    return first_closing(state.facts) > 0 and step.step not in follow_up_steps(state.procedure)


def taken_up(facts: Facts) -> tuple[Row[FollowUp], ...]:
    """Follow-ups of this session on the closed build, oldest first: those that no closing entry closes yet."""
    closed = facts.last(Closed)
    return tuple(row for row in facts.of(FollowUp) if closed is None or row.n > closed.n)


def not_done(state: State) -> tuple[Row[FollowUp], ...]:
    """Follow-ups that were taken up and whose work is not done."""
    done = {row.entry.follow_up for row in state.facts.of(OwedDone)}
    return tuple(row for row in taken_up(state.facts) if row.n not in done)


def _steps_of(state: State, row: Row[FollowUp]) -> tuple[Step, ...]:
    return tuple(step for step in fitted_steps(state) if step.step in row.entry.steps)


# Taking it up --------------------------------------------------------------------------------------------------------


def ask_follow_up(turn: Turn) -> bool:
    """On a closed build: ask which of what is owed is done now; False where nothing is, or none was wanted."""
    rows = owed_rows(turn.state.facts)
    if not rows or turn.state.talk.told == "not now":
        return False
    turn.ask(_which(rows))
    return True


def _which(rows: tuple[Row[Owed], ...]) -> Question:
    if len(rows) == 1:
        return yes_or_no(QUESTION, f"{rows[0].entry.what}: now, yes or no?", lambda turn: _begin(turn, rows[0]), _none)
    names = {say_count(at): row for at, row in enumerate(rows, 1)}
    by_words = {plain(name): row for row in rows for name in (row.entry.what, _briefly(row.entry.what))}
    listing = ". ".join(f"{name.capitalize()}, {_briefly(row.entry.what)}" for name, row in names.items())

    def take(turn: Turn, text: str) -> bool:
        row = names.get(text.removeprefix("number ")) or by_words.get(plain(text))
        if row is None and text not in NOT_NOW:
            return False
        turn.understood(QUESTION)
        turn.talk(question=None)
        if row is None:
            _none(turn)
        else:
            _begin(turn, row)
        return True

    phrases = (*names, *(name for name in by_words if len(name.split()) < 6), "none")
    return Question(name=QUESTION, prompt=f"Which now? {listing}. Or none?", take=take, phrases=phrases)


def _briefly(what: str) -> str:
    """What is owed, without when."""
    return what.partition(",")[0]


def _none(turn: Turn) -> None:
    turn.talk(told="not now")
    turn.say("Then it stays owed", "" if turn.state.closed else 'Say "close the build"')


def _begin(turn: Turn, row: Row[Owed]) -> None:
    """Take work up: its steps open, also those that an earlier follow-up passed over."""
    shut = closed_steps(turn.state.facts)
    passed = tuple(shut[name].n for name in row.entry.steps if name in shut and shut[name].entry.how != "done")
    if passed:
        turn.write(NoLongerCounts(entries=passed, what=row.entry.what, reason="taken up again"))
    turn.write(FollowUp(entry=row.n, what=row.entry.what, steps=row.entry.steps))
    turn.talk(told=None)
    turn.say(f"Follow-up: {row.entry.what}")


# Doing it ------------------------------------------------------------------------------------------------------------


def ask_done(state: State) -> Question | None:
    """Work that no step describes: it is done when a person says so, and asked again after a kill."""
    for row in not_done(state):
        if not row.entry.steps:
            return _is_it_done(row)
    return None


def _is_it_done(row: Row[FollowUp]) -> Question:
    def take(turn: Turn, text: str) -> bool:
        if text not in (*_DONE, *NOT_NOW):
            return False
        turn.understood("owed work")
        turn.talk(question=None)
        if text in _DONE:
            turn.write(OwedDone(entry=row.entry.entry, what=row.entry.what, follow_up=row.n))
            turn.say("Done, and no longer owed")
        else:
            turn.write(NoLongerCounts(entries=(row.n,), what=row.entry.what, reason="not now"))
            _none(turn)
        return True

    prompt = f'{row.entry.what}. Say "done" when it is done, or "not now"'
    return Question(name="owed work", prompt=prompt, take=take, phrases=("done", "not now"))


def note_done(turn: Turn) -> bool:
    """Note follow-ups whose steps are all done; True where one was."""
    found = False
    closed = closed_steps(turn.state.facts)
    for row in not_done(turn.state):
        steps = _steps_of(turn.state, row)
        hows = [_how(closed.get(step.step)) for step in steps]
        if row.entry.steps and all(how == "done" for how in hows):
            turn.write(OwedDone(entry=row.entry.entry, what=row.entry.what, follow_up=row.n))
            turn.say(f"{_briefly(row.entry.what)}: done, and no longer owed")
            found = True
    return found


def _how(row: Row[StepClosed] | None) -> str:
    return row.entry.how if row is not None else ""


def against_closing(state: State) -> tuple[str, ...]:
    """Follow-ups that were taken up and not done: those without steps; steps that are open are told anyway."""
    return tuple(f"{row.entry.what}: not done" for row in not_done(state) if not row.entry.steps)


def said_on_resuming(state: State, now: Instant) -> tuple[str, ...]:
    """What a closed build owes, or which follow-up is in hand, in sentences."""
    if state.closed:
        owed = owed_words(state, now)
        return ("The build is closed", f"Owed: {listed(owed, 'and')}" if owed else "Nothing is owed here")
    return tuple(f"Follow-up on the closed build: {row.entry.what}" for row in not_done(state))
