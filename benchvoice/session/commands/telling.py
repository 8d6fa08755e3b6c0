"""Things told: findings, notes, variations, and what was done earlier."""

from typing import Literal

from benchvoice.session.commands.table import Command
from benchvoice.session.entries import Finding, Remembered, SaidLater, Variation
from benchvoice.session.fasteners import current_task, order_numbers
from benchvoice.session.hearing import position_names
from benchvoice.session.left_over import left_phrases, meant_by, says_left, take_left
from benchvoice.session.plan import current_step
from benchvoice.session.questions import free_words
from benchvoice.session.said_earlier import WHEN, said_earlier
from benchvoice.session.scrap import scrap_position
from benchvoice.session.turn import Turn

What = Literal["finding", "part missing", "stripped", "broken"]


def _note_finding(turn: Turn, text: str, what: What) -> None:
    step = current_step(turn.state)
    meant = meant_by(turn.state, text) if what == "finding" else None
    name = step.step if step is not None else None
    turn.write(Finding(text=text, what=what, step=name, clip=turn.clip, left_over=meant))
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


def _earlier(turn: Turn, text: str) -> None:
    step = current_step(turn.state)
    turn.write(SaidLater(step=step.step if step is not None else None, text=text))
    turn.say("Kept as said later, time unknown. It closes nothing")


EARLIER = "i did it earlier"
"""The command's name."""


TELLING = (
    Command(name="finding", says=("finding",), leads=("finding", "i found", "found"), act=_finding, moves=True),
    Command(
        name="stripped",
        says=(
            "stripped",
            "it's stripped",
            "thread stripped",
            "it stripped",
            "it has stripped",
        ),
        leads=("stripped",),
        act=_spoilt("stripped"),
        moves=True,
    ),
    Command(
        name="broken",
        says=("broken", "it's broken", "it broke", "it snapped", "it sheared"),
        leads=("broken",),
        act=_spoilt("broken"),
        moves=True,
    ),
    Command(name="one washer left", whole=says_left, heard=left_phrases, act=take_left, moves=True),
    Command(
        name="remember",
        says=("remember", "note", "make a note"),
        leads=("remember that", "remember", "note that", "note"),
        act=_remember,
    ),
    Command(
        name="my way because",
        says=("my way", "i did it my way", "i'm doing it my way", "my own way", "i'm doing this my way"),
        leads=(
            "my way because",
            "my own way because",
            "i did it my way because",
            "i did this my way because",
            "i'm doing it my way because",
            "i'm doing this my way because",
        ),
        act=_my_way,
    ),
    Command(
        name=EARLIER,
        whole=said_earlier,
        heard=lambda _state: ("i did it", "i did", "was done", "already", "on", "ago", *WHEN),
        act=_earlier,
    ),
)
