"""Part and gauge within so many degrees: the temperatures are read, and no reading is taken before they are near.

What was read anew counts alone. Where an earlier step reads a temperature, that step is opened again for it.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.models import Even, Step
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.entries import Entry, NoLongerCounts, Temperature
from benchvoice.session.facts import Row
from benchvoice.session.plan import title_of
from benchvoice.session.questions import listed, yes_or_no
from benchvoice.session.readings import all_standing, taken
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.session.ways import void_readings
from benchvoice.speech.readings import Action, Context, SpokenReading, parse_reading
from benchvoice.speech.say import say_number, say_place, say_quantity, say_read_back

AGAIN = ("read again", "read them again", "again", "ready", "measure again", "measure them again")


@dataclass(frozen=True, slots=True)
class Known:
    """A temperature that is compared: of what, as it is said, and where it lies, least and greatest, as it was read."""

    row: Row[Entry]
    what: str
    low: Decimal
    high: Decimal
    unit: str


def known(state: State, step: Step, even: Even) -> tuple[Known, ...]:
    """The temperatures that were read and count, those of earlier steps first."""
    found = []
    for name in even.of:
        other = state.step(name)
        assert other.measure is not None
        for row in all_standing(state.facts, other):
            low, high = row.entry.low, row.entry.high
            if low is not None and high is not None:
                where = say_place(row.entry.place, tuple(other.measure.places))
                what = f"{where} {other.measure.what}".strip()
                found.append(Known(row, what, low, high, row.entry.unit))
    for here in _read_here(state, step):
        entry = here.entry
        if entry.what in even.read:
            found.append(Known(here, entry.what, entry.value, entry.value, entry.unit))
    return tuple(found)


def _read_here(state: State, step: Step) -> list[Row[Temperature]]:
    return [row for row in state.facts.of(Temperature) if row.entry.step == step.step]


def apart(temperatures: tuple[Known, ...], unit: str) -> Fraction:
    """How far they are apart at the most, in degrees of the unit."""
    lows = [convert(each.low, each.unit, unit) for each in temperatures]
    highs = [convert(each.high, each.unit, unit) for each in temperatures]
    return max(highs) - min(lows)


def ask_even(turn: Turn, step: Step, even: Even) -> bool:
    """Ask for a temperature, or wait until they are near enough; False where they are."""
    lacking = [name for name in even.of if not _readable(turn.state, name)]
    if lacking:
        turn.ask(_again_question(turn.state, step, even, f"{title_of(turn.state.step(lacking[0]))} isn't read"))
        return True
    here = {row.entry.what for row in _read_here(turn.state, step)}
    unread = [what for what in even.read if what not in here]
    if unread:
        turn.ask(_question(turn.state, step, even, unread[0]))
        return True
    temperatures = known(turn.state, step, even)
    if apart(temperatures, even.unit) <= even.within:
        return False
    turn.ask(_again_question(turn.state, step, even, _too_far(temperatures, even)))
    return True


def _readable(state: State, name: str) -> bool:
    """Whether a step has temperatures that can be compared: read, and no open intervals."""
    rows = all_standing(state.facts, state.step(name))
    return bool(rows) and all(row.entry.low is not None and row.entry.high is not None for row in rows)


def _too_far(temperatures: tuple[Known, ...], even: Even) -> str:
    """Bearing thirty one, micrometer twenty two: nine degrees apart, three is the most."""
    read = ", ".join(f"{each.what} {say_number(each.low)}" for each in temperatures)
    far = say_quantity(to_decimal(apart(temperatures, even.unit), 1).normalize() + 0, f"delta_{even.unit}")
    return f"{read}: {far} apart, {say_number(even.within)} is the most"


def say_near(state: State, step: Step, even: Even) -> str:
    """That they are within what is asked, in words; empty where they are not all read, or are not near."""
    temperatures = known(state, step, even)
    names = {each.what for each in temperatures}
    if not set(even.read) <= names or not temperatures or apart(temperatures, even.unit) > even.within:
        return ""
    return f"within {say_quantity(even.within, f'delta_{even.unit}')}"


# Reading one ----------------------------------------------------------------------------------------------------------


def context_of(state: State, even: Even, what: str) -> Context:
    """What the parser and the ear must know to understand a temperature."""
    return Context(unit=even.unit, work=state.procedure.work, what=f"{what} temperature")


def _question(state: State, step: Step, even: Even, what: str) -> Question:
    def take(turn: Turn, text: str) -> bool:
        return _take(turn, step, even, what, text)

    return Question(name="temperature", prompt=f"{what}: what temperature?", take=take, about="temperature")


def _take(turn: Turn, step: Step, even: Even, what: str, text: str) -> bool:
    heard = parse_reading(text, context_of(turn.state, even, what))
    if heard.action not in (Action.TAKE, Action.READ_BACK) or heard.value is None or _is_too_fine(heard.value):
        return False
    turn.understood("temperature")
    if heard.action is Action.TAKE and not (turn.utterance and turn.utterance.doubtful):
        _store(turn, step, even, what, heard, text, confirmed=False)
        return True

    def yes(inner: Turn) -> None:
        _store(inner, step, even, what, heard, text, confirmed=True)

    def no(inner: Turn) -> None:
        inner.say("Say it again")

    prompt = f"{say_read_back(heard.value, heard.unit or even.unit)}. Yes or no?"
    turn.ask(yes_or_no("confirm temperature", prompt, yes, no))
    return True


def _is_too_fine(value: Decimal) -> bool:
    """Hundredths of a degree are on no thermometer at a bench (common practice, no source): a reading said too soon."""
    exponent = value.as_tuple().exponent
    return isinstance(exponent, int) and exponent < -1


def _store(turn: Turn, step: Step, even: Even, what: str, heard: SpokenReading, said: str, *, confirmed: bool) -> None:
    assert heard.value is not None
    turn.write(
        Temperature(
            step=step.step,
            what=what,
            value=heard.value,
            unit=heard.unit or even.unit,
            said=said,
            confirmed=confirmed,
            confidence=turn.utterance.confidence if turn.utterance else None,
            clip=turn.clip,
        )
    )
    turn.talk(question=None)
    turn.say(say_number(heard.value), say_near(turn.state, step, even))


# Reading them again ---------------------------------------------------------------------------------------------------


def _again_question(state: State, step: Step, even: Even, why: str) -> Question:
    """No reading before they are near: nothing but reading them again leads on."""

    def take(turn: Turn, text: str) -> bool:
        if text not in AGAIN:
            return False
        turn.understood("temperatures again")
        turn.talk(question=None)
        read_again(turn, step, even, "read again")
        return True

    names = listed((*(state.step(name).measure.what for name in even.of), *even.read), "and")  # type: ignore[union-attr]
    prompt = f'{why}. No reading yet. Say "read again" to read {names}'
    return Question(name="apart", prompt=prompt, take=take, phrases=AGAIN[:2])


def read_again(turn: Turn, step: Step, even: Even, why: str) -> None:
    """The temperatures read here don't count any more, and the steps that read others are opened again."""
    rows = tuple(row.n for row in _read_here(turn.state, step))
    if rows:
        turn.write(NoLongerCounts(entries=rows, what=f"temperatures, {title_of(step)}", reason=why))
    hit = {name: tuple(row.entry.place for row in taken(turn.state.facts, name)) for name in even.of}
    hit = {name: places for name, places in hit.items() if places}
    if hit:
        void_readings(turn, hit, why)
