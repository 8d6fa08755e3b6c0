"""What is not in limits, and places with several readings: what the person is asked, and what becomes of it."""

from benchvoice.procedure.models import Step, WayOut
from benchvoice.procedure.places import places_of
from benchvoice.session.entries import Decision, LeftForLater, Place, Reading, Remeasured, Stands, Verdict, WentBack
from benchvoice.session.facts import Facts, Row
from benchvoice.session.hearing import split_reason
from benchvoice.session.instruments import instrument_of
from benchvoice.session.means import THE_MEAN, let_mean_stand, may_be_averaged
from benchvoice.session.moves import go_back
from benchvoice.session.packing import ask_pack_on_way_out
from benchvoice.session.questions import listed, plain, reason
from benchvoice.session.readings import at_place, is_stale, place_key, taken, verdicts
from benchvoice.session.shifting import ask_shift_on_way_out
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.session.verdict_words import close_call, value_words
from benchvoice.speech.say import say_number, say_place, to_say

MEASURE_AGAIN = ("measure again", "measure it again", "again please")
LEAVE_OPEN = ("leave it open", "leave open", "left for later", "leave it")
ANY_PLACE = "any place"
"""What the talk remembers once a place and a reading were asked for, of whichever place."""
DECISIONS = {
    "rework": "rework",
    "repair": "repair",
    "scrap": "scrap",
    "scrap it": "scrap",
    "concession": "concession",
    "use as is": "concession",
    "use it as it is": "concession",
}


def ask_decision(state: State, step: Step, row: Row[Verdict]) -> Question:
    """Over by half: three and a half. Measure again, decide, or leave it open?"""
    entry = row.entry
    reading = next(each for each in state.facts.all(Reading) if each.n == entry.reading)
    prompt = f"{_how_far(state, step, row, reading)}. Measure again, decide, or leave it open?"

    def take(turn: Turn, text: str) -> bool:
        return _take(turn, step, row, text)

    phrases = (MEASURE_AGAIN[0], "decide", LEAVE_OPEN[0], *DECISIONS)
    return Question(name="decision", prompt=prompt, take=take, phrases=phrases)


def _how_far(state: State, step: Step, row: Row[Verdict], read: Row[Reading]) -> str:
    entry, reading = row.entry, read.entry
    fractions = reading.unit in ("thou", "tenth")
    is_computed = reading.counts_as == "computed"
    value = value_words(reading)
    assert step.measure is not None
    label = ""
    if reading.counts_as == "computed":
        computed = step.measure.computed.get(reading.what)
        where = say_place(reading.place, computed.per if computed else ())
        label = f"{where + ', ' if where else ''}{reading.what.replace('_', ' ')}: "
    elif state.talk.place != reading.place and reading.place:
        label = f"{say_place(reading.place, tuple(step.measure.places))}: "
    if entry.outcome == "too close to call":
        instrument = instrument_of(state, read)
        return f"{label}{close_call(reading, entry, instrument.kind if instrument else '')}"
    why = f", {entry.reason}" if entry.reason else ""
    out_by = to_say(entry.out_by, entry.unit) if is_computed and entry.out_by is not None else entry.out_by
    by = f" by {say_number(out_by, fractions)}" if out_by is not None else ""
    return f"{label}{entry.outcome}{by}: {value}{why}"


def _take(turn: Turn, step: Step, row: Row[Verdict], text: str) -> bool:
    words, because = split_reason(text)
    if words in MEASURE_AGAIN:
        turn.understood("measure again")
        measure_again(turn, step, row.entry.place, because)
        return True
    if words in LEAVE_OPEN:
        turn.understood("leave it open")
        _leave(turn, step, row, because or "")
        return True
    if words == "decide":
        turn.understood("decide")
        turn.ask(_which_decision(step, row))
        return True
    decision, _, name = words.partition(" by ")
    if decision.strip(" ,") in DECISIONS:
        decision = DECISIONS[decision.strip(" ,")]
        turn.understood(decision)
        _decide(turn, step, row, decision, because, name)
        return True
    return False


