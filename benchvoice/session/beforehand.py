"""What must be settled before a step's own questions: a table of askers, each worked out from the facts alone.

So they outlast a kill, a hold and a way back: whatever is owed is asked again. To add one: a function that asks over a
turn and answers True while it waits, and its name in one of the two tables.
"""

from collections.abc import Callable

from benchvoice.procedure.models import Step
from benchvoice.session import bringing
from benchvoice.session.labels import ask_labels
from benchvoice.session.lubrication import ask_thread
from benchvoice.session.turn import Turn
from benchvoice.session.warmth import QUESTIONS as WARMTH
from benchvoice.session.warmth import ask_warmth

Asker = Callable[[Turn, Step], bool]

BEFORE_READING_OUT: tuple[Asker, ...] = (bringing.ask_brought, ask_labels)
"""Asked before the step is read out: what is read first can't be read any more with hands in it."""
BEFORE_ASKING: tuple[Asker, ...] = (ask_thread, ask_warmth)
"""Asked after it was read out, before what its kind asks."""

QUESTIONS = WARMTH | {"label", "confirm label", "label trouble", "thread", "other thread", bringing.QUESTION}
"""Names of the questions here: what is owed asks them anyway, so that a command may come first."""


def ask_first(turn: Turn, step: Step) -> bool:
    """Ask what must be known before the step is read out; False where nothing must."""
    return any(ask(turn, step) for ask in BEFORE_READING_OUT)


def ask_before(turn: Turn, step: Step) -> bool:
    """Ask whatever must be settled before the step's own questions; False where nothing must."""
    return any(ask(turn, step) for ask in (*BEFORE_READING_OUT, *BEFORE_ASKING))
