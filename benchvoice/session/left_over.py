"""What is left in the tray: asked where the procedure says so, told at any time; no closing without a finding on it.

"Anything left in the tray?" is answered by "no", or by what is left, "one washer". What is left stays open, whatever is
gone back to, until a finding says what was made of it: "finding the washer belongs to the drain plug".
"""

from dataclasses import dataclass

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Counted, Finding, LeftOver
from benchvoice.session.facts import Facts, Row
from benchvoice.session.plan import current_step
from benchvoice.session.questions import NO, YES, free_words, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.turn import Turn
from benchvoice.speech import shapes
from benchvoice.speech.counts import whole_number
from benchvoice.speech.say import say_count

ASKED, MADE_OF_IT = "left in the tray", "left over"
"""Names of the questions here; the facts ask the first one anyway."""
_NONE = (*NO, "nothing", "none", "nothing left", "nothing left over", "nothing is left", "empty", "the tray is empty")
_TAILS = (" left over in the tray", " left in the tray", " left over", " left")
_HEADS = ("yes ", "there's ", "there is ", "there are ", "i have ", "just ", "only ")
_SMALL = (
    *("washer", "screw", "bolt", "nut", "stud", "pin", "clip", "ring", "key", "plug", "spring", "dowel", "gasket"),
    *("seal", "bearing", "shell", "cap", "circlip", "spacer", "rag", "strip"),
)
"""What is left in trays (common practice, no source). Shims have a stock of their own, which they are left in."""


@dataclass(frozen=True, slots=True)
class Left:
    """Something left over, as it was said: a number of things, or a thing by its name."""

    number: int | None
    what: str
    known: bool
    """Whether it is a thing that may lie in a tray; what isn't is asked back."""

    @property
    def words(self) -> str:
        """How it is spoken of."""
        return self.what if self.number is None else f"{say_count(self.number)} {self.what}"


def asks_left_over(facts: Facts, step: Step) -> bool:
    """Whether a step still asks if anything is left in the tray."""
    return step.count.anything_left and not any(
        row.entry.step == step.step and row.entry.way == "left over" for row in facts.of(Counted)
    )


def question() -> Question:
    """Ask whether anything is left in the tray."""

    def take(turn: Turn, text: str) -> bool:
        if text in _NONE:
            turn.understood("nothing left")
            turn.talk(question=None)
            _note_count(turn, 0)
            return True
        if text in YES:
            turn.understood("something left")
            turn.say("How many of what?")
            return True
        found = things_left(text)
        if found is None:
            return False
        _take(turn, found)
        return True

    phrases = ("no", "nothing", "yes", "left", "left over", "a", "and", *_SMALL, *(f"{each}s" for each in _SMALL))
    return Question(name=ASKED, prompt="Anything left in the tray?", take=take, phrases=phrases, about="count")


def take_left(turn: Turn, text: str) -> None:
    """Keep what was said to be left over at any time."""
    found = things_left(text)
    assert found is not None
    _take(turn, found)


def _take(turn: Turn, found: tuple[Left, ...]) -> None:
    """Keep what is left; what can't be told from talk, or from what is still to do, is said back before."""
    turn.understood("left over")
    asked, busy = turn.state.talk.question, _in_hand(turn.state)
    answers = asked is not None and asked.name == ASKED
    doubtful = [each for each in found if not each.known or _one(each.what.split()[-1]) in busy]

    def keep(inner: Turn) -> None:
        inner.talk(question=None if answers else asked)
        _note(inner, found, answers=answers)

    def no(inner: Turn) -> None:
        inner.ask(asked)

    if doubtful:
        turn.ask(yes_or_no("confirm left over", f"{doubtful[0].words} left over. Yes or no?", keep, no))
    else:
        keep(turn)


def _note(turn: Turn, found: tuple[Left, ...], *, answers: bool) -> None:
    step = current_step(turn.state)
    for each in found:
        name = step.step if step is not None else None
        turn.write(LeftOver(what=each.what, number=each.number, step=name, clip=turn.clip))
        turn.say(f"{each.words} left over")
    turn.say("No closing without a finding on it")
    if answers:
        _note_count(turn, sum(each.number or 1 for each in found))


def _note_count(turn: Turn, number: int) -> None:
    step = current_step(turn.state)
    assert step is not None
    turn.write(Counted(step=step.step, what="in the tray", number=number, expected=0, way="left over"))


