"""Judging again: readings stand, and what they are judged against has changed (an amendment, another answer)."""

from benchvoice.procedure.models import Step
from benchvoice.session.computing import update_computed
from benchvoice.session.entries import NoLongerCounts, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.plan import closed_steps, fitted_steps, title_of
from benchvoice.session.questions import listed
from benchvoice.session.readings import all_standing, to_decide, verdict_on, verdicts
from benchvoice.session.turn import Turn
from benchvoice.speech.say import say_place


def judge_again(turn: Turn) -> None:
    """Write a new verdict for every reading whose limits or outcome changed, and say those whose outcome did."""
    update_computed(turn, anew=True)
    newest = verdicts(turn.state.facts)
    for step in fitted_steps(turn.state):
        if step.measure is not None:
            _judge_step(turn, step, newest)


def _judge_step(turn: Turn, step: Step, newest: dict[int, Row[Verdict]]) -> None:
    assert step.measure is not None
    changed = []
    for row in all_standing(turn.state.facts, step):
        verdict = verdict_on(turn.state, step, row)
        old = newest.get(row.n)
        if verdict is None or (old is not None and _same(old.entry, verdict)):
            continue
        turn.write(verdict)
        if old is None or old.entry.outcome != verdict.outcome:
            changed.append(f"{say_place(row.entry.place, tuple(step.measure.places))} {verdict.outcome}".strip())
    if changed:
        turn.say(f"{step.measure.what}: {listed(changed, 'and')}")
    shut = closed_steps(turn.state.facts).get(step.step)
    if changed and shut is not None and to_decide(turn.state.facts, step):
        turn.write(NoLongerCounts(entries=(shut.n,), what=title_of(step), reason="judged against other limits"))


def _same(old: Verdict, new: Verdict) -> bool:
    return (old.outcome, old.low, old.high, old.unit, old.out_by) == (
        new.outcome,
        new.low,
        new.high,
        new.unit,
        new.out_by,
    )
