"""Taking back, correcting, measuring again: three different things, three different entries."""

from collections.abc import Callable
from decimal import Decimal

from benchvoice.procedure.models import Step
from benchvoice.session.clocks import passed
from benchvoice.session.commands.table import Command
from benchvoice.session.computing import update_computed
from benchvoice.session.counting import counts_of
from benchvoice.session.deciding import measure_again
from benchvoice.session.entries import (
    Closed,
    Corrected,
    Counted,
    Entry,
    Heard,
    LeftOver,
    NoLongerCounts,
    Person,
    Reading,
    Retracted,
    Said,
    StepClosed,
    StepEntered,
    Unclear,
    WindowEnded,
)
from benchvoice.session.facts import Facts, Row
from benchvoice.session.follow_ups import is_sealed
from benchvoice.session.hearing import leading_place, named_place
from benchvoice.session.kinds import KINDS
from benchvoice.session.left_over import said
from benchvoice.session.moves import enter
from benchvoice.session.plan import closed_steps, current_step, title_of
from benchvoice.session.questions import yes_or_no
from benchvoice.session.readings import at_place, taken, to_decide
from benchvoice.session.state import State
from benchvoice.session.taking import context_at, say_results, store_reading
from benchvoice.session.ticking import do_again
from benchvoice.session.turn import Turn
from benchvoice.session.windows import Running, running, wait_step
from benchvoice.speech.readings import Action, SpokenReading, parse_reading
from benchvoice.speech.say import say_count, say_place, say_read_back

_TALK = (Heard, Said, Unclear, Person, Retracted)
LONG_AGO = Decimal(60)
"""Seconds after which taking back or correcting is asked about: people do it at once, and others' talk at any time."""
ASKED_BACK = "long ago"


def _wrong(turn: Turn, _rest: str) -> None:
    """Take back what the last utterance that changed anything did, and say what that was."""
    rows = _last_doing(turn)
    if not rows:
        turn.say("There is nothing to take back")
        return
    what = describe(turn.state, rows)
    _ask_if_long_ago(turn, rows[-1], f"Take back {what}", lambda inner: _take_back(inner, rows, what))


def _take_back(turn: Turn, rows: tuple[Row[Entry], ...], what: str) -> None:
    before = current_step(turn.state)
    turn.write(Retracted(entries=tuple(row.n for row in rows), what=what))
    turn.talk(place=None, again=None, told=None, question=None, presented=_presented(turn))
    update_computed(turn)
    turn.say(f"Took back: {what}")
    step = current_step(turn.state)
    if step is not None and step != before:
        turn.say(f"Back at {title_of(step)}")


def _ask_if_long_ago(turn: Turn, row: Row[Entry], what: str, then: Callable[[Turn], None]) -> None:
    """Do it at once where its entry is fresh, else after a yes or the same again; a no leaves what was asked before."""
    gone, waiting = passed(turn.state.facts, row.now, turn.now), turn.state.talk.question
    insists = waiting is not None and waiting.name == ASKED_BACK
    if insists or (gone.most is not None and gone.most <= LONG_AGO):
        then(turn)
        return

    def no(inner: Turn) -> None:
        inner.say("Then it stands")
        inner.talk(question=waiting)

    turn.ask(yes_or_no(ASKED_BACK, f"{what}? Yes or no?", then, no))


def _presented(turn: Turn) -> int:
    """The step that is current after taking back was read out already, when it was current before."""
    step = current_step(turn.state)
    if step is not None and step.check is not None:
        return 0  # its question is its opening
    rows = [row.n for row in turn.state.facts.of(StepEntered) if step is not None and row.entry.step == step.step]
    return rows[-1] if rows else 0


def _last_doing(turn: Turn) -> tuple[Row[Entry], ...]:
    """The rows of the newest turn that did something which still counts."""
    facts = turn.state.facts
    heard = [row.n for row in facts.all(Heard)]
    end, closed = facts.count, facts.last(Closed)
    closed_at = closed.n if closed is not None else 0
    for start in reversed(heard):
        if start <= max(turn.state.talk.undone, closed_at):
            break
        rows = _of_turn(facts, start, end)
        if any(row.entry.kind not in _NO_DOING for row in rows):
            return rows
        end = start - 1
    return ()


_NO_DOING = frozenset({"held", "carried_on", "device", "window_warned", "step_entered", "resumed"})


_ASIDE = frozenset({"remembered", "variation", "said_later", "finding", "restarted", "no_longer_counts"})
"""What is no progress of the work: passed over when the last entry is asked for."""


def _last_work(turn: Turn) -> tuple[Row[Entry], ...]:
    """The rows of the newest turn that the work came on with."""
    facts = turn.state.facts
    end = facts.count
    for start in reversed([row.n for row in facts.all(Heard)]):
        rows = _of_turn(facts, start, end)
        seen = bool(rows) and getattr(rows[0].entry, "observed", False)
        if seen or (rows and rows[0].entry.kind not in _ASIDE | _NO_DOING | {"answered"}):
            return rows
        end = start - 1
    return ()


