"""Things told: findings, notes, variations, what was done earlier, and a ban that was broken."""

from typing import Literal

from benchvoice.session.commands.table import Command
from benchvoice.session.entries import (
    BanBroken,
    BanOn,
    Finding,
    Remembered,
    SaidLater,
    Variation,
)
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import order_numbers
from benchvoice.session.hearing import position_names
from benchvoice.session.kinds.tighten import current_task
from benchvoice.session.moves import bans_on, enter
from benchvoice.session.plan import current_step
from benchvoice.session.questions import free_words, plain
from benchvoice.session.readings import taken
from benchvoice.session.scrap import scrap_position
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.session.ways import EVERYTHING, NOTHING, touched_places, void_readings

What = Literal["finding", "part missing", "stripped", "broken"]


def _note_finding(turn: Turn, text: str, what: What) -> None:
    step = current_step(turn.state)
    turn.write(Finding(text=text, what=what, step=step.step if step is not None else None, clip=turn.clip))
    turn.say(f"{'' if what == 'finding' else what + ': '}{text}")


def _finding(turn: Turn, rest: str) -> None:
    if rest:
        _note_finding(turn, rest, "finding")
    else:
        turn.ask(
            free_words("finding", "What do you find?", lambda inner, words: _note_finding(inner, words, "finding"))
        )


def _spoilt(what: What) -> "_Spoilt":
    return _Spoilt(what)


class _Spoilt:
    """A fastener or part that is stripped or broken: a finding, and the position is scrap until it is done anew."""

    def __init__(self, what: What) -> None:
        self.what = what

    def __call__(self, turn: Turn, rest: str) -> None:
        if not rest:
            turn.ask(free_words("which", "Which?", lambda inner, words: self(inner, words)))
            return
        _note_finding(turn, rest, self.what)
        step = current_step(turn.state)
        task = current_task(turn.state, step) if step is not None and step.tighten is not None else None
        if task is None or step is None:
            return
        names = position_names(rest, order_numbers(turn.state.procedure, task.part.group))
        for name in names or ():
            scrap_position(turn, task, name, self.what)
        if names:
            turn.say("It counts for nothing until a sound one has been through every stage")


def _remember(turn: Turn, rest: str) -> None:
    if not rest:
        turn.ask(free_words("remember", "Go on", _keep))
        return
    _keep(turn, rest)


def _keep(turn: Turn, words: str) -> None:
    step = current_step(turn.state)
    turn.write(Remembered(text=words, step=step.step if step is not None else None, clip=turn.clip))
    turn.say("Kept")


def _my_way(turn: Turn, rest: str) -> None:
    step = current_step(turn.state)
    if step is None:
        turn.say("No step is open")
        return
    if not rest:
        turn.ask(free_words("my way", "Why?", _my_way, lead="because"))
        return
    turn.write(Variation(step=step.step, reason=rest))
    turn.say("Your way is noted")


def _earlier(turn: Turn, rest: str) -> None:
    step = current_step(turn.state)
    turn.write(SaidLater(step=step.step if step is not None else None, text=f"i did {rest}"))
    turn.say("Kept as said later, time unknown. It closes nothing")


# A ban that was broken ----------------------------------------------------------------------------------------------


def broken_ban(state: State, text: str) -> Row[BanOn] | None:
    """The ban in force that these words say was broken."""
    for row in bans_on(state):
        try:
            ban = state.step(row.entry.ban).ban
        except KeyError:
            continue
        if ban is None:
            continue
        says = {plain(words) for words in ban.broken_by} | {"i broke the ban", "broke the ban"}
        if plain(text) in says:
            return row
    return None


def break_ban(turn: Turn, row: Row[BanOn]) -> None:
    """Say the damage, and open again exactly the readings that it spoils."""
    ban = turn.state.step(row.entry.ban).ban
    assert ban is not None
    turn.write(BanBroken(ban=row.entry.ban, what=row.entry.what, damage=ban.damage or ""))
    turn.say(f"The ban is broken: no {row.entry.what}", ban.damage or "")
    if any(taken(turn.state.facts, name) for name in ban.spoils):
        _ask_spoilt(turn, row, ban.spoils)


def _ask_spoilt(turn: Turn, row: Row[BanOn], steps: tuple[str, ...]) -> None:
    def then(inner: Turn, words: str) -> None:
        if words in NOTHING:
            inner.say("Readings stand")
            return
        hit = touched_places(inner.state, steps, words)
        if not hit and words not in EVERYTHING:
            inner.say("I can't place that")
            _ask_spoilt(inner, row, steps)
            return
        void_readings(inner, hit, f"ban broken: {row.entry.what}")
        step = current_step(inner.state)
        if not hit and step is not None and step.step not in steps:
            enter(inner, inner.state.step(steps[0]))

    turn.ask(free_words("spoilt", "Which are spoilt?", then, about="places", phrases=(*NOTHING, *EVERYTHING)))


TELLING = (
    Command(name="finding", says=("finding",), leads=("finding", "i found", "found"), act=_finding, moves=True),
    Command(
        name="stripped",
        says=("stripped", "it's stripped", "thread stripped"),
        leads=("stripped",),
        act=_spoilt("stripped"),
        moves=True,
    ),
    Command(name="broken", says=("broken", "it's broken"), leads=("broken",), act=_spoilt("broken"), moves=True),
    Command(
        name="remember",
        says=("remember", "note", "make a note"),
        leads=("remember that", "remember", "note that", "note"),
        act=_remember,
    ),
    Command(
        name="my way because",
        says=("my way",),
        leads=("my way because", "i did it my way because", "my way"),
        act=_my_way,
    ),
    Command(name="i did it earlier", leads=("i did",), act=_earlier),
)
