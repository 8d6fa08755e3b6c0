"""A build that was brought in and has changed since: said first, kept, and decided before this one can be closed."""

from collections.abc import Callable

from benchvoice.procedure.models import Step
from benchvoice.session.bringing import bring, objections
from benchvoice.session.effects import LookAtBuilds
from benchvoice.session.entries import Answered, BroughtInChanged, BroughtInDecision, NoLongerCounts, StepClosed
from benchvoice.session.facts import Row
from benchvoice.session.marks import todo_of
from benchvoice.session.moves import Undone, go_back, groups_in, rows_between
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.plan import closed_steps, current_step, fitted_steps, title_of
from benchvoice.session.questions import listed, plain, reason, yes_or_no
from benchvoice.session.state import Question, State
from benchvoice.session.sub_builds import (
    Brought,
    as_last_noted,
    brought,
    changed_items,
    fitted,
    resting,
    undecided_changes,
)
from benchvoice.session.turn import Turn, join
from benchvoice.session.undoing import undone_words
from benchvoice.speech.say import say_count

QUESTION = "changed build"
STANDS = ("stands", "it stands", "that stands", "leave it", "keep it as it was")
AS_NOW = ("take it as it is now", "take it as it is", "take it", "as it is now")
AGAIN = ("do those steps again", "do them again", "do it again", "do the steps again", "again")
_SPOKEN = 4


def note_changes(turn: Turn, builds: tuple[OtherBuild, ...]) -> None:
    """Note and say what is otherwise in the builds that were brought in; what is noted already is said once more."""
    turn.talk(seen=builds)
    for row in brought(turn.state.facts).values():
        now = next((each for each in builds if each.entry == row.n), None)
        if now is not None and not as_last_noted(turn.state.facts, row, now):
            _note(turn, row, now)
    for change in undecided_changes(turn.state.facts):
        turn.say(*change_words(turn.state, change))


def _note(turn: Turn, row: Brought, now: OtherBuild) -> None:
    changes: tuple[str, ...]
    steps: tuple[str, ...] = ()
    if now.trouble:
        changes, steps = (now.fault,), resting(turn.state, row, *_everything(row))
    elif now.head == row.entry.head:
        changes = ("it is as it was when it was brought in",)
    else:
        changes, choices, marks = changed_items(row.entry, now)
        steps = resting(turn.state, row, choices, marks)
    back = not now.trouble and now.head == row.entry.head
    turn.write(
        BroughtInChanged(
            entry=row.n, what=row.entry.what, head=now.head, changes=changes, steps=steps, trouble=now.trouble
        )
    )
    if back:
        turn.say(f"{row.entry.what}: {changes[0]}")


def _everything(row: Brought) -> tuple[frozenset[str], frozenset[str]]:
    """All that came along: with the other build out of reach nobody can say what has changed."""
    return frozenset(name for name, _ in row.entry.choices), frozenset(mark.step for mark in row.entry.marks)


def change_words(state: State, change: Row[BroughtInChanged]) -> tuple[str, ...]:
    """What has changed and which steps rest on it, in sentences."""
    entry = change.entry
    few = entry.changes[:_SPOKEN]
    more = f", and {say_count(len(entry.changes) - len(few))} more" if len(entry.changes) > len(few) else ""
    what = f"{', '.join(few)}{more}" if few else "lines were added to its log, and nothing of it is otherwise"
    head = what if entry.trouble else f"{entry.what} has changed since it was brought in: {what}"
    names = [title_of(step) for step in fitted(state, entry.steps)]
    return head, f"On that {'rests' if len(names) == 1 else 'rest'}: {listed(names, 'and')}" if names else ""


# The decision --------------------------------------------------------------------------------------------------------


def pending_change(state: State) -> Question | None:
    """A change of a build that was brought in waits for a decision."""
    changes = undecided_changes(state.facts)
    return _question(state, changes[0]) if changes else None


def _question(state: State, change: Row[BroughtInChanged]) -> Question:
    entry = change.entry
    again = _closed_on_it(state, change)
    ways = ["Stands because …"]
    if not entry.trouble:
        ways += ["take it as it is now", *(["do those steps again"] if again else [])]
    end = f"{listed(ways)}?" if len(ways) > 1 else 'Say "stands because", or put it back and say "look again"'
    verb = "can't be compared" if entry.trouble else "has changed"

    def take(turn: Turn, text: str) -> bool:
        words, because, why = f" {text}".partition(" because ")
        said, why = plain(words.strip(" ,")), why.strip() if because else ""
        if said in STANDS:
            _decide(turn, lambda inner, said: _stands(inner, change, said), why)
        elif said in ("look again",):
            turn.understood("look again")
            turn.talk(question=None)
            turn.do(LookAtBuilds())
        elif said in AS_NOW and not entry.trouble:
            _as_now(turn, change, why)
        elif said in AGAIN and again:
            _ask_again(turn, change, again[0], why)
        else:
            return False
        return True

    phrases = ["stands because", "stands", "look again"]
    phrases += [] if entry.trouble else [AS_NOW[0], *([AGAIN[0]] if again else [])]
    return Question(name=QUESTION, prompt=f"{entry.what} {verb}. {end}", take=take, phrases=tuple(phrases))