def _of_turn(facts: Facts, start: int, end: int) -> tuple[Row[Entry], ...]:
    """What one utterance wrote and still counts, or made void itself: the rows up to what was said or heard next."""
    found: list[Row[Entry]] = []
    for row in facts.between(start, end):
        if isinstance(row.entry, Said | Heard | Unclear):
            break
        if not isinstance(row.entry, _TALK):
            found.append(row)
    live = {row.n for row in found if row.n not in facts.void}
    own = {n for voider, targets in facts.voiders if voider in live for n in targets}
    return tuple(row for row in found if row.n in live or row.n in own)


def describe(state: State, rows: tuple[Row[Entry], ...]) -> str:
    """What a turn did, in a few words: its reading, count, mark, answer, or else its step."""
    for row in rows:
        entry = row.entry
        match entry.kind:
            case "reading" if isinstance(entry, Reading) and entry.counts_as != "computed":
                measure = state.step(entry.step).measure
                axes = tuple(measure.places) if measure is not None else ()
                return f"{say_place(entry.place, axes)}, {entry.said or 'the mean'}".removeprefix(", ")
            case "tightened":
                done = sum(1 for each in rows if each.entry.kind == "tightened")
                return f"{say_count(done)} tightened"
            case "mark":
                return f"the mark {getattr(entry, 'said', '')}"
            case "checked" | "answered":
                return f"{getattr(entry, 'answer', '')}"
            case "label":
                return f"{getattr(entry, 'part', '')} on the label, {getattr(entry, 'read', None) or 'not readable'}"
            case "thread":
                return f"what is on the threads, {getattr(entry, 'condition', None) or 'not known'}"
            case "warmth":
                return f"that it is {getattr(entry, 'state', '')}"
            case "temperature":
                return f"{getattr(entry, 'what', '')} temperature, {getattr(entry, 'said', '')}"
            case "counted":
                return f"{getattr(entry, 'what', '')}, {say_count(getattr(entry, 'number', 0))}"
            case "left_over" if isinstance(entry, LeftOver):
                return said(entry)
            case "remembered" | "finding":
                return str(getattr(entry, "text", ""))
            case "no_longer_counts" if len(rows) == 1:
                return f"{getattr(entry, 'what', '')}, {getattr(entry, 'reason', '')}"
            case "no_longer_counts":
                continue
            case "window_started":
                return f"the start of {getattr(entry, 'what', '')}"
            case "went_back":
                return "going back"
            case "left_for_later":
                return f"{getattr(entry, 'what', '')} left for later"
            case "set_read":
                return f"the setting {getattr(entry, 'said', '')}"
            case "matched":
                return f"{getattr(entry, 'what', '')}, matched"
            case "stock_changed":
                return "the change of the tray"
            case "pack_taken":
                return f"{getattr(entry, 'pack', '')}, back in the tray"
            case "decision":
                return f"the decision {getattr(entry, 'decision', '')}"
            case kind if kind in _DESCRIBED:
                return _DESCRIBED[kind]
    closed = [row.entry for row in rows if isinstance(row.entry, StepClosed)]
    return f"{closed[0].step.replace('_', ' ')} {closed[0].how}" if closed else rows[0].entry.kind.replace("_", " ")


_DESCRIBED = {
    "stands": "which reading stands",
    "restarted": "the stage again",
    "variation": "your way",
    "said_later": "what was said of earlier",
    "ban_broken": "the broken ban",
    "witnessed": "the witness",
    "slackened": "slackened",
    "zeroed": "the zero check",
    "last_ran": "how long since it ran",
    "still_so": "that it is still so",
    "override": "the override",
    "closed_later": "what had been left for later",
    "follow_up": "taking up what is owed",
    "owed_done": "what was owed, done",
    "brought_in": "the build that was brought in",
    "not_brought_in": "going on without another build",
    "brought_in_decision": "the decision about the build that has changed",
}
"""What a turn did, for the kinds that have no words of their own, where nothing else in the turn has any."""


def _correction(turn: Turn, rest: str) -> None:
    """The last reading was misheard or misspoken: this is what it says."""
    found = _to_correct(turn, rest)
    if found is None:
        turn.say("There is no reading to correct")
        return
    row, step, words = found
    heard = parse_reading(words, context_at(turn.state, step, row.entry.place))
    if heard.action in (Action.ASK, Action.NOT_A_VALUE):
        turn.say(f"{heard.reason or 'That is no reading'}. Say correction and the reading", tone="not heard")
        return
    if heard.action is not Action.READ_BACK or heard.value is None:
        what = f"Correct {describe(turn.state, (row,))} to {words}"
        _ask_if_long_ago(turn, row, what, lambda inner: _correct(inner, row, step, heard, words, confirmed=False))
        return

    def yes(inner: Turn) -> None:
        _correct(inner, row, step, heard, words, confirmed=True)

    def no(inner: Turn) -> None:
        inner.say("Then it stands as it was")

    prompt = f"{say_read_back(heard.value, heard.unit or row.entry.unit)}. Yes or no?"
    turn.ask(yes_or_no("confirm correction", prompt, yes, no))


