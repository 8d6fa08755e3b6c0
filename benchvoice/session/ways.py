"""Ways back: what a failed check undoes, what was touched, and which readings stand all the same."""

from collections.abc import Collection

from benchvoice.procedure.models import Graded, Step
from benchvoice.session.computing import update_computed
from benchvoice.session.entries import (
    BanBroken,
    NoLongerCounts,
    Place,
    Remembered,
    StepClosed,
    Verdict,
    WentBack,
)
from benchvoice.session.fasteners import parts_of
from benchvoice.session.moves import enter, go_back
from benchvoice.session.plan import closed_steps, current_step, position_in, title_of, trial_around
from benchvoice.session.questions import free_words, listed
from benchvoice.session.readings import taken
from benchvoice.session.rebringing import pending_change
from benchvoice.session.state import Question, State
from benchvoice.session.touched import (
    CLEANED,
    EVERYTHING,
    NOTHING,
    Touched,
    names_a_place,
    parts_touched,
    says_nothing,
    understand_touched,
)
from benchvoice.session.turn import Turn
from benchvoice.session.undoing import undone_words
from benchvoice.speech.say import say_place

TOUCH_WORDS = (
    *NOTHING,
    *EVERYTHING,
    *("new", "turned", "changed", "new shell", "the others", "left alone"),
    *("cleaned", "wiped", "cleaned and put back", "put it back", "put them back", "and", "on", "at"),
)
"""What is usual to say of parts that were touched, beside their places."""


def fail_back(turn: Turn, step: Step, graded: Graded, answer: str, where: str | None = None) -> None:
    """Take the way back of a failed check: undo, say what doesn't count any more, ask what was touched.

    Where answers lead back to different steps, only readings of the step it leads to and later ones can be touched.
    """
    way = graded.way_back(answer)
    to = turn.state.step(way) if way else step
    steps = graded.touched or _reading_steps(turn.state)
    if isinstance(graded.back_to, dict):
        at = position_in(turn.state.procedure, to.step)
        steps = tuple(name for name in steps if position_in(turn.state.procedure, name) >= at)
    undone = go_back(turn, to, step, answer if where is None else f"{answer}, {where}", touched=steps)
    turn.say("Stop", *undone_words(turn.state, undone))
    if isinstance(graded.back_to, dict):
        turn.say(f"{answer}: back to {title_of(to)}")


def _reading_steps(state: State) -> tuple[str, ...]:
    """Steps whose readings could have been spoilt: those with readings at places."""
    return tuple(
        step.step
        for step in state.procedure.steps
        if step.measure is not None and step.touches and taken(state.facts, step.step)
    )


def ask_touched(went: int, steps: tuple[str, ...], parts: tuple[str, ...]) -> Question:
    """Ask what was touched: readings of what is new or turned are to be taken again, all others stand.

    `parts` are those that the readings rest on, for the ear.
    """

    def then(turn: Turn, text: str) -> None:
        said = understand_touched(turn.state, steps, text)
        if not said.understood:
            turn.write(Remembered(text=f"touched: {text}", clip=turn.clip))
            turn.say("I can't place that")
            return
        turn.write(Remembered(text=f"touched: {text}", clip=turn.clip, answers=went))
        if not said.spoilt and not said.kept:
            turn.say("Readings stand")
        _say_kept(turn, said, CLEANED & set(text.split()))
        void_readings(turn, said.spoilt, f"touched: {text}")

    return free_words("touched", "What did you touch?", then, about="places", phrases=(*TOUCH_WORDS, *parts))


def _say_kept(turn: Turn, said: Touched, cleaned: Collection[str]) -> None:
    for name, places in said.kept.items():
        measure = turn.state.step(name).measure
        assert measure is not None
        where = listed((say_place(place, tuple(measure.places)) for place in places), "and")
        why = ", as it was only cleaned" if cleaned else ""
        turn.say(f"{where}, {measure.what}: stands{why}".removeprefix(", "))


def ask_spoilt(broken: int, ban: BanBroken) -> Question:
    """Ask which readings a broken ban spoilt: these are to be taken again, all others stand."""

    def then(turn: Turn, words: str) -> None:
        said = understand_touched(turn.state, ban.spoils, words)
        hit = {name: (*said.spoilt.get(name, ()), *said.kept.get(name, ())) for name in (*said.spoilt, *said.kept)}
        unread = not hit and (words in EVERYTHING or names_a_place(turn.state, ban.spoils, words))
        if not hit and not unread and not says_nothing(words):
            turn.write(Remembered(text=f"spoilt: {words}", clip=turn.clip))
            turn.say("I can't place that")
            return
        turn.write(Remembered(text=f"spoilt: {words}", clip=turn.clip, answers=broken))
        if says_nothing(words):
            turn.say("Readings stand")
            return
        start = next((step for step in turn.state.procedure.steps if step.step == ban.ban), None)
        void_readings(turn, hit, f"ban broken: {ban.what}", start)

    return free_words("spoilt", "Which are spoilt?", then, about="places", phrases=(*NOTHING, *EVERYTHING))


