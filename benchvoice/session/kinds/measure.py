"""Measure: readings at places, taken in any order, echoed and judged at once."""

from benchvoice.procedure.inputs import cautions_of
from benchvoice.procedure.models import Measure, Step
from benchvoice.procedure.places import places_of
from benchvoice.session.computing import update_computed
from benchvoice.session.deciding import ANY_PLACE, ask_decision, ask_which, go_on_way_out, unfinished_way_out
from benchvoice.session.entries import Corrected, Place, Remeasured
from benchvoice.session.facts import Instant
from benchvoice.session.hearing import leading_place, named_place
from benchvoice.session.matching import ask_match, match_owed, void_matches
from benchvoice.session.packing import ask_pack
from benchvoice.session.questions import yes_or_no
from benchvoice.session.readings import (
    at_place,
    state_said,
    still_needed,
    taken,
    to_choose,
    to_decide,
)
from benchvoice.session.state import Question, State
from benchvoice.session.steps import Kind
from benchvoice.session.stock import packs_owed
from benchvoice.session.taking import band_at, context_at, measure_of, read_back, store_reading, take_reading
from benchvoice.session.turn import Turn
from benchvoice.session.using import ask_instrument
from benchvoice.session.verdict_words import limits_words
from benchvoice.session.zeros import ask_last_zero, ask_zero, awaits_zero, is_zeroed, take_zero
from benchvoice.speech.pauses import late_fraction
from benchvoice.speech.readings import Action, SpokenReading, parse_reading
from benchvoice.speech.say import say_limits, say_list, say_number, say_place

# Asking -------------------------------------------------------------------------------------------------------------


def _opening(state: State, step: Step) -> tuple[str, ...]:
    measure = measure_of(step)
    unread = still_needed(state.facts, step)
    said = [f"Read again: {measure.reason}"] if measure.again and measure.reason is not None and unread else []
    return (*said, *cautions_of(measure))


def _ask(turn: Turn, step: Step) -> bool:
    measure = measure_of(step)
    _remeasure_if_declared(turn, step)
    update_computed(turn)
    void_matches(turn)
    facts = turn.state.facts
    if _still_reads(turn.state, step) and ask_instrument(turn, step, measure.instrument):
        return True
    if measure.zero_check and not is_zeroed(turn.state, step, "first"):
        ask_zero(turn, step, "first")
        return True
    unsettled = to_choose(facts, step)
    if unsettled and turn.state.talk.again is None:
        turn.ask(ask_which(turn.state, step, unsettled[0], at_place(facts, step.step, unsettled[0])))
        return True
    undecided = to_decide(facts, step)
    if undecided and turn.state.talk.again is None:
        turn.ask(ask_decision(turn.state, step, undecided[0]))
        return True
    if turn.state.talk.again is not None:
        turn.say(say_place(turn.state.talk.again, tuple(measure.places)) or measure.what)
        return True
    halfway = unfinished_way_out(facts, step)
    if halfway is not None:
        if turn.state.talk.told != ANY_PLACE:
            go_on_way_out(turn, step, halfway)
        return True
    return _ask_place(turn, step) or ask_last_zero(turn, step) or ask_pack(turn, step) or ask_match(turn, step)


def _still_reads(state: State, step: Step) -> bool:
    """Whether the step still takes a reading, a zero check too."""
    return bool(still_needed(state.facts, step)) or state.talk.again is not None or awaits_zero(state, step) is not None


def _ask_place(turn: Turn, step: Step) -> bool:
    measure = measure_of(step)
    todo = still_needed(turn.state.facts, step)
    if not todo:
        return False
    before, place = turn.state.talk.place, todo[0]
    if before in todo and measure.repeats == 1:
        return True  # asked already, or named by the person
    first = before is None
    axes = tuple(measure.places)
    where = say_place(place, axes, before)
    turn.talk(place=place)
    turn.say(_before(measure, place))
    if measure.repeats > 1:
        done = len(at_place(turn.state.facts, step.step, place))
        where = f"{where}, {_NTH[min(done, len(_NTH) - 1)]} reading" if where else f"{_NTH[min(done, 4)]} reading"
    turn.say(f"{where}, {measure.what}" if first and where else where or measure.what)
    say_now = measure.say_limits == "before" or (first and measure.say_limits == "first place")
    band = band_at(turn.state, step, place)
    if say_now and band is not None:
        turn.say(say_limits(band.low, band.high, measure.unit))
    return True


