"""Stages that close on a reading: stretch (from the free and the tight length, or read as it is) and drag.

A fastener is done when its reading is in limits. Under: nip it up, or draw up one step more, and read again. Over: it
is spent, and a new one goes through every stage; a drag that was passed is never slackened back.
"""

from decimal import Decimal

from benchvoice.quantity.computed import COMPUTED
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.verdict import Outcome, judge
from benchvoice.session.entries import NoLongerCounts, Reading, Remeasured, Restarted, Tightened, Verdict, WentBack
from benchvoice.session.facts import Row
from benchvoice.session.fasteners import Task, order_numbers, still_open, tightened
from benchvoice.session.hearing import leading_place
from benchvoice.session.instruments import tool
from benchvoice.session.moves import go_back
from benchvoice.session.plan import resting_on
from benchvoice.session.questions import yes_or_no
from benchvoice.session.readings import standing
from benchvoice.session.scrap import scrap_position
from benchvoice.session.state import State
from benchvoice.session.turn import Turn
from benchvoice.speech.readings import Action, Context, SpokenReading, parse_reading
from benchvoice.speech.say import say_count, say_number, say_quantity, say_read_back


def is_measured(task: Task) -> bool:
    """Whether a fastener of the stage is done only when its reading is in limits."""
    return task.stage.stretch is not None or task.stage.drag is not None


def stage_key(task: Task) -> str:
    """How the talk calls the stage that it has told."""
    return f"stage {task.step.step} {task.part.group} {task.number}"


def what_is_read(task: Task) -> str:
    """What the person reads off: a length, a stretch or a drag."""
    if task.stage.drag is not None:
        return "drag"
    return "tight length" if task.stage.free is not None else "stretch"


def ask_next(state: State, task: Task) -> str:
    """The next fastener and what to read there; for a drag also the torque to draw up to."""
    position = still_open(state.facts, task)[0]
    number = order_numbers(state.procedure, task.part.group)[position]
    which = f"Number {say_count(number)}, " if len(task.positions) > 1 else ""
    torque = _torque_now(state, task, position)
    if task.stage.drag is not None and _as_it_is(state, task, position):
        return f"{which}drag as it is?"
    if torque is None:
        return f"{which}{what_is_read(task)}?"
    return f"{which}draw up to {say_quantity(torque.value, torque.unit)}. {what_is_read(task).capitalize()}?"


def take_measured(turn: Turn, task: Task, text: str) -> bool:
    """Take the reading of a fastener; False where the text is none."""
    position, words = _position(turn.state, task, text)
    heard = parse_reading(words, _context(turn.state, task, position))
    if heard.action is Action.NOT_A_VALUE:
        return False
    if heard.action in (Action.ASK, Action.BOUND) or heard.value is None:
        turn.unclear(heard.reason or "not one number")
        turn.say(f"{heard.reason or 'I am not sure'}. Say it again", tone="not heard")
        return True
    turn.understood("reading")
    if heard.action is Action.TAKE and not (turn.utterance and turn.utterance.doubtful):
        _store(turn, task, position, heard, words, confirmed=False)
        return True

    def yes(inner: Turn) -> None:
        _store(inner, task, position, heard, words, confirmed=True)

    def no(inner: Turn) -> None:
        inner.say("Say it again")

    prompt = f"{say_read_back(heard.value, heard.unit or _unit(turn.state, task))}. Yes or no?"
    turn.ask(yes_or_no("confirm reading", prompt, yes, no))
    return True


def _position(state: State, task: Task, text: str) -> tuple[str, str]:
    numbers = order_numbers(state.procedure, task.part.group)
    by_number = {str(number): name for name, number in numbers.items()}
    place, words = leading_place(text, {"number": tuple(by_number)})
    if place is not None and by_number[place[0]] in task.positions:
        return by_number[place[0]], words
    return still_open(state.facts, task)[0], text


def _free(state: State, task: Task, position: str) -> Row[Reading] | None:
    return standing(state.facts, state.step(task.stage.free), (position,)) if task.stage.free is not None else None


def _unit(state: State, task: Task) -> str:
    free = state.step(task.stage.free).measure if task.stage.free is not None else None
    return free.unit if free is not None else task.stage.unit or "1"


