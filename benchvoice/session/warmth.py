"""Cold or hot, and so long since it ran: asked before the first reading of a set, and the same for the whole of it.

What nobody but a person can know is asked: after a time without the program, whether it is still so. When the state
changes, the readings that were taken open again: two tables are never mixed.
"""

from decimal import Decimal

from benchvoice.procedure.models import Step, Warmth
from benchvoice.session.clocks import passed
from benchvoice.session.entries import (
    Entry,
    LastRan,
    NoLongerCounts,
    StillSo,
    Temperature,
    WarmthSaid,
    WindowEnded,
    WindowStarted,
)
from benchvoice.session.evenness import ask_even, known, read_again
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import fitted_steps, title_of
from benchvoice.session.questions import listed, one_of, yes_or_no
from benchvoice.session.readings import state_said, still_needed, taken
from benchvoice.session.state import Question
from benchvoice.session.turn import Turn
from benchvoice.session.ways import void_readings
from benchvoice.session.windows import barring, seconds
from benchvoice.speech.durations import parse_duration
from benchvoice.speech.say import say_duration, say_number
from benchvoice.speech.sounds import partners
from benchvoice.speech.tokens import words_of

QUESTIONS = frozenset(
    {"warmth", "last ran", "confirm last ran", "still so", "temperature", "confirm temperature", "apart"}
)
"""Names of the questions here and about temperatures: what is owed asks them anyway."""

NEVER = ("it has not run", "not run", "never", "it never ran", "it hasn't run", "not yet", "it has never run")
AT_LEAST = ("over ", "more than ", "at least ")
VAGUE = ("about ", "around ", "nearly ", "almost ", "under ", "less than ", "roughly ")
DAYS = ("yesterday", "last night", "this morning", "today", "the other day", "just now", "i don't know")


def warmth_of(step: Step) -> Warmth | None:
    """What a step asks of warmth; None for one that asks nothing."""
    return step.measure.warmth if step.measure is not None else None


def ask_warmth(turn: Turn, step: Step) -> bool:
    """Ask what must be known before a reading is taken, or wait until it may be; False where it may."""
    warmth = warmth_of(step)
    if warmth is None or not (still_needed(turn.state.facts, step) or turn.state.talk.again is not None):
        return False
    if barring(turn.state, step, turn.now) is not None:
        return True
    if _ask_still(turn, step, warmth):
        return True
    said = state_said(turn.state.facts, step.step)
    if warmth.tables and said is None:
        turn.ask(_which(step, warmth))
        return True
    if asks_since(warmth, said) and _ask_since(turn, step, warmth):
        return True
    return warmth.even is not None and ask_even(turn, step, warmth.even)


def asks_since(warmth: Warmth, said: Row[WarmthSaid] | None) -> bool:
    """Whether the time since it ran counts: always, or where there are two tables for cold alone."""
    return warmth.since_it_ran is not None and (said is None or said.entry.state == "cold")


def _subject(warmth: Warmth) -> str:
    return f"the {warmth.what}" if warmth.what else "it"


# Cold or hot ----------------------------------------------------------------------------------------------------------


def _which(step: Step, warmth: Warmth) -> Question:
    def then(turn: Turn, choice: str) -> None:
        say_state(turn, step, choice, choice)
        turn.say(choice)

    return one_of("warmth", f"Is {_subject(warmth)} cold or hot?", ("cold", "hot"), then)


def say_state(turn: Turn, step: Step, state: str, said: str) -> None:
    """Note the state; readings that were taken before it was known open again."""
    turn.write(WarmthSaid.model_validate({"step": step.step, "state": state, "said": said}))
    reopen(turn, step, f"taken before it was said to be {state}")


def reopen(turn: Turn, step: Step, why: str) -> None:
    """Every reading of the step opens again."""
    places = tuple(dict.fromkeys(row.entry.place for row in taken(turn.state.facts, step.step)))
    if places:
        void_readings(turn, {step.step: places}, why)


def open_without_state(turn: Turn) -> None:
    """Readings that an amendment gives limits for cold and for hot open again where nobody said which it was."""
    for step in fitted_steps(turn.state):
        warmth = warmth_of(step)
        if warmth is not None and warmth.tables and state_said(turn.state.facts, step.step) is None:
            reopen(turn, step, "taken before it was said to be cold or hot")


# So long since it ran -------------------------------------------------------------------------------------------------


def _last_ran(facts: Facts, step: Step) -> Row[LastRan] | None:
    rows = [row for row in facts.of(LastRan) if row.entry.step == step.step]
    return rows[-1] if rows else None


def _ask_since(turn: Turn, step: Step, warmth: Warmth) -> bool:
    """Ask when it ran; where that was too lately, start the wait. False where it is long enough ago."""
    row = _last_ran(turn.state.facts, step)
    if row is None:
        turn.ask(_since_question(step, warmth))
        return True
    left = time_left(turn, step, row)
    if left <= 0:
        return False
    what = f"{warmth.what} cooling" if warmth.what else "cooling"
    turn.write(WindowStarted(window=step.step, sort="cooling", seconds=left, what=what))
    turn.say(f"{say_duration(row.entry.asked)} is asked", f"{say_duration(left)} to go at the least. No reading before")
    return True


def time_left(turn: Turn, step: Step, row: Row[LastRan]) -> Decimal:
    """Seconds still to wait, at the most that any clock allows; none where it never ran or the wait is over."""
    full = any(
        each.entry.window == step.step and each.entry.outcome == "full time" and each.n > row.n
        for each in turn.state.facts.of(WindowEnded)
    )
    if full or row.entry.seconds is None:
        return Decimal(0)
    return row.entry.asked - row.entry.seconds - passed(turn.state.facts, row.now, turn.now).least


