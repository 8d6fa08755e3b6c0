"""Commands that move the work: done, next, back, go back to, skip, left for later, part missing."""

from benchvoice.procedure.models import Step
from benchvoice.session import moves
from benchvoice.session.commands.table import Command
from benchvoice.session.counting import counts_owed
from benchvoice.session.entries import Finding, LeftForLater, NoLongerCounts
from benchvoice.session.follow_ups import is_sealed
from benchvoice.session.kinds import KINDS
from benchvoice.session.plan import closed_steps, current_step, fitted_steps, next_step, position_in, title_of
from benchvoice.session.questions import listed, reason, yes_or_no
from benchvoice.session.readings import place_key, still_needed
from benchvoice.session.step_names import steps_named
from benchvoice.session.turn import Turn, join
from benchvoice.session.undoing import undone_words
from benchvoice.session.windows import not_yet
from benchvoice.speech.say import say_count, say_place


def _done(turn: Turn, _rest: str) -> None:
    step = current_step(turn.state)
    if step is None:
        turn.say("No step is open")
        return
    kind = KINDS[step.kind]
    early = not_yet(turn.state, step, turn.now)
    if early:
        turn.say(early)
        return
    if kind.done(turn, step):
        return
    owed = kind.owes(turn.state, step, turn.now)
    if owed:
        more = f", and {len(owed) - 4} more" if len(owed) > 4 else ""
        turn.say(f"Still owed: {listed(owed[:4], 'and')}{more}")
        return
    turn.talk(done_said=step.step)


def _back(turn: Turn, _rest: str) -> None:
    """Only looks: the step before is read, nothing moves."""
    steps = fitted_steps(turn.state)
    step = current_step(turn.state)
    at = [each.step for each in steps].index(step.step) if step is not None else len(steps)
    if at == 0:
        turn.say("This is the first step")
        return
    before = steps[at - 1]
    opening = KINDS[before.kind].opening(turn.state, before)
    turn.say(f"Before this: {title_of(before)}", *opening)


def _forgot(turn: Turn, rest: str) -> None:
    target = which_step(turn, rest.removeprefix("to ").removeprefix("do "))
    if target is not None:
        _confirm_back(turn, target, f"forgot the {rest.removeprefix('the ')}")


def _go_back(turn: Turn, rest: str) -> None:
    target = which_step(turn, rest)
    if target is not None:
        _confirm_back(turn, target, f"go back to {rest}")


def which_step(turn: Turn, words: str) -> Step | None:
    """The one step that words name, of those behind where any is; of several, or none, that is said."""
    near, here = steps_named(turn.state, words), current_step(turn.state)
    if here is not None:
        names = [step.step for step in turn.state.procedure.steps]
        near = tuple(step for step in near if names.index(step.step) <= names.index(here.step)) or near
    if len(near) == 1:
        return near[0]
    if not near:
        turn.say(f'I know no step {words}. Say "go back to" and its name')
    elif len(near) > _MOST_NAMED:
        turn.say(f'{say_count(len(near))} steps are like {words}. Say "go back to" and its name')
    else:
        turn.say(f'{listed(title_of(step) for step in near)}? Say "go back to" and its name')
    return None


_MOST_NAMED = 4


def _confirm_back(turn: Turn, target: Step, why: str) -> None:
    """What undoes is asked back first: what must come apart and what that spends."""
    if is_sealed(turn.state, target):
        turn.say(f"{title_of(target)} was closed with the build")
        return
    step = current_step(turn.state) or fitted_steps(turn.state)[-1]
    if position_in(turn.state.procedure, target.step) > position_in(turn.state.procedure, step.step):
        turn.say(f"{title_of(target)} is still to come")
        return
    undone = moves.rows_between(turn.state, target, step)
    words = undone_words(turn.state, moves.Undone(undone, moves.groups_in(undone)))

    def yes(inner: Turn) -> None:
        moves.go_back(inner, target, step, why)

    def no(inner: Turn) -> None:
        inner.say("Nothing moved")

    if not undone and target.step == step.step and not moves.asked_by(turn.state, target):
        turn.say(f"You are at {title_of(target)}")
        return
    if not undone:
        yes(turn)
        return
    closed = len({getattr(row.entry, "step", "") for row in undone if row.entry.kind == "step_closed"})
    steps = f"{say_count(closed)} closed {'step opens' if closed == 1 else 'steps open'} again" if closed else "Back"
    prompt = join((f"Back to {title_of(target)}: {steps}", *words, "Yes or no?"))
    turn.ask(yes_or_no("go back", prompt, yes, no))


def _skip(turn: Turn, rest: str) -> None:
    step = current_step(turn.state)
    if step is None:
        turn.say("No step is open")
        return
    if not rest:
        turn.ask(reason(f"Skip {title_of(step)}: why?", lambda inner, words: _skip(inner, words)))
        return
    moves.close(turn, step, "skipped", rest)
    turn.say(f"{title_of(step)} skipped")