def _which_decision(step: Step, row: Row[Verdict]) -> Question:
    def take(turn: Turn, text: str) -> bool:
        return _take(turn, step, row, text) if text != "decide" else False

    return Question(
        name="which decision", prompt="Rework, repair, scrap, or use as is?", take=take, phrases=tuple(DECISIONS)
    )


def measure_again(turn: Turn, step: Step, place: Place, because: str | None) -> None:
    """Once more at a place: a repeat beside the first, or, with a reason, a re-measurement (the old stop counting)."""
    assert step.measure is not None
    turn.talk(question=None)
    if place not in _full_places(step):
        turn.say("Say the place and the reading")
        turn.talk(again=None, told=ANY_PLACE)
        return
    if because:
        rows = tuple(row.n for row in at_place(turn.state.facts, step.step, place))
        judged = {row.n for row in turn.state.facts.of(Verdict) if row.entry.reading in rows}
        turn.write(Remeasured(step=step.step, place=place, entries=tuple(sorted({*rows, *judged})), reason=because))
    turn.talk(again=place, again_reason=because)


def _full_places(step: Step) -> frozenset[Place]:
    assert step.measure is not None
    return frozenset(places_of(step.measure))


def _leave(turn: Turn, step: Step, row: Row[Verdict], why: str) -> None:
    assert step.measure is not None
    turn.write(
        LeftForLater(
            step=step.step,
            what=f"{step.measure.what} {say_place(row.entry.place)}".strip(),
            positions=(place_key(row.entry.place),),
            reason=why or f"{row.entry.outcome}, left open",
        )
    )
    turn.talk(question=None)
    turn.say("Left open")


def _decide(turn: Turn, step: Step, row: Row[Verdict], decision: str, because: str | None, name: str = "") -> None:
    """Keep a decision, with its reason and the name of who made it: who is on, if no other is said."""
    if because is None:
        turn.ask(reason("Why?", lambda inner, words: _decide(inner, step, row, decision, words, name)))
        return
    name = name or turn.state.facts.person or ""
    turn.write(
        Decision.model_validate(
            {
                "step": step.step,
                "place": row.entry.place,
                "reading": row.entry.reading,
                "decision": decision,
                "reason": because,
                "name": name,
            }
        )
    )
    turn.talk(question=None)
    turn.say(decision if decision != "concession" else f"Used as is, by {name or 'nobody'}")
    if decision in ("rework", "repair", "scrap"):
        _way_out(turn, step, row, decision)


def _way_out(turn: Turn, step: Step, row: Row[Verdict], decision: str) -> None:
    """After rework, repair or scrap the part changes: it is read anew, by the step's way out if it has one."""
    assert step.measure is not None
    way: WayOut | None = step.measure.out
    if way is not None and way.say:
        turn.say(way.say)

    def then(inner: Turn) -> None:
        _go_out(inner, step, row, decision)

    out = next(each for each in turn.state.facts.all(Reading) if each.n == row.entry.reading)
    if not (ask_shift_on_way_out(turn, step, out, then) or ask_pack_on_way_out(turn, step, then)):
        then(turn)


def _go_out(turn: Turn, step: Step, row: Row[Verdict], decision: str) -> None:
    assert step.measure is not None
    way = step.measure.out
    target = way.back_to if way is not None else None
    if target is None:
        measure_again(turn, step, row.entry.place, decision)
        return
    if isinstance(target, str):
        _part_changes(turn, step, row, decision)
        go_back(turn, turn.state.step(target), step, decision)
        return
    causes = {plain(cause): name for cause, name in target.items()}

    def take(inner: Turn, text: str) -> bool:
        if plain(text) not in causes:
            return False
        inner.understood(text)
        inner.talk(question=None)
        if inner.state.step(causes[plain(text)]).choose is None:
            _part_changes(inner, step, row, text)
        cause = inner.state.step(causes[plain(text)])
        go_back(inner, cause, step, text)
        _cause_changes(inner, cause, step, row, text)
        return True

    prompt = (way.ask if way is not None else None) or f"{listed(target)}?"
    turn.ask(Question(name="cause", prompt=prompt, take=take, phrases=tuple(target)))


