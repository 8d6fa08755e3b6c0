"""A reading after each fastener, before the next: a lock nut is tightened, and the lash it may have moved is read.

The readings belong to the measure step that `each_read` names; when its turn comes they are all there. A reading that
is to be reworked loosens its fastener again: it is tightened once more, and read once more.
"""

from benchvoice.procedure.models import Step
from benchvoice.session.deciding import ask_decision, ask_which
from benchvoice.session.entries import NoLongerCounts, Place, Reading, Remeasured, Tightened, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import Task, is_done, order_numbers, outcomes, still_open, tasks_of
from benchvoice.session.positions import Said, understand_positions
from benchvoice.session.readings import at_place, still_needed, taken, to_choose, to_decide
from benchvoice.session.state import State
from benchvoice.session.taking import context_at, take_reading
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import Action, parse_reading
from benchvoice.speech.say import say_count, say_place


def reading_due(state: State, step: Step) -> tuple[Task, Step, Place] | None:
    """The reading that must follow a fastener that is done, with its stage; None where none is waited for."""
    for task in tasks_of(state, step):
        name = task.part.each_read
        if name is None:
            continue
        measured = state.step(name)
        owed = {*still_needed(state.facts, measured), *to_choose(state.facts, measured)}
        owed |= {row.entry.place for row in to_decide(state.facts, measured)}
        if state.talk.again is not None:
            owed.add(state.talk.again)
        done = is_done(state.facts, task)
        due = [
            (position,)
            for position in task.positions
            if position in done and ((position,) in owed or _older(state, task, measured, position))
        ]
        if due:
            return task, measured, due[0]
    return None


def _older(state: State, task: Task, measured: Step, position: str) -> tuple[Row[Reading], ...]:
    """Readings of a fastener that were taken before it was tightened last."""
    tight = outcomes(state.facts, task)[position]
    return tuple(row for row in at_place(state.facts, measured.step, (position,)) if row.n < tight.n)


def ask_reading_due(turn: Turn, step: Step) -> bool:
    """Ask the reading that follows the last fastener, or about it; False when the next fastener may be done."""
    _loosen(turn, step)
    due = reading_due(turn.state, step)
    if due is None:
        _next_one(turn, step)
        return False
    task, measured, place = due
    measure = measured.measure
    assert measure is not None
    _read_anew(turn, task, measured, place[0])
    facts = turn.state.facts
    again = turn.state.talk.again == place
    if place in to_choose(facts, measured) and not again:
        turn.ask(ask_which(turn.state, measured, place, at_place(facts, measured.step, place)))
        return True
    undecided = [row for row in to_decide(facts, measured) if row.entry.place == place]
    if undecided and not again:
        turn.ask(ask_decision(turn.state, measured, undecided[0]))
        return True
    if turn.state.talk.place != place or again:
        turn.talk(place=place)
        turn.say(f"{say_place(place, tuple(measure.places))}, {measure.what}?")
    return True


def take_reading_due(turn: Turn, step: Step, text: str) -> bool:
    """Take the reading that is waited for; False where none is, or where the words are none."""
    due = reading_due(turn.state, step)
    if due is None:
        return False
    task, measured, place = due
    heard = parse_reading(text, context_at(turn.state, measured, place))
    numbers = order_numbers(turn.state.procedure, task.part.group)
    if heard.action is Action.ASK and understand_positions(text, numbers, task.positions, touched=True) is not None:
        turn.understood("position before its reading")
        turn.say(f"First: {owed_readings(turn.state, step)[0]}")
        return True
    return take_reading(turn, measured, place, heard, text)


def refused_many(turn: Turn, task: Task, said: Said) -> bool:
    """Where each fastener is followed by a reading, only one is done at a time."""
    if task.part.each_read is None or said.meaning != "done" or len(said.positions) == 1:
        return False
    measure = turn.state.step(task.part.each_read).measure
    assert measure is not None
    turn.say(f"One at a time: each is followed by its {measure.what}. Say which one is done")
    return True


def owed_readings(state: State, step: Step) -> tuple[str, ...]:
    """The reading that is waited for, in words."""
    due = reading_due(state, step)
    if due is None:
        return ()
    _, measured, place = due
    measure = measured.measure
    assert measure is not None
    return (f"{measure.what}, {say_place(place, tuple(measure.places))}",)


def _read_anew(turn: Turn, task: Task, measured: Step, position: str) -> None:
    """What was read before a fastener was tightened doesn't count; what earlier steps read goes with the first one."""
    assert measured.measure is not None
    older = {row.n for row in _older(turn.state, task, measured, position)}
    if older:
        judged = {row.n for row in turn.state.facts.of(Verdict) if row.entry.reading in older}
        why = measured.measure.reason or "tightened again"
        turn.write(Remeasured(step=measured.step, place=(position,), entries=tuple(sorted(older | judged)), reason=why))
    if taken(turn.state.facts, measured.step):
        return
    for earlier in measured.measure.again:
        rows = tuple(row.n for row in taken(turn.state.facts, earlier))
        if rows:
            reason = measured.measure.reason or "read again"
            turn.write(Remeasured(step=earlier, entries=rows, reason=reason))


def _loosen(turn: Turn, step: Step) -> None:
    """A fastener whose reading was decided to be reworked is slackened for it: it is to be tightened again."""
    for task in tasks_of(turn.state, step):
        if task.part.each_read is None:
            continue
        for position, row in outcomes(turn.state.facts, task).items():
            if row.entry.outcome == "done" and _reworked(turn.state, task.part.each_read, (position,), row):
                what = f"{task.group.what} {position}"
                turn.write(NoLongerCounts(entries=(row.n,), what=what, reason="slackened to set it again"))
                number = order_numbers(turn.state.procedure, task.part.group)[position]
                turn.say(f"Slacken number {say_count(number)}, set it, and tighten it again")
                turn.talk(place=None, again=None, again_reason=None)


def _reworked(state: State, measured: str, place: Place, tight: Row[Tightened]) -> bool:
    return any(
        row.entry.step == measured and row.entry.place == place and row.n > tight.n and row.entry.reason in _REWORKS
        for row in state.facts.of(Remeasured)
    )


_REWORKS = ("rework", "repair", "scrap")


def _next_one(turn: Turn, step: Step) -> None:
    """After a reading, the fastener that comes next."""
    place = turn.state.talk.place
    for task in tasks_of(turn.state, step):
        open_ = still_open(turn.state.facts, task)
        if task.part.each_read is not None and place is not None and open_:
            number = order_numbers(turn.state.procedure, task.part.group)[open_[0]]
            turn.talk(place=None)
            turn.say(f"Number {say_count(number)}")
            return