def _closed_on_it(state: State, change: Row[BroughtInChanged]) -> tuple[Step, ...]:
    """The closed steps that rest on what has changed, in order."""
    closed = closed_steps(state.facts)
    return tuple(step for step in fitted(state, change.entry.steps) if step.step in closed)


def _decide(turn: Turn, then: Callable[[Turn, str], None], why: str) -> None:
    turn.understood(QUESTION)
    turn.talk(question=None)
    if why:
        then(turn, why)
    else:
        turn.ask(reason("Why?", then))


def _stands(turn: Turn, change: Row[BroughtInChanged], why: str) -> None:
    _write(turn, change, "stands", why)
    turn.say(f"{change.entry.what} stands as it was brought in. Noted, on page one")


def _write(turn: Turn, change: Row[BroughtInChanged], decision: str, why: str) -> None:
    turn.write(
        BroughtInDecision.model_validate(
            {
                "entry": change.n,
                "what": change.entry.what,
                "decision": decision,
                "reason": why,
                "name": turn.state.facts.person,
            }
        )
    )


def _as_now(turn: Turn, change: Row[BroughtInChanged], why: str) -> None:
    turn.understood(QUESTION)
    turn.talk(question=None)

    def take(inner: Turn, now: OtherBuild, against: tuple[str, ...], said: str) -> None:
        row, step = _row_and_step(inner.state, change)
        _write(inner, change, "taken as it is now", said)
        take_now(inner, row, step, now, against, said)

    _with_what_is_there(turn, change, why, take)


_Take = Callable[[Turn, OtherBuild, tuple[str, ...], str], None]


def _with_what_is_there(turn: Turn, change: Row[BroughtInChanged], why: str, then: _Take) -> None:
    """Go on with the other build as the change says; what speaks against it (it is open again) takes a reason."""
    now = _seen(turn, change)
    if now is None:
        turn.do(LookAtBuilds())  # it has changed again, or was not looked at yet: what it is now is said
        return
    _row, step = _row_and_step(turn.state, change)
    against = objections(step.brings_in, now) if step.brings_in is not None else ()
    if not against or why:
        then(turn, now, against, why)
        return
    turn.say(f"{change.entry.what}: {'. '.join(against)}")
    turn.ask(reason("Why?", lambda inner, said: _with_what_is_there(inner, change, said, then)))


def _seen(turn: Turn, change: Row[BroughtInChanged]) -> OtherBuild | None:
    """The other build as it was when the change was noted."""
    return next(
        (
            each
            for each in turn.state.talk.seen
            if each.entry == change.entry.entry and each.head == change.entry.head and not each.trouble
        ),
        None,
    )


def _row_and_step(state: State, change: Row[BroughtInChanged]) -> tuple[Brought, Step]:
    row = next(row for row in brought(state.facts).values() if row.n == change.entry.entry)
    return row, state.step(row.entry.step)


def take_now(turn: Turn, row: Brought, step: Step, now: OtherBuild, against: tuple[str, ...], why: str) -> None:
    """Put a build as it is now in the place of the earlier one; marks that are otherwise expected are read again."""
    old = tuple(each.n for each in turn.state.facts.of(Answered) if each.entry.brought_in == row.n)
    turn.write(NoLongerCounts(entries=(row.n, *old), what=row.entry.what, reason="taken as it is now"))
    bring(turn, step, now, against, why, replaces=row.n)
    closed = closed_steps(turn.state.facts)
    for each in fitted_steps(turn.state):
        shut = closed.get(each.step)
        if each.mark is not None and shut is not None and shut.entry.how == "done" and todo_of(turn.state, each):
            turn.write(NoLongerCounts(entries=(shut.n,), what=title_of(each), reason=f"{row.entry.what} has changed"))
            turn.say(f"{title_of(each)} opens again")


def _ask_again(turn: Turn, change: Row[BroughtInChanged], first: Step, why: str) -> None:
    """What doing the steps again takes apart is asked back first."""
    turn.understood(QUESTION)
    turn.talk(question=None)
    last = current_step(turn.state) or fitted_steps(turn.state)[-1]
    rows = rows_between(turn.state, first, last)
    closed = sum(1 for row in rows if isinstance(row.entry, StepClosed))
    words = undone_words(turn.state, Undone(rows, groups_in(rows)))
    steps = f"{say_count(closed)} closed {'step opens' if closed == 1 else 'steps open'} again"

    def take(inner: Turn, now: OtherBuild, against: tuple[str, ...], said: str) -> None:
        row, step = _row_and_step(inner.state, change)
        _write(inner, change, "done again", said)
        take_now(inner, row, step, now, against, said)
        go_back(inner, first, current_step(inner.state) or last, f"{change.entry.what} has changed")

    def yes(inner: Turn) -> None:
        _with_what_is_there(inner, change, why, take)

    def no(inner: Turn) -> None:
        inner.say("Nothing moved")

    turn.ask(yes_or_no("go back", join((f"Back to {title_of(first)}: {steps}", *words, "Yes or no?")), yes, no))