# From words to things -----------------------------------------------------------------------------------------------


def things_left(text: str) -> tuple[Left, ...] | None:
    """What the words say is left; None where any part of them names no thing."""
    words = text.replace(",", " and ")
    words = words.removeprefix(next((each for each in _HEADS if words.startswith(each)), ""))
    words = words.removesuffix(next((each for each in _TAILS if words.endswith(each)), ""))
    found = [_thing(piece.split()) for piece in words.split(" and ")]
    whole = tuple(each for each in found if each is not None)
    return whole if whole and len(whole) == len(found) else None


def says_left(text: str) -> bool:
    """Whether a whole utterance says that so many of something are left: "one washer left", "two bolts left over"."""
    found = things_left(text) if text.endswith(_TAILS) else None
    plain = text.endswith(" left")
    return found is not None and all(each.number is not None and (each.known or not plain) for each in found)


def left_phrases(state: State) -> tuple[str, ...]:
    """What the ear listens for, where nothing else is left: one left is also a place and a bolt."""
    step = current_step(state)
    busy = step is not None and step.kind not in ("tell", "which_way_up", "check", "look")
    if busy or not any(each.count.anything_left for each in state.procedure.steps):
        return ()
    return ("left over", *(f"one {each} left" for each in _SMALL), *(f"two {each}s left" for each in _SMALL))


def _thing(words: list[str]) -> Left | None:
    if not words or len(words) > _MOST_WORDS:
        return None
    number, what = _number_and_thing(words)
    if not what or not all(word.isalpha() for word in what) or any(_counts(word) for word in what):
        return None
    known = _one(what[-1]) in _SMALL
    return Left(number, " ".join(what), known) if number is not None or known else None


_MOST_WORDS = 6


def _number_and_thing(words: list[str]) -> tuple[int | None, list[str]]:
    if words[0] in ("a", "an"):
        return 1, words[1:]
    for cut in range(len(words) - 1, 0, -1):
        number = whole_number(" ".join(words[:cut]))
        if number:
            return number, words[cut:]
    return None, words[1:] if words[0] == "the" else words


def _counts(word: str) -> bool:
    return whole_number(word) is not None or word in shapes.PIECES


def _in_hand(state: State) -> frozenset[str]:
    """What the step in hand tightens: so many of them left may be so many still to do."""
    step = current_step(state)
    part = None if step is None else step.tighten or step.slacken
    what = state.procedure.groups[part.group].what if part is not None else None
    return frozenset({_one(what.split()[-1])}) if what else frozenset()


def _one(word: str) -> str:
    return word.lower().removesuffix("s")


# What stays open ----------------------------------------------------------------------------------------------------


def unsettled(facts: Facts) -> tuple[Row[LeftOver], ...]:
    """What was left over and has no finding that says what was made of it."""
    settled = {row.entry.left_over for row in facts.of(Finding)}
    return tuple(row for row in facts.of(LeftOver) if row.n not in settled)


def said(entry: LeftOver) -> str:
    """One washer left over."""
    return f"{Left(entry.number, entry.what, known=True).words} left over"


def left_over(state: State) -> tuple[str, ...]:
    """What is left over without a finding, in sentences."""
    return tuple(f"{said(row.entry)}, without a finding" for row in unsettled(state.facts))


def meant_by(state: State, text: str) -> int | None:
    """Line of the one thing left over that a finding names; None where it names none, or there are several."""
    words = {_one(word) for word in text.split()}
    rows = [row.n for row in unsettled(state.facts) if _one(row.entry.what.split()[-1]) in words]
    return rows[0] if len(rows) == 1 else None


def ask_made_of_it(turn: Turn) -> None:
    """Ask what was made of the first thing that is left over; any words are the finding."""
    rows = unsettled(turn.state.facts)
    if not rows:
        return
    row = rows[0]

    def then(inner: Turn, words: str) -> None:
        step = current_step(inner.state)
        name = step.step if step is not None else None
        inner.write(Finding(text=f"{row.entry.what} left over, {words}", step=name, clip=inner.clip, left_over=row.n))
        inner.say(words)
        inner.talk(told=None)
        ask_made_of_it(inner)

    turn.ask(free_words(MADE_OF_IT, f"{said(row.entry)}. What was made of it?", then))