def pending(state: State) -> Question | None:
    """What must be answered before the work goes on, and is asked again after a kill: what was touched or spoilt,
    and what is done about a build that was brought in and has changed."""
    answered = {row.entry.answers for row in state.facts.of(Remembered)}
    for went in state.facts.of(WentBack):
        if went.entry.touched and went.n not in answered:
            touched = went.entry.touched
            return ask_touched(went.n, touched, parts_touched(state.procedure, touched))
    for row in state.facts.of(BanBroken):
        if row.entry.spoils and row.n not in answered:
            return ask_spoilt(row.n, row.entry)
    return pending_change(state)


def void_readings(turn: Turn, hit: dict[str, tuple[Place, ...]], why: str, start: Step | None = None) -> None:
    """Make readings at places void, open their steps again with what they rest on, and go to the first of them.

    What was read in a trial assembly rests on all of it; where only a ban was broken, on what was done from there on:
    `start` is the ban's step.
    """
    for name, places in hit.items():
        step = turn.state.step(name)
        assert step.measure is not None
        facts = turn.state.facts
        rows = {row.n for row in taken(facts, name) if row.entry.place in places}
        judged = {row.n for row in facts.of(Verdict) if row.entry.reading in rows}
        shut = {row.n for row in facts.of(StepClosed) if row.entry.step == name}
        turn.write(NoLongerCounts(entries=tuple(sorted(rows | judged | shut)), what=step.measure.what, reason=why))
        where = listed((say_place(place, tuple(step.measure.places)) for place in places), "and")
        turn.say(f"{where}, {step.measure.what}: to be read again".removeprefix(", "))
    update_computed(turn)
    again = [turn.state.step(name) for name in hit]
    under = [_assembly_of(turn.state, step.step) for step in (again or [start] if start else again)]
    _enter_first(turn, [*again, *_assemble_again(turn, under, why, start)])


def _assembly_of(state: State, name: str) -> tuple[str, ...]:
    """What a reading rests on and has come apart since: its trial assembly, or what a ban kept as it was for it."""
    closed = closed_steps(state.facts)
    trial = trial_around(state.procedure, name)
    if trial:
        return trial if any(each in closed for each in trial) else ()
    names = [step.step for step in state.procedure.steps]
    for step in state.procedure.steps:
        if step.ban is not None and step.ban.until in closed and name in step.ban.spoils:
            span = names[names.index(step.step) : names.index(step.ban.until) + 1]
            if name in span[1:-1]:
                return tuple(span)
    return ()


def _assemble_again(turn: Turn, under: list[tuple[str, ...]], why: str, start: Step | None) -> list[Step]:
    """Go back to where what readings rest on begins, or to the start that is given within it; the steps gone to."""
    gone = []
    for steps in dict.fromkeys(steps for steps in under if steps):
        first = start if start is not None and start.step in steps else turn.state.step(steps[0])
        trial = turn.state.step(steps[0]).trial is not None
        turn.say(f"{'The trial assembly again' if trial else 'Again'}, from {title_of(first)}")
        last = current_step(turn.state) or first
        undone = go_back(turn, first, last, why, only=_with_its_bolts(turn.state, steps))
        turn.say(*undone_words(turn.state, undone))
        gone.append(first)
    return gone


def _with_its_bolts(state: State, assembly: tuple[str, ...]) -> frozenset[str]:
    """The steps of an assembly, and those that tighten for good what is loose in it."""
    loose = {part.group for name in assembly for part in parts_of(state.step(name))}
    steps = state.procedure.steps
    return frozenset(assembly) | {step.step for step in steps if loose & {part.group for part in parts_of(step)}}


def _enter_first(turn: Turn, steps: list[Step]) -> None:
    """Enter the earliest of these steps that is open, unless the current one comes before it."""
    closed, procedure, current = closed_steps(turn.state.facts), turn.state.procedure, current_step(turn.state)
    open_ = [step for step in steps if step.step not in closed]
    if not open_:
        return
    first = min(open_, key=lambda step: position_in(procedure, step.step))
    if current is not None and position_in(procedure, current.step) < position_in(procedure, first.step):
        return
    if current is None or current.step != first.step or first.measure is not None:
        enter(turn, first)
