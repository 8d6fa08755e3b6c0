"""Ways back: what a failed check undoes, what was touched, and which readings stand all the same."""

from benchvoice.procedure.models import Graded, Step
from benchvoice.procedure.places import places_of
from benchvoice.session.computing import update_computed
from benchvoice.session.entries import NoLongerCounts, Place, Remembered, StepClosed, Verdict
from benchvoice.session.fasteners import whole_order
from benchvoice.session.hearing import places_named
from benchvoice.session.moves import Undone, enter, go_back
from benchvoice.session.plan import closed_steps, position_in, title_of
from benchvoice.session.questions import free_words, listed
from benchvoice.session.readings import taken
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count, say_place

NOTHING = ("nothing", "none", "nothing touched", "i touched nothing", "nothing at all")
EVERYTHING = ("everything", "all", "all of them", "all of it", "the lot")


def fail_back(turn: Turn, step: Step, graded: Graded, answer: str, where: str | None = None) -> None:
    """Take the way back of a failed check: undo, say what doesn't count any more, ask what was touched.

    Where answers lead back to different steps, only readings of the step it leads to and later ones can be touched.
    """
    way = graded.way_back(answer)
    to = turn.state.step(way) if way else step
    undone = go_back(turn, to, step, answer if where is None else f"{answer}, {where}")
    turn.say("Stop", *undone_words(turn.state, undone))
    steps = graded.touched or _reading_steps(turn.state)
    if isinstance(graded.back_to, dict):
        turn.say(f"{answer}: back to {title_of(to)}")
        at = position_in(turn.state.procedure, to.step)
        steps = tuple(name for name in steps if position_in(turn.state.procedure, name) >= at)
    if steps:
        ask_touched(turn, steps)


def undone_words(state: State, undone: Undone) -> tuple[str, ...]:
    """What doesn't count any more, and in which order to slacken, in sentences."""
    said = []
    for group in undone.groups:
        stages = sorted(
            {
                row.entry.stage
                for row in undone.rows
                if getattr(row.entry, "group", None) == group and hasattr(row.entry, "stage")
            }
        )
        what = state.procedure.groups[group].what
        names = listed((say_count(stage) for stage in stages), "and")
        plural = "stages" if len(stages) > 1 else "stage"
        verb = "don't" if len(stages) > 1 else "doesn't"
        said.append(f"{what}, {plural} {names} {verb} count any more")
        said.append(f"Slacken {say_count(len(whole_order(state.procedure, group)))} to one")
    return tuple(said)


def _reading_steps(state: State) -> tuple[str, ...]:
    """Steps whose readings could have been spoilt: those with readings at places."""
    return tuple(
        step.step
        for step in state.procedure.steps
        if step.measure is not None and step.touches and taken(state.facts, step.step)
    )


def ask_touched(turn: Turn, steps: tuple[str, ...]) -> None:
    """Ask what was touched; readings there are to be taken again, all others stand."""

    def then(inner: Turn, text: str) -> None:
        inner.write(Remembered(text=f"touched: {text}", clip=inner.clip))
        if text in NOTHING:
            inner.say("Readings stand")
            return
        hit = touched_places(inner.state, steps, text)
        if not hit and text not in EVERYTHING:
            inner.say("I can't place that")
            ask_touched(inner, steps)
            return
        void_readings(inner, hit, f"touched: {text}")

    turn.ask(free_words("touched", "What did you touch?", then, about="places", phrases=(*NOTHING, *EVERYTHING)))


def touched_places(state: State, steps: tuple[str, ...], text: str) -> dict[str, tuple[Place, ...]]:
    """For each reading step the places that the words name, among those that were read."""
    hit: dict[str, tuple[Place, ...]] = {}
    for name in steps:
        measure = state.step(name).measure
        if measure is None:
            continue
        read = {row.entry.place for row in taken(state.facts, name)}
        named = places_of(measure) if text in EVERYTHING else places_named(text, measure.places)
        places = tuple(place for place in named if place in read)
        if places:
            hit[name] = places
    return hit


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
    """Enter the earliest step that is open again, when it comes before the current one."""
    closed = closed_steps(turn.state.facts)
    reopened = [turn.state.step(name) for name in names if name not in closed]
    if reopened:
        enter(turn, min(reopened, key=lambda step: position_in(turn.state.procedure, step.step)))