def _part_changes(turn: Turn, step: Step, row: Row[Verdict], why: str) -> None:
    """The readings at the place were of a part that is changed now: they don't count any more."""
    source = next(each.entry for each in turn.state.facts.all(Reading) if each.n == row.entry.reading)
    if source.counts_as == "computed":
        rows = {n for n in source.from_entries if n not in turn.state.facts.void}
        rows = {each.n for each in taken(turn.state.facts, step.step) if each.n in rows}
    else:
        rows = {each.n for each in at_place(turn.state.facts, step.step, row.entry.place)}
    if not rows:
        return
    judged = {each.n for each in turn.state.facts.of(Verdict) if each.entry.reading in rows}
    turn.write(Remeasured(step=step.step, place=row.entry.place, entries=tuple(sorted(rows | judged)), reason=why))


def _cause_changes(turn: Turn, cause: Step, step: Step, row: Row[Verdict], why: str) -> None:
    """The part at fault has readings of its own at the place: they were of what is new or turned now."""
    if cause.measure is None or step.measure is None or cause.step == step.step:
        return
    here = dict(zip(step.measure.places, row.entry.place, strict=False))
    axes = tuple(cause.measure.places)
    shared = [axis for axis in axes if axis in here]
    if not shared or len(row.entry.place) != len(step.measure.places):
        return
    for place in places_of(cause.measure):
        if any(place[axes.index(axis)] != here[axis] for axis in shared):
            continue
        rows = {each.n for each in at_place(turn.state.facts, cause.step, place)}
        if rows:
            judged = {each.n for each in turn.state.facts.of(Verdict) if each.entry.reading in rows}
            entries = tuple(sorted(rows | judged))
            turn.write(Remeasured(step=cause.step, place=place, entries=entries, reason=why))


def unfinished_way_out(facts: Facts, step: Step) -> Row[Decision] | None:
    """A decision to rework, repair or scrap whose reading still counts, and whose way was not gone: after a kill."""
    went = max((row.n for row in facts.of(WentBack) if row.entry.step_from == step.step), default=0)
    open_ = [
        row
        for row in facts.of(Decision)
        if row.entry.step == step.step
        and row.entry.decision != "concession"
        and not is_stale(facts, row.entry.reading)
        and row.n > went
    ]
    return open_[-1] if open_ else None


def go_on_way_out(turn: Turn, step: Step, decision: Row[Decision]) -> None:
    """Take the way out of a decision once more, from its beginning."""
    row = verdicts(turn.state.facts)[decision.entry.reading]
    _way_out(turn, step, row, decision.entry.decision)


def ask_which(state: State, step: Step, place: Place, rows: tuple[Row[Reading], ...]) -> Question:
    """Two readings on main two: first, second, or measure again?"""
    names = ("first", "second", "third", "fourth", "fifth", "sixth")[: len(rows)]
    axes = tuple(step.measure.places) if step.measure else ()
    on = f" on {say_place(place, axes)}" if place else ""
    mean = (THE_MEAN,) if may_be_averaged(state.facts, step, place) else ()
    prompt = f"{say_number(len(rows))} readings{on}: {', '.join((*names, *mean))}, or measure again?"

    def take(turn: Turn, text: str) -> bool:
        words, because = split_reason(text.removeprefix("the "), loose=True)
        if words in MEASURE_AGAIN:
            turn.understood("measure again")
            measure_again(turn, step, place, because)
            return True
        if mean and words == "mean":
            turn.understood(THE_MEAN)
            turn.talk(question=None)
            let_mean_stand(turn, step, place, because or "")
            return True
        if words not in names:
            return False
        turn.understood(words)
        turn.talk(question=None)
        row = rows[names.index(words)]
        turn.write(Stands(step=step.step, place=place, reading=row.n, reason=because or ""))
        turn.say(f"{words} stands")
        return True

    return Question(name="which stands", prompt=prompt, take=take, phrases=(*names, *mean, "measure again"))
