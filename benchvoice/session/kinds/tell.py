"""Tell (do this, then "done") and which way up (the posture of the work): steps that only words close."""

from benchvoice.procedure.models import Step
from benchvoice.session.facts import Instant
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn


def _tell(_state: State, step: Step) -> tuple[str, ...]:
    return (step.tell or "",)


def _which_way_up(_state: State, step: Step) -> tuple[str, ...]:
    return (step.which_way_up or "",)


def _nothing(_turn: Turn, _step: Step) -> bool:
    return False


def _no_answer(_turn: Turn, _step: Step, _text: str) -> bool:
    return False


def _owes_nothing(_state: State, _step: Step, _now: Instant) -> tuple[str, ...]:
    return ()


TELL = Kind(opening=_tell, ask=_nothing, take=_no_answer, owes=_owes_nothing, by_itself=False)
WHICH_WAY_UP = Kind(opening=_which_way_up, ask=_nothing, take=_no_answer, owes=_owes_nothing, by_itself=False)