def _since_question(step: Step, warmth: Warmth) -> Question:
    def take(turn: Turn, text: str) -> bool:
        return _take_since(turn, step, warmth, text)

    prompt = f"How long since {_subject(warmth)} last ran?"
    return Question(name="last ran", prompt=prompt, take=take, phrases=NEVER[:1], about="duration")


def _take_since(turn: Turn, step: Step, warmth: Warmth, text: str) -> bool:
    if text in NEVER:
        turn.understood("never ran")
        _note_since(turn, step, warmth, None, text)
        return True
    if text.startswith(VAGUE) or text in DAYS:
        turn.unclear("not the least that it can be")
        turn.say('Say the least that it can be, such as "seven hours"', tone="not heard")
        return True
    words = _amount(text)
    least = parse_duration(words)
    if least is None:
        return False
    turn.understood("last ran")
    if any(parse_duration(" ".join(other)) is not None for other in partners(words_of(words))):
        _read_back(turn, step, warmth, least, text)
        return True
    _note_since(turn, step, warmth, least, text)
    return True


def _amount(text: str) -> str:
    """The duration itself: "over seven hours ago"."""
    lead = next((each for each in AT_LEAST if text.startswith(each)), "")
    return text.removeprefix(lead).removesuffix(" ago")


def _read_back(turn: Turn, step: Step, warmth: Warmth, least: Decimal, text: str) -> None:
    def yes(inner: Turn) -> None:
        _note_since(inner, step, warmth, least, text)

    def no(inner: Turn) -> None:
        inner.say("Say it again")

    turn.ask(yes_or_no("confirm last ran", f"{say_duration(least)}. Yes or no?", yes, no))


def _note_since(turn: Turn, step: Step, warmth: Warmth, least: Decimal | None, said: str) -> None:
    assert warmth.since_it_ran is not None
    turn.write(LastRan(step=step.step, seconds=least, asked=seconds(warmth.since_it_ran), said=said))
    turn.talk(question=None)
    turn.say("Not run" if least is None else f"{say_duration(least)} ago")


# Whether it is still so -----------------------------------------------------------------------------------------------

_CONDITIONS: tuple[type[Entry], ...] = (WarmthSaid, LastRan, Temperature, StillSo)


def conditions(facts: Facts, step: Step) -> tuple[Row[Entry], ...]:
    """What was said of warmth for a step and counts, oldest first."""
    rows = (row for model in _CONDITIONS for row in facts.of(model) if getattr(row.entry, "step", "") == step.step)
    return tuple(sorted(rows, key=lambda row: row.n))


def _ask_still(turn: Turn, step: Step, warmth: Warmth) -> bool:
    """What was said in another process is asked about: while nothing listened, it may have run. So is what is old."""
    of_state, of_heat = _stale(turn, step, warmth)
    if not of_state and not of_heat:
        return False
    claims = listed((*of_state, *of_heat), "and")

    def yes(inner: Turn) -> None:
        inner.write(StillSo(step=step.step, what=claims))

    def no(inner: Turn) -> None:
        if of_state:
            change(inner, step, "not so any more")
        elif warmth.even is not None:
            read_again(inner, step, warmth.even, "not so any more")

    turn.ask(yes_or_no("still so", f"{_when(turn, step)}, {claims}. Still so? Yes or no?", yes, no))
    return True


def _stale(turn: Turn, step: Step, warmth: Warmth) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What was said too long ago or in another process, and not to be still so since: of the state, and of heat."""
    facts = turn.state.facts
    still = [row for row in facts.of(StillSo) if row.entry.step == step.step and not _is_past(turn, warmth, row)]
    since = still[-1].n if still else 0

    def is_old(row: Row[Entry]) -> bool:
        return row.n > since and _is_past(turn, warmth, row)

    said, ran = state_said(facts, step.step), _last_ran(facts, step)
    was = [f"was {said.entry.state}"] if said is not None and is_old(said) else []
    if asks_since(warmth, said) and ran is not None and is_old(ran):
        was.append("had not run again")
    of_state = (f"{_subject(warmth)} {listed(was, 'and')}",) if was else ()
    heat = known(turn.state, step, warmth.even) if warmth.even is not None else ()
    of_heat = tuple(f"{each.what} was {say_number(each.low)}" for each in heat if is_old(each.row))
    return of_state, of_heat


def _when(turn: Turn, step: Step) -> str:
    """Since when something may be otherwise: the time without the program, or what was said a while ago."""
    rows = conditions(turn.state.facts, step)
    return "A while ago" if rows and rows[-1].now.boot == turn.now.boot else "When I was last on"


def _is_past(turn: Turn, warmth: Warmth, row: Row[Entry]) -> bool:
    """Whether an entry is of another process, or older than what is said of warmth holds."""
    if row.now.boot != turn.now.boot:
        return True
    return warmth.holds is not None and passed(turn.state.facts, row.now, turn.now).least > seconds(warmth.holds)


def change(turn: Turn, step: Step, why: str) -> None:
    """The state is another: what was said of it counts no more, and what was read in it opens again.

    Where only part and gauge are compared, what was read while they were near stands.
    """
    warmth = warmth_of(step)
    assert warmth is not None
    facts = turn.state.facts
    rows = {
        *(row.n for row in conditions(facts, step)),
        *(row.n for row in facts.of(WindowStarted) if row.entry.window == step.step),
        *(row.n for row in facts.of(WindowEnded) if row.entry.window == step.step),
    }
    if rows:
        turn.write(NoLongerCounts(entries=tuple(sorted(rows)), what=f"warmth, {title_of(step)}", reason=why))
    if warmth.tables or warmth.since_it_ran is not None:
        reopen(turn, step, why)
    if warmth.even is not None:
        read_again(turn, step, warmth.even, why)
