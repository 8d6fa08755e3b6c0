"""The table of step kinds: each is a handful of functions over a turn, gathered in a `Kind`."""

from collections.abc import Callable
from dataclasses import dataclass

from benchvoice.procedure.models import Step
from benchvoice.session.facts import Instant
from benchvoice.session.state import State
from benchvoice.session.turn import Turn


def _no_words(_state: State, _step: Step) -> tuple[str, ...]:
    return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What a kind of step does.

    opening: what is said first, before anything is asked.
    ask: ask for the next thing that the step owes, worked out from the facts; False when it owes nothing more.
    take: take an answer to the step itself; False where the text is none.
    owes: what it still owes, in words for "done" and for closing; empty when nothing.
    by_itself: whether it closes as soon as nothing is owed; otherwise "done" closes it.
    torque, limits, needs, left: the answers to "what torque", "what limits", "what do I need", "how many left".
    phrases: what can be said besides commands; `about` is what the ear must be ready for.
    """

    opening: Callable[[State, Step], tuple[str, ...]]
    ask: Callable[[Turn, Step], bool]
    take: Callable[[Turn, Step, str], bool]
    owes: Callable[[State, Step, Instant], tuple[str, ...]]
    by_itself: bool
    torque: Callable[[State, Step], str] = lambda _state, _step: ""
    limits: Callable[[State, Step], str] = lambda _state, _step: ""
    left: Callable[[State, Step], str] = lambda _state, _step: ""
    phrases: Callable[[State, Step], tuple[str, ...]] = _no_words
    about: Callable[[State, Step], frozenset[str]] = lambda _state, _step: frozenset()
    done: Callable[[Turn, Step], bool] = lambda _turn, _step: False
    """Take "done" in a way of its own; False where it has none."""
    lost: Callable[[Turn, Step], bool] = lambda _turn, _step: False
    """The safe restart after "lost my place"; False where nothing needs to be done again."""