def _before(measure: Measure, place: Place) -> str:
    """What to do before the reading at a place; a table names it by the value of one axis."""
    before = measure.before_each
    if before is None:
        return ""
    if isinstance(before, str):
        return before.replace("{place}", say_place(place, tuple(measure.places)))
    return next((before[value] for value in place if value in before), "")


_NTH = ("first", "second", "third", "fourth", "next")


def _remeasure_if_declared(turn: Turn, step: Step) -> None:
    """A step that reads again what an earlier one read makes those readings void, with its own reason, once."""
    measure = measure_of(step)
    if taken(turn.state.facts, step.step):
        return
    for earlier in measure.again:
        rows = tuple(row.n for row in taken(turn.state.facts, earlier))
        if rows:
            turn.write(Remeasured(step=earlier, entries=rows, reason=measure.reason or "read again"))


# Taking an answer -----------------------------------------------------------------------------------------------------


def place_for(turn: Turn, step: Step, text: str) -> tuple[Place | None, str]:
    """The place that a reading is for, and the words of the reading itself."""
    measure = measure_of(step)
    place, rest = leading_place(text, measure.places, turn.state.talk.place)
    if place is not None and rest:
        return place, rest
    if turn.state.talk.again is not None:
        return turn.state.talk.again, text
    todo = still_needed(turn.state.facts, step)
    here = turn.state.talk.place
    if here is not None and (here in todo or not todo):
        return here, text
    return (todo[0] if todo else None), text


def _take(turn: Turn, step: Step, text: str) -> bool:
    measure = measure_of(step)
    named = named_place(text, measure.places)
    if named is not None and measure.places:
        return _go_to_place(turn, step, named)
    place, words = place_for(turn, step, text)
    if place is None or place not in places_of(measure):
        return False
    if late_fraction(text) is not None:
        return _take_afterthought(turn, step, text)
    if words == text and _ask_whose(turn, step, place, text):
        return True
    if words in SAME_AGAIN:
        return _take_same(turn, step, place, words)
    if _still_reads(turn.state, step) and ask_instrument(turn, step, measure.instrument):
        turn.understood("instrument first")
        return True
    heard = parse_reading(words, context_at(turn.state, step, place))
    when = awaits_zero(turn.state, step)
    if when is not None and words == text and turn.state.talk.again is None:
        return take_zero(turn, step, heard, when)
    return take_reading(turn, step, place, heard, words)


def _ask_whose(turn: Turn, step: Step, following: Place, text: str) -> bool:
    """A reading without its place while another waits for a decision can be of either: ask."""
    waiting = turn.state.talk.question
    decide = to_decide(turn.state.facts, step)
    if waiting is None or waiting.name != "decision" or not decide or decide[0].entry.place == following:
        return False
    before = decide[0].entry.place
    if before not in places_of(measure_of(step)):
        return False
    if parse_reading(text, context_at(turn.state, step, following)).action in (Action.ASK, Action.NOT_A_VALUE):
        return False
    axes = tuple(measure_of(step).places)
    names = [say_place(place, axes) for place in (before, following)]

    def take(inner: Turn, words: str) -> bool:
        named = named_place(words.removesuffix(" again"), measure_of(step).places)
        again = words in AGAIN or named == before
        if not again and words not in FOLLOWING and named != following:
            return False
        inner.talk(question=None, again=before if again else None, place=before if again else following)
        return _take(inner, step, text)

    turn.understood("reading, of which place")
    prompt = f"{names[0]} again, or {names[1]}?"
    turn.ask(Question(name="which place", prompt=prompt, take=take, phrases=("again", "next", *names), about="places"))
    return True


AGAIN = ("again", "measure again", "measured again", "the same", "the same one")
FOLLOWING = ("next", "the next", "the next one")
SAME_AGAIN = ("same again", "the same again", "same")


