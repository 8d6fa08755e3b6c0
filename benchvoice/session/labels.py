"""Labels of consumables: product, lot and use-by date, read off before first use and again of each new container.

What is read is a fact of its own, so that a kill between two of them asks only for the rest. What is not as it must be
(out of date, another product, can't be read) waits for an override with a reason, or for another container.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Container, Finding, Label, Override
from benchvoice.session.facts import Facts, Instant, Row
from benchvoice.session.plan import current_step
from benchvoice.session.questions import all_the_same, plain, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech.dates import parse_date, say_date
from benchvoice.speech.spelling import say_mark, spelt

Part = Literal["product", "lot", "date"]
PARTS: tuple[Part, ...] = ("product", "lot", "date")
UNREADABLE = (
    "i can't read it", "can't read it", "can't read that", "not readable", "unreadable", "smudged", "worn off",
    "no label", "no lot", "no date", "there is none", "there isn't one", "none", "it's gone",
)  # fmt: skip
NEW_ONE = (
    "new tube", "new can", "new bottle", "new pot", "new box", "new one", "a new one", "another one", "a new tube",
)  # fmt: skip
AS_IT_IS = ("use it anyway", "use it", "use as is", "use it as it is", "go on with it")


def labelled(state: State, step: Step) -> tuple[str, ...]:
    """The consumables of a step whose label is read, by name."""
    return tuple(name for name in step.uses if state.procedure.consumables[name].label)


def _just_opened(state: State) -> tuple[str, ...]:
    """Consumables of which a new container was opened: its label is read at once, whatever the step uses."""
    opened = {row.entry.consumable: row.n for row in state.facts.of(Container)}
    return tuple(name for name in opened if name in state.procedure.consumables)


def read_off(facts: Facts, consumable: str) -> dict[str, Row[Label]]:
    """What was read off the label of the container in use, by part."""
    opened = [row.n for row in facts.of(Container) if row.entry.consumable == consumable]
    since = opened[-1] if opened else 0
    return {row.entry.part: row for row in facts.of(Label) if row.entry.consumable == consumable and row.n > since}


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something on a label that is not as it must be."""

    row: Row[Label]
    text: str


def troubles(state: State, consumable: str, now: Instant) -> tuple[Trouble, ...]:
    """What is wrong with the label of the container in use, today, without an override."""
    used = state.procedure.consumables[consumable]
    settled = {row.entry.entry for row in state.facts.of(Override)}
    found = []
    for part, row in read_off(state.facts, consumable).items():
        read = row.entry.read
        if read is None:
            found.append(Trouble(row, f"{used.what}: the {part} can't be read"))
        elif part == "product" and used.products and plain(read) not in {plain(each) for each in used.products}:
            found.append(Trouble(row, f"{used.what}: {read} is another product"))
        elif part == "date" and date.fromisoformat(read) < now.at.date():
            found.append(Trouble(row, f"{used.what}: out of date since {_say(date.fromisoformat(read))}"))
    return tuple(each for each in found if each.row.n not in settled)


def ask_labels(turn: Turn, step: Step) -> bool:
    """Ask for what must still be read off labels for this step, or decided about them; False where nothing is."""
    for name in dict.fromkeys((*labelled(turn.state, step), *_just_opened(turn.state))):
        read = read_off(turn.state.facts, name)
        part = next((each for each in PARTS if each not in read), None)
        if part is not None:
            turn.ask(_question(turn.state, step, name, part, first=not read))
            return True
        wrong = troubles(turn.state, name, turn.now)
        if wrong:
            turn.ask(_trouble_question(step, name, wrong))
            return True
    return False


# Reading a label off -------------------------------------------------------------------------------------------------


def _question(state: State, step: Step, name: str, part: Part, *, first: bool) -> Question:
    what = state.procedure.consumables[name].what
    asked = {"product": "product?", "lot": "Lot?", "date": "Use by?"}[part]
    prompt = f"{what}. What does the label say: {asked}" if first else asked

    def take(turn: Turn, text: str) -> bool:
        said = _after(text, part)
        if said in UNREADABLE:
            turn.understood("label unreadable")
            _note(turn, step, name, part, None, text)
            turn.write(Finding(text=f"label of the {what}: {part} can't be read", step=step.step))
            turn.say("Noted")
            return True
        return _TAKE[part](turn, step, name, said, text)

    return Question(
        name="label",
        prompt=prompt,
        take=take,
        phrases=_phrases(state, name, part),
        takes_anything=part == "product",
        about={"product": "product", "lot": "spelling", "date": "date"}[part],
    )


