"""Judging again: readings stand, and what they are judged against has changed (an amendment, another answer)."""

from benchvoice.procedure.models import Step
from benchvoice.procedure.places import places_of
from benchvoice.session.computing import update_computed
from benchvoice.session.entries import NoLongerCounts, Reading, Verdict
from benchvoice.session.facts import Row
from benchvoice.session.means import judges_mean
from benchvoice.session.plan import closed_steps, fitted_steps, title_of
from benchvoice.session.questions import listed
from benchvoice.session.readings import all_standing, means_at, to_decide, verdicts
from benchvoice.session.turn import Turn
from benchvoice.session.verdicts import verdict_on
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
    for row in _judged(turn, step, newest):
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


def _judged(turn: Turn, step: Step, newest: dict[int, Row[Verdict]]) -> tuple[Row[Reading], ...]:
    """The readings that are judged: those that stand; of repeats their mean, or each where each was judged."""
    assert step.measure is not None
    facts = turn.state.facts
    if not judges_mean(step):
        return all_standing(facts, step)
    means = [means_at(facts, step.step, place)[-1:] for place in places_of(step.measure)]
    alone = [row for row in all_standing(facts, step) if row.n in newest]
    return tuple(row for each in (alone, *means) for row in each)


def _same(old: Verdict, new: Verdict) -> bool:
    return old.model_copy(update={"limits": new.limits, "reason": new.reason}) == new