def _later(turn: Turn, rest: str) -> None:
    """Leave what is asked just now for later: a place of a measure step, else the whole step."""
    step = current_step(turn.state)
    if step is None:
        turn.say("No step is open")
        return
    if not rest:
        turn.ask(reason("Why?", lambda inner, words: _later(inner, words)))
        return
    if step.measure is not None and step.measure.places:
        todo = still_needed(turn.state.facts, step)
        place = turn.state.talk.place if turn.state.talk.place in todo else (todo[0] if todo else None)
        if place is not None:
            where = say_place(place, tuple(step.measure.places))
            what = f"{step.measure.what} {where}"
            turn.write(LeftForLater(step=step.step, what=what, positions=(place_key(place),), reason=rest))
            turn.say(f"{where} left for later")
            return
    turn.write(LeftForLater(step=step.step, what=title_of(step), reason=rest))
    moves.close(turn, step, "left for later", rest)
    turn.say(f"{title_of(step)} left for later")


def _missing(turn: Turn, rest: str) -> None:
    """A part is missing: the step stays open, and the work goes on where it can."""
    step = current_step(turn.state)
    name = step.step if step is not None else None
    turn.write(Finding(text=rest or "part missing", what="part missing", step=name, clip=turn.clip))
    other = next_step(turn.state, other_than=name)
    if other is None or step is None:
        turn.say("Part missing is noted. Nothing else can be done without it")
        return

    def yes(inner: Turn) -> None:
        moves.enter(inner, other)

    def no(inner: Turn) -> None:
        inner.say("Here, then")

    turn.say("Part missing is noted")
    prompt = f"{title_of(other)} can be done meanwhile. Go there, yes or no?"
    turn.ask(yes_or_no("go elsewhere", prompt, yes, no))


def _next(turn: Turn, rest: str) -> None:
    """Next moves on like "done" where nothing is owed, and names what is owed otherwise."""
    step = current_step(turn.state)
    if (
        step is not None
        and not KINDS[step.kind].owes(turn.state, step, turn.now)
        and counts_owed(turn.state, step)
    ):
        turn.talk(done_said=step.step)
        return
    _done(turn, rest)


def _found(turn: Turn, rest: str) -> None:
    """The missing part has turned up: the newest such finding is settled."""
    rows = [row for row in turn.state.facts.of(Finding) if row.entry.what == "part missing"]
    if not rows:
        turn.say("No part is missing")
        return
    turn.write(NoLongerCounts(entries=(rows[-1].n,), what=rows[-1].entry.text, reason=f"found {rest}".strip()))
    turn.say("Noted: found")


def reopen_left(turn: Turn, rest: str) -> None:
    """Go to a step that was left for later."""
    near = steps_named(turn.state, rest)
    target = near[0] if len(near) == 1 else None
    closed = closed_steps(turn.state.facts)
    row = closed.get(target.step) if target is not None else None
    left = target is not None and bool(moves.places_left(turn.state, target))
    if target is None or row is None or not (row.entry.how == "left for later" or left):
        turn.say(f"{rest} was not left for later")
        return
    moves.reopen(turn, target, row.n)


MOVING = (
    Command(
        name="done",
        says=(
            "done",
            "that's done",
            "it's done",
            "okay done",
            "finished",
            "all done",
            "i'm done",
            "done that",
            "that's it done",
            "yep done",
            "right that's done",
            "okay that's done",
        ),
        act=_done,
        moves=True,
        while_asked=False,
    ),
    Command(
        name="next",
        says=("next", "next step", "go on", "next one", "what now"),
        act=_next,
        moves=True,
        while_asked=False,
    ),
    Command(name="back", says=("back", "step back", "what was before"), act=_back),
    Command(name="go back to", leads=("go back to", "back to"), act=_go_back, moves=True, while_asked=False),
    Command(
        name="i forgot the",
        leads=("i forgot the", "i forgot", "i've forgotten the", "we forgot the", "we forgot", "forgot the"),
        act=_forgot,
        moves=True,
        while_asked=False,
    ),
    Command(
        name="skip because",
        says=("skip", "skip it", "skip this", "skip this one", "skip this step"),
        leads=(
            "skip because",
            "skip this because",
            "skip it because",
            "skip this one because",
            "skip this step because",
        ),
        act=_skip,
        moves=True,
        while_asked=False,
    ),
    Command(
        name="left for later",
        says=(
            "left for later",
            "later",
            "leave it for later",
            "leave for later",
            "leave this for later",
            "do it later",
            "i'll do it later",
        ),
        leads=(
            "left for later because",
            "leave it for later because",
            "leave this for later because",
            "leave for later because",
        ),
        act=_later,
        moves=True,
        while_asked=False,
    ),
    Command(name="do now", leads=("now do", "now the", "do now"), act=reopen_left, moves=True, while_asked=False),
    Command(
        name="part missing",
        says=(
            "part missing",
            "a part is missing",
            "missing part",
            "there's a part missing",
            "i'm missing a part",
        ),
        leads=("part missing", "missing"),
        act=_missing,
        moves=True,
    ),
    Command(
        name="part found", says=("part found", "found it"), leads=("part found", "found the"), act=_found, moves=True
    ),
)