def _phrases(state: State, name: str, part: Part) -> tuple[str, ...]:
    used = state.procedure.consumables[name]
    own = (used.what, *used.products) if part == "product" else ()
    return (*own, "i can't read it")


def _after(text: str, part: Part) -> str:
    """What follows "lot", "product", "use by", when it is said with it."""
    for lead in {"product": ("product ", "it's "), "lot": ("lot ", "batch "), "date": ("date ",)}[part]:
        text = text.removeprefix(lead)
    return text


def _note(turn: Turn, step: Step, name: str, part: Part, read: str | None, said: str) -> None:
    turn.write(Label(consumable=name, part=part, read=read, said=said, step=step.step))
    turn.talk(question=None)


def _take_product(turn: Turn, step: Step, name: str, said: str, text: str) -> bool:
    used = turn.state.procedure.consumables[name]
    turn.understood("label product")
    if plain(said) in {plain(each) for each in (used.what, *used.products)}:
        _note(turn, step, name, "product", said, text)
        turn.say(said)
        return True
    _read_back(turn, step, name, "product", said, text)
    return True


def _take_lot(turn: Turn, step: Step, name: str, said: str, text: str) -> bool:
    lot = spelt(said)
    if lot is None:
        return False
    turn.understood("label lot")
    _read_back(turn, step, name, "lot", lot, text)
    return True


def _read_back(turn: Turn, step: Step, name: str, part: Part, read: str, text: str) -> None:
    def yes(inner: Turn) -> None:
        _note(inner, step, name, part, read, text)

    def no(inner: Turn) -> None:
        inner.say("Say it again")

    said = say_mark(read) if part == "lot" else read
    turn.ask(yes_or_no("confirm label", f"{said}. Yes or no?", yes, no))


def _take_date(turn: Turn, step: Step, name: str, said: str, text: str) -> bool:
    found = parse_date(said)
    if not found:
        return False
    turn.understood("label date")
    if len(found) > 1:
        turn.say("That can be more than one day. Say the month by its name", tone="not heard")
        turn.talk(question=_question(turn.state, step, name, "date", first=False))
        return True
    _note(turn, step, name, "date", found[0].day.isoformat(), text)
    turn.say(_say(found[0].day))
    return True


def _say(day: date) -> str:
    """A last good day: a month's last day is said as the end of the month."""
    return say_date(day, whole_month=(day + timedelta(days=1)).month != day.month)


_TAKE = {"product": _take_product, "lot": _take_lot, "date": _take_date}


# What is not as it must be -------------------------------------------------------------------------------------------


def _trouble_question(step: Step, name: str, wrong: tuple[Trouble, ...]) -> Question:
    """Out of date: another one, or used all the same, with a reason that stands on page one."""
    prompt = f"{'. '.join(each.text for each in wrong)}. A new one, or use it anyway because …?"

    def take(turn: Turn, text: str) -> bool:
        if text in NEW_ONE:
            turn.understood("new container")
            open_container(turn, name)
            return True
        return all_the_same(
            turn, text, AS_IT_IS, "use it anyway", lambda inner, why: _override(inner, step, wrong, why)
        )

    return Question(name="label trouble", prompt=prompt, take=take, phrases=("a new one", AS_IT_IS[0], "because"))


def _override(turn: Turn, step: Step, wrong: tuple[Trouble, ...], because: str) -> None:
    for each in wrong:
        turn.write(Override(what=each.text, reason=because, step=step.step, entry=each.row.n))
    turn.talk(question=None)
    turn.say("Noted, on page one")


def open_container(turn: Turn, name: str) -> None:
    """A new container: its label is read before it is used."""
    step = current_step(turn.state)
    turn.write(Container(consumable=name, step=step.step if step is not None else None))
    turn.talk(question=None)