def _context(state: State, task: Task, position: str) -> Context:
    resolution, work = None, state.procedure.work
    free = state.step(task.stage.free).measure if task.stage.free is not None else None
    if free is not None:
        used = tool(state, free.instrument)
        if used is not None and used.instrument.resolution is not None:
            resolution = to_decimal(convert(used.instrument.resolution, used.instrument.unit, free.unit))
        return Context(unit=free.unit, work=work, what=what_is_read(task), resolution=free.resolution or resolution)
    low, high = task.stage.stretch or task.stage.drag or (None, None)
    return Context(unit=task.stage.unit, work=work, what=what_is_read(task), low=low, high=high)


def _store(turn: Turn, task: Task, position: str, heard: SpokenReading, words: str, *, confirmed: bool) -> None:
    unit = heard.unit or _unit(turn.state, task)
    if kind_of(unit) != kind_of(_unit(turn.state, task)):
        turn.say(f"That is no {what_is_read(task)}")
        return
    free = _free(turn.state, task, position)
    if task.stage.free is not None and (free is None or free.entry.value is None):
        turn.say("Its free length was not read: the stretch can't be known")
        return
    _no_longer(turn, task, position)
    n = turn.write(
        Reading(
            step=task.step.step,
            what=what_is_read(task),
            place=(position,),
            value=heard.value,
            unit=unit,
            said=words,
            low=heard.low,
            high=heard.high,
            resolution=heard.resolution,
            instrument=_instrument(turn.state, task),
            confidence=turn.utterance.confidence if turn.utterance else None,
            clip=turn.clip,
            confirmed=confirmed,
        )
    )
    assert heard.value is not None
    size = Quantity(value=heard.value, unit=unit)
    if free is not None and free.entry.value is not None:
        n, size = _stretch(
            turn, task, position, size, (free.n, n), Quantity(value=free.entry.value, unit=free.entry.unit)
        )
    _judge(turn, task, position, n, size)


def _instrument(state: State, task: Task) -> str | None:
    """Id of what a bolt's length is read with: as its free length was."""
    free = state.step(task.stage.free).measure if task.stage.free is not None else None
    used = tool(state, free.instrument) if free is not None else None
    return used.instrument.id if used is not None else None


def _no_longer(turn: Turn, task: Task, position: str) -> None:
    """What was read of this fastener before, in this stage: it was tightened further since."""
    rows = {
        row.n
        for row in turn.state.facts.of(Reading)
        if row.entry.step == task.step.step and row.entry.place == (position,)
    }
    if rows:
        judged = {row.n for row in turn.state.facts.of(Verdict) if row.entry.reading in rows}
        turn.write(
            Remeasured(
                step=task.step.step,
                place=(position,),
                entries=tuple(sorted(rows | judged)),
                reason="tightened further",
            )
        )


def _stretch(
    turn: Turn, task: Task, position: str, tight: Quantity, rows: tuple[int, ...], free: Quantity
) -> tuple[int, Quantity]:
    """Tight length minus free length, in the stage's unit, kept as a computed value."""
    unit = task.stage.unit or tight.unit
    longer = COMPUTED["stretch"](tight=(tight,), free=(free,))
    value = to_decimal(convert(longer.value, longer.unit, unit))
    n = turn.write(
        Reading(
            step=task.step.step,
            what="stretch",
            place=(position,),
            value=value,
            unit=unit,
            said="",
            low=value,
            high=value,
            counts_as="computed",
            from_entries=rows,
        )
    )
    return n, Quantity(value=value, unit=unit)


def _judge(turn: Turn, task: Task, position: str, n: int, size: Quantity) -> None:
    low, high = task.stage.stretch or task.stage.drag or (None, None)
    unit = task.stage.unit or size.unit
    limits = Limits(low=low, high=high, unit=unit)
    found = judge(low=size.value, high=size.value, unit=size.unit, limits=limits)
    turn.write(
        Verdict(
            step=task.step.step,
            place=(position,),
            reading=n,
            outcome=found.outcome.value,
            out_by=found.by,
            low=low,
            high=high,
            unit=unit,
            reason=found.reason,
        )
    )
    turn.talk(told=f"next {stage_key(task)}")
    fractions = size.unit in ("thou", "tenth")
    spoken = f"{_label(task)}{say_number(size.value, fractions)}"
    if found.outcome is Outcome.IN:
        turn.write(tightened(task, position))
        turn.say(f"{spoken}, in limits")
        return
    by = f" by {say_number(found.by, fractions)}" if found.by is not None else ""
    turn.say(f"{spoken}, {found.outcome.value}{by}")
    if found.outcome is Outcome.UNDER and not _at_most(turn.state, task, position):
        turn.say("" if task.stage.drag is not None else "Nip it up and read it again")
        return
    _spent(turn, task, position, n)


