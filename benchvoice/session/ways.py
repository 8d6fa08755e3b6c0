"""Ways back: what a failed check undoes, what was touched, and which readings stand all the same."""

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
from benchvoice.session.moves import enter, go_back
from benchvoice.session.plan import closed_steps, current_step, position_in, title_of
from benchvoice.session.questions import free_words, listed
from benchvoice.session.readings import taken
from benchvoice.session.rebringing import pending_change
from benchvoice.session.state import Question, State
from benchvoice.session.touched import EVERYTHING, NOTHING, Touched, understand_touched
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


def ask_touched(went: int, steps: tuple[str, ...]) -> Question:
    """Ask what was touched: readings of what is new or turned are to be taken again, all others stand."""

    def then(turn: Turn, text: str) -> None:
        said = understand_touched(turn.state, steps, text)
        if not said.understood:
            turn.write(Remembered(text=f"touched: {text}", clip=turn.clip))
            turn.say("I can't place that")
            return
        turn.write(Remembered(text=f"touched: {text}", clip=turn.clip, answers=went))
        if not said.spoilt and not said.kept:
            turn.say("Readings stand")
        _say_kept(turn, said)
        void_readings(turn, said.spoilt, f"touched: {text}")

    return free_words("touched", "What did you touch?", then, about="places", phrases=TOUCH_WORDS)


def _say_kept(turn: Turn, said: Touched) -> None:
    for name, places in said.kept.items():
        measure = turn.state.step(name).measure
        assert measure is not None
        where = listed((say_place(place, tuple(measure.places)) for place in places), "and")
        turn.say(f"{where}, {measure.what}: stands, as it was only cleaned".removeprefix(", "))


def ask_spoilt(broken: int, ban: BanBroken) -> Question:
    """Ask which readings a broken ban spoilt: these are to be taken again, all others stand."""

    def then(turn: Turn, words: str) -> None:
        said = understand_touched(turn.state, ban.spoils, words)
        hit = {name: (*said.spoilt.get(name, ()), *said.kept.get(name, ())) for name in (*said.spoilt, *said.kept)}
        if not hit and words not in (*NOTHING, *EVERYTHING):
            turn.write(Remembered(text=f"spoilt: {words}", clip=turn.clip))
            turn.say("I can't place that")
            return
        turn.write(Remembered(text=f"spoilt: {words}", clip=turn.clip, answers=broken))
        if not hit:
            turn.say("Readings stand")
        void_readings(turn, hit, f"ban broken: {ban.what}")

    return free_words("spoilt", "Which are spoilt?", then, about="places", phrases=(*NOTHING, *EVERYTHING))


def pending(state: State) -> Question | None:
    """What must be answered before the work goes on, and is asked again after a kill: what was touched or spoilt,
    and what is done about a build that was brought in and has changed."""
    answered = {row.entry.answers for row in state.facts.of(Remembered)}
    for went in state.facts.of(WentBack):
        if went.entry.touched and went.n not in answered:
            return ask_touched(went.n, went.entry.touched)
    for row in state.facts.of(BanBroken):
        if row.entry.spoils and row.n not in answered:
            return ask_spoilt(row.n, row.entry)
    return pending_change(state)


def void_readings(turn: Turn, hit: dict[str, tuple[Place, ...]], why: str) -> None:
    """Make readings at places void, open their steps again, and go to the first of them."""
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
    _enter_first(turn, tuple(hit))


def _enter_first(turn: Turn, names: tuple[str, ...]) -> None:
    """Enter the earliest step that is open again, unless the current one comes before it."""
    closed = closed_steps(turn.state.facts)
    reopened = [turn.state.step(name) for name in names if name not in closed]
    if not reopened:
        return
    procedure, current = turn.state.procedure, current_step(turn.state)
    first = min(reopened, key=lambda step: position_in(procedure, step.step))
    if current is None or position_in(procedure, first.step) <= position_in(procedure, current.step):
        enter(turn, first)