def _take_same(turn: Turn, step: Step, place: Place, words: str) -> bool:
    """The last reading of this set once more: read back in full, kept with the words, never twice running."""
    rows = taken(turn.state.facts, step.step)
    if not rows or rows[-1].entry.said in SAME_AGAIN or rows[-1].entry.value is None:
        turn.unclear("same again, twice running" if rows else "nothing was read yet")
        turn.say("Say the reading", tone="not heard")
        return True
    last = rows[-1].entry
    same = SpokenReading(
        action=Action.READ_BACK,
        value=last.value,
        unit=last.unit,
        low=last.low,
        high=last.high,
        resolution=last.resolution,
    )
    turn.understood("reading")
    read_back(turn, step, place, same, words, "first", odd=False)
    return True


def _take_afterthought(turn: Turn, step: Step, text: str) -> bool:
    """A lone "and a half" after an accepted "four": ask whether it is now four and a half."""
    rows = taken(turn.state.facts, step.step)
    if not rows:
        return False
    row = rows[-1]
    words = f"{row.entry.said} {text}"
    heard = parse_reading(words, context_at(turn.state, step, row.entry.place))
    if heard.value is None or heard.action not in (Action.TAKE, Action.READ_BACK):
        return False
    turn.understood("afterthought")

    def yes(inner: Turn) -> None:
        inner.write(Corrected(entry=row.n, step=step.step, place=row.entry.place, was=row.entry.said, now=words))
        where, paper = row.entry.place, row.entry.paper
        store_reading(inner, step, where, heard, words, "correction", confirmed=True, replaces=row.n, paper=paper)

    def no(inner: Turn) -> None:
        inner.say("Then it stands as it was")

    turn.ask(yes_or_no("confirm correction", f"Is it now {words}? Yes or no?", yes, no))
    return True


def _go_to_place(turn: Turn, step: Step, place: Place) -> bool:
    if place not in places_of(measure_of(step)):
        return False
    turn.understood("place")
    turn.talk(place=place, question=None)
    turn.say(say_place(place, tuple(measure_of(step).places)))
    if at_place(turn.state.facts, step.step, place):
        turn.talk(again=place)
    return True


# What can be asked about it -----------------------------------------------------------------------------------------


def _owes(state: State, step: Step, _now: Instant) -> tuple[str, ...]:
    measure = measure_of(step)
    axes = tuple(measure.places)
    owed = [f"a decision on {say_place(row.entry.place, axes) or measure.what}" for row in to_decide(state.facts, step)]
    owed += [f"which reading stands, {say_place(place, axes)}" for place in to_choose(state.facts, step)]
    owed += [say_place(place, axes) or measure.what for place in still_needed(state.facts, step)]
    if awaits_zero(state, step) is not None:
        owed.append("the zero check")
    halfway = unfinished_way_out(state.facts, step)
    owed += [f"what was to be changed: {halfway.entry.decision}"] if halfway is not None else []
    owed += [f"the choice of {say_list(list(each.names))}" for each in packs_owed(state, step)]
    if match_owed(state, step) is not None:
        owed.append(f"which go together, {measure.match.what if measure.match else ''}")
    return tuple(owed)


def _limits(state: State, step: Step) -> str:
    measure = measure_of(step)
    place = state.talk.again or state.talk.place
    todo = still_needed(state.facts, step)
    place = place if place is not None else (todo[0] if todo else places_of(measure)[0])
    band = band_at(state, step, place)
    if band is None:
        by_state = measure.warmth is not None and measure.warmth.tables and state_said(state.facts, step.step) is None
        return "Cold and hot have limits each: say first which it is" if by_state else "No limits are given here"
    if measure.say_limits == "after" and (state.talk.again is not None or not at_place(state.facts, step.step, place)):
        return "After the reading"
    return limits_words(measure, band, measure.unit)


def _left(state: State, step: Step) -> str:
    todo, every = still_needed(state.facts, step), places_of(measure_of(step))
    axes = tuple(measure_of(step).places)
    if not todo:
        return "None"
    names = say_list([say_place(place, axes) for place in todo[:6]]) if axes else ""
    return f"{say_number(len(todo))} of {say_number(len(every))}{': ' + names if names else ''}"


MEASURE = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=True,
    limits=_limits,
    left=_left,
    about=lambda _state, _step: frozenset({"reading", "places"}),
    lost=lambda turn, step: bool(taken(turn.state.facts, step.step)),  # on from the last place heard
)