def _label(task: Task) -> str:
    return "stretch " if task.stage.free is not None else ""


def _spent(turn: Turn, task: Task, position: str, n: int) -> None:
    """Over, or as far as it may be drawn up: a new part, and every stage again."""
    judged = tuple(row.n for row in turn.state.facts.of(Verdict) if row.entry.reading == n)
    turn.write(NoLongerCounts(entries=judged, what=f"{task.group.what} {position}", reason="spent"))
    free = _free(turn.state, task, position)
    scrap_position(turn, task, position, f"{what_is_read(task)} not in limits", free)
    if task.stage.drag is None:
        turn.say("It is scrap: a new one, every stage")
        return
    turn.say("New spacer. Never slacken back")
    if task.part.crushes is not None:
        go_back(turn, turn.state.step(task.part.crushes), task.step, "crushed too far")


def _torque_now(state: State, task: Task, position: str) -> Quantity | None:
    """The torque to draw up to for a drag: the start, and a step more after each reading that was under."""
    start, more = task.stage.start, task.stage.step
    if task.stage.drag is None or start is None:
        return None
    tries = _tries(state, task, position)
    step = to_decimal(convert(more.value, more.unit, start.unit)) if more is not None else Decimal(0)
    value = start.value + tries * step
    most = task.stage.most
    if most is not None:
        value = min(value, to_decimal(convert(most.value, most.unit, start.unit)))
    return Quantity(value=value, unit=start.unit)


def _tries(state: State, task: Task, position: str) -> int:
    """Readings since this fastener was last new, each at its torque: not those of what a broken-off stage had left."""
    scrapped = [row.n for row in state.facts.of(Tightened) if row.entry.outcome == "scrap" and _is(row, task, position)]
    fits = task.part.crushes
    renewed = [
        row.n
        for row in state.facts.of(WentBack)
        if fits is not None and fits in resting_on(state.procedure, row.entry.step_to)
    ]
    since = max((*scrapped, *renewed), default=0)
    rows = [n for n in _read_at(state, task, position) if n > since]
    lost = [n for n in _taken_up(state, task) if n > since]
    as_it_was = {next((row for row in rows if row > n), 0) for n in lost}
    return sum(1 for n in rows if n not in as_it_was)


def _as_it_is(state: State, task: Task, position: str) -> bool:
    """Whether the drag is to be read before it is drawn up: nobody knows how far it was drawn when it was left."""
    return max(_taken_up(state, task), default=0) > max(_read_at(state, task, position), default=0)


def _read_at(state: State, task: Task, position: str) -> list[int]:
    """Lines of the readings at a fastener of the stage, void ones included: a drag lasts."""
    rows = state.facts.all(Reading)
    return [row.n for row in rows if row.entry.step == task.step.step and row.entry.place == (position,)]


def _taken_up(state: State, task: Task) -> list[int]:
    """Lines at which the stage was taken up again after it was broken off or its place was lost."""
    key = (task.step.step, task.part.group, task.number)
    return [row.n for row in state.facts.of(Restarted) if (row.entry.step, row.entry.group, row.entry.stage) == key]


def _is(row: Row[Tightened], task: Task, position: str) -> bool:
    return row.entry.group == task.part.group and row.entry.position == position


def _at_most(state: State, task: Task, position: str) -> bool:
    """Whether a drag was still under at the greatest torque that is allowed."""
    torque, most = _torque_now(state, task, position), task.stage.most
    if task.stage.drag is None or torque is None or most is None or task.stage.start is None:
        return False
    step = task.stage.step
    more = to_decimal(convert(step.value, step.unit, torque.unit)) if step is not None else Decimal(0)
    tried = task.stage.start.value + (_tries(state, task, position) - 1) * more
    return tried >= to_decimal(convert(most.value, most.unit, torque.unit))
