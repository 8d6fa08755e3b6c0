"""Step by step: its readings and computed values, and whatever else was recorded there."""

from collections.abc import Iterable

from benchvoice.procedure.inputs import cautions_of
from benchvoice.procedure.models import Measure, Step
from benchvoice.session.entries import (
    Answered,
    BroughtIn,
    Checked,
    ClosedLater,
    Container,
    Counted,
    Entry,
    Finding,
    Label,
    LastRan,
    LeftForLater,
    LeftOver,
    Mark,
    Matched,
    NotBroughtIn,
    Override,
    PackTaken,
    Reading,
    Remembered,
    Restarted,
    SaidLater,
    SetRead,
    Slackened,
    StepClosed,
    StepEntered,
    StillSo,
    Temperature,
    ThreadFound,
    Tightened,
    Variation,
    WarmthSaid,
    WentBack,
    Witnessed,
    Zeroed,
)
from benchvoice.session.facts import Row
from benchvoice.session.plan import fitted_steps
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Item, StepPart
from benchvoice.sheet.readings import computed_values, read_places, zero_checks
from benchvoice.sheet.words import sentence

_LISTED = (
    Answered, Mark, Checked, Remembered, Counted, Witnessed, Zeroed, SetRead, Slackened, Restarted, LeftForLater,
    ClosedLater, Finding, Variation, SaidLater, Override, WentBack, PackTaken, Matched,
    Label, Container, BroughtIn, NotBroughtIn, ThreadFound, WarmthSaid, LastRan, Temperature, StillSo,
    LeftOver,
)  # fmt: skip
"""Kinds of entries that a step lists one by one, besides readings and verdicts, which have their tables."""


def step_parts(book: Book) -> tuple[StepPart, ...]:
    """Every step of this machine in order, then those of the log that it doesn't have (any more)."""
    fitted = fitted_steps(book.state)
    parts = [_part(book, step.step, step, at) for at, step in enumerate(fitted, 1)]
    names = {step.step for step in fitted}
    known = {step.step: step for step in book.state.procedure.steps}
    recorded = (_step_of(row.entry) for row in _rows(book, (*_LISTED, StepEntered, Reading, Tightened)))
    others = dict.fromkeys(name for name in recorded if name is not None and name not in names)
    return (*parts, *(_part(book, name, known.get(name), None) for name in others))


def _part(book: Book, name: str, step: Step | None, number: int | None) -> StepPart:
    readings = read_places(book, name, step)
    rows = [row for row in _rows(book, _LISTED) if _step_of(row.entry) == name]
    items = [book.item(row) for row in (*rows, *zero_checks(book, name))]
    return StepPart(
        number=number,
        name=name,
        title=sentence(book.title(name)),
        status=_status(book, name),
        asks=_asks(step),
        readings=readings,
        computed=computed_values(book, name, step),
        items=tuple(sorted((*items, *_tightened(book, name)), key=lambda item: item.n)),
    )


def _rows(book: Book, models: Iterable[type[Entry]]) -> list[Row[Entry]]:
    return [row for model in models for row in book.facts.kinds.get(str(model.model_fields["kind"].default), ())]


def _step_of(entry: Entry) -> str | None:
    return entry.step_from if isinstance(entry, WentBack) else getattr(entry, "step", None)


def _tightened(book: Book, name: str) -> list[Item]:
    """One line for each stage; the maps show it fastener by fastener."""
    stages: dict[tuple[str, int, str, str, str], list[Row[Tightened]]] = {}
    for row in book.facts.all(Tightened):
        if row.entry.step == name:
            key = (row.entry.group, row.entry.stage, row.entry.purpose, row.entry.outcome, book.void(row.n))
            stages.setdefault(key, []).append(row)
    return [
        book.item(rows[0], f"Stage {stage} ({purpose}), {outcome}: {', '.join(row.entry.position for row in rows)}")
        for (_, stage, purpose, outcome, _), rows in stages.items()
    ]


def _status(book: Book, name: str) -> str:
    closed = [row for row in book.facts.of(StepClosed) if row.entry.step == name]
    if closed:
        entry = closed[-1].entry
        return f"{entry.how}{f': {entry.reason}' if entry.reason else ''}"
    entered = any(row.entry.step == name for row in book.facts.all(StepEntered))
    return "begun, not closed" if entered else "not begun"


def _asks(step: Step | None) -> tuple[str, ...]:
    """What the procedure says at the step: its words, warning and caution."""
    if step is None:
        return ("This step is not in the procedure as it was amended.",)
    check = step.check.ask if step.check is not None else None
    mark = f"Read {step.mark.read}." if step.mark is not None else None
    look = step.look.say if step.look is not None else None
    warning = f"Warning: {step.warning}" if step.warning else None
    caution = f"Caution: {step.caution}" if step.caution else None
    known = _known(step.measure) if step.measure is not None else ()
    words = (warning, caution, step.say, step.tell, step.which_way_up, check, mark, look, *known)
    return tuple(text for text in words if text)


def _known(measure: Measure) -> tuple[str, ...]:
    """What the readings rest on: fits by name, and what computed values can't show."""
    named = [*measure.tables, *(each.limits for each in measure.computed.values())]
    fits = dict.fromkeys(each.fit for each in named if each is not None and each.fit is not None)
    return (*(f"Limits of {fit} by ISO 286." for fit in fits), *map(sentence, cautions_of(measure)))