def _to_correct(turn: Turn, rest: str) -> tuple[Row[Reading], Step, str] | None:
    measured = {step.step for step in turn.state.procedure.steps if step.measure is not None}
    rows = [
        row
        for row in turn.state.facts.of(Reading)
        if row.entry.counts_as not in ("computed", "zero check", "mean")
        and row.entry.step in measured
        and not is_sealed(turn.state, turn.state.step(row.entry.step))
    ]
    step = current_step(turn.state)
    if step is not None and step.measure is not None:
        place, words = leading_place(rest, step.measure.places)
        here = at_place(turn.state.facts, step.step, place) if place is not None else ()
        if here:
            return here[-1], step, words
        own = taken(turn.state.facts, step.step)
        if own:
            return own[-1], step, rest
    if not rows:
        return None
    return rows[-1], turn.state.step(rows[-1].entry.step), rest


def _correct(turn: Turn, row: Row[Reading], step: Step, heard: SpokenReading, words: str, *, confirmed: bool) -> None:
    turn.write(Corrected(entry=row.n, step=step.step, place=row.entry.place, was=row.entry.said, now=words))
    turn.talk(again=None, question=None)  # what is owed is asked again, and a later yes is no answer to what was asked
    place, paper = row.entry.place, row.entry.paper
    store_reading(turn, step, place, heard, words, "correction", confirmed=confirmed, replaces=row.n, paper=paper)
    _reopen_if_owed(turn, step)


def _reopen_if_owed(turn: Turn, step: Step) -> None:
    """A corrected reading that is not in limits opens its step again: it owes a decision."""
    shut = closed_steps(turn.state.facts).get(step.step)
    if shut is not None and to_decide(turn.state.facts, step):
        turn.write(NoLongerCounts(entries=(shut.n,), what=title_of(step), reason="a corrected reading"))
        enter(turn, step)


def _again(turn: Turn, rest: str) -> None:
    """Once more at the place that is named, or at the last: a repeat, or with "because" a re-measurement."""
    step = current_step(turn.state)
    if step is None or step.measure is None:
        turn.say("Nothing is measured here. Say go back to, and the step")
        return
    words, because = _reason_after(rest)
    place = named_place(words, step.measure.places) if words else None
    rows = taken(turn.state.facts, step.step)
    if place is None and words:
        turn.say(f"I know no place {words}")
        return
    if place is None and not rows:
        turn.say("Nothing was measured yet")
        return
    measure_again(turn, step, place if place is not None else rows[-1].entry.place, because)
    say_results(turn, update_computed(turn))


def _reason_after(rest: str) -> tuple[str, str | None]:
    """The place, and the reason that "because" opens."""
    words, because, why = f" {rest} ".partition(" because ")
    return words.strip(" ,"), (why.strip() or None) if because else None


def _lost(turn: Turn, _rest: str) -> None:
    """The last entry of the work, and the safe restart of its kind: a count is counted again."""
    step = current_step(turn.state)
    rows = _last_work(turn)
    if rows:
        turn.say(f"Last: {describe(turn.state, rows)}")
    if step is None:
        return
    turn.talk(told=None, place=None)
    window = _spread(turn, step)
    counted = tuple(row.n for row in turn.state.facts.of(Counted) if row.entry.step == step.step)
    if counted or (counts_of(step) and turn.state.talk.done_said == step.step):
        if counted:
            turn.write(NoLongerCounts(entries=counted, what=f"counts, {title_of(step)}", reason="lost my place"))
        turn.say("Count again")
    elif KINDS[step.kind].lost(turn, step):
        return
    elif window is not None:
        turn.say("Clean it off and do it again")
        turn.write(WindowEnded(window=window.name, outcome="given up", taken=window.passed.most))
        do_again(turn, window, "lost my place")
    else:
        turn.say(f"You are at {title_of(step)}")


def _spread(turn: Turn, step: Step) -> Running | None:
    """An open time that runs and that this step ends."""
    for window in running(turn.state.facts, turn.now):
        owner = wait_step(turn.state, window.name)
        if owner is None or owner.wait is None or not window.is_open_time:
            continue
        if step.step in (owner.step, owner.wait.closed_by):
            return window
    return None


CORRECTING = (
    Command(
        name="wrong",
        says=(
            "wrong",
            "disregard",
            "that's wrong",
            "take that back",
            "scratch that",
            "undo",
            "no that's wrong",
            "that was wrong",
            "take it back",
            "cancel that",
            "my mistake",
            "no wrong",
        ),
        act=_wrong,
        moves=True,
    ),
    Command(name="correction", leads=("correction", "correct that to", "i meant"), act=_correction, moves=True),
    Command(
        name="measure again",
        says=("measure again", "measure it again", "read it again"),
        leads=("measure again", "measure it again", "read it again"),
        act=_again,
        moves=True,
        while_asked=False,
    ),
    Command(
        name="lost my place",
        says=(
            "lost my place",
            "i lost my place",
            "lost count",
            "i lost count",
            "i've lost my place",
            "i've lost count",
            "lost track",
            "i lost track",
            "where did i get to",
        ),
        act=_lost,
        moves=True,
    ),
)
