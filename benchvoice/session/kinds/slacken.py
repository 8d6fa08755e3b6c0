"""Slacken a group of fasteners, in the reverse of the order of tightening; "done" says that it was."""

from benchvoice.procedure.models import Step
from benchvoice.session.entries import Slackened
from benchvoice.session.facts import Instant
from benchvoice.session.fasteners import whole_order
from benchvoice.session.state import State
from benchvoice.session.steps import Kind
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_count


def positions(state: State, step: Step) -> tuple[str, ...]:
    """The positions to slacken, in order: outside in."""
    assert step.slacken is not None
    order = reversed(whole_order(state.procedure, step.slacken.group))
    return tuple(name for name in order if not step.slacken.positions or name in step.slacken.positions)


def _opening(state: State, step: Step) -> tuple[str, ...]:
    assert step.slacken is not None
    group = state.procedure.groups[step.slacken.group]
    return (f"{group.what}: slacken {say_count(len(positions(state, step)))} to one",)


def _is_done(state: State, step: Step) -> bool:
    return any(row.entry.step == step.step for row in state.facts.of(Slackened))


def _ask(_turn: Turn, _step: Step) -> bool:
    return False


def _take(turn: Turn, step: Step, text: str) -> bool:
    if text not in ("slackened", "all slack", "loose"):
        return False
    return _done(turn, step)


def _done(turn: Turn, step: Step) -> bool:
    assert step.slacken is not None
    if _is_done(turn.state, step):
        return False
    turn.write(Slackened(step=step.step, group=step.slacken.group, positions=positions(turn.state, step)))
    turn.talk(done_said=step.step)
    return True


def _owes(_state: State, _step: Step, _now: Instant) -> tuple[str, ...]:
    return ()


def _lost(turn: Turn, step: Step) -> bool:
    """All of it again: what is slack already comes to no harm."""
    turn.say("From the first again", *_opening(turn.state, step))
    return True


SLACKEN = Kind(
    opening=_opening,
    ask=_ask,
    take=_take,
    owes=_owes,
    by_itself=False,
    phrases=lambda _state, _step: ("slackened",),
    done=_done,
    lost=_lost,
)
