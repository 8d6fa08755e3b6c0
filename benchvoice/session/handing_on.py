"""What a build hands on to one that brings it in: marks, answers, computed values, what is open and what is owed."""

from decimal import Decimal

from benchvoice.quantity.units import to_decimal
from benchvoice.session import summary
from benchvoice.session.entries import BroughtMark, Mark, Opened, Place, Reading
from benchvoice.session.facts import Instant
from benchvoice.session.follow_ups import cures_left
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.plan import answers
from benchvoice.session.state import State
from benchvoice.speech.dates import say_date


def handed_on(state: State, now: Instant, *, name: str, folder: str, head: str, entry: int | None) -> OtherBuild:
    """A build whose log was read whole; `head` is the hash of its last line, `entry` the line that brought it in."""
    facts = state.facts
    rows = facts.rows()
    return OtherBuild(
        name=name,
        folder=folder,
        entry=entry,
        head=head,
        lines=facts.count,
        title=state.procedure.title,
        machine=facts.all(Opened)[0].entry.machine,
        closed=state.closed,
        last=say_date(rows[-1].now.at.date()),
        open_items=() if state.closed else summary.against_closing(state, now),
        owed=(*summary.owed(state), *(f"{each.row.entry.what}, not full" for each in cures_left(state, now))),
        marks=_marks(state),
        choices=_choices(state),
        computed=_computed(state),
    )


def _marks(state: State) -> tuple[BroughtMark, ...]:
    """The newest mark of each step and place that was not another than expected."""
    found: dict[tuple[str, Place], BroughtMark] = {}
    for row in state.facts.of(Mark):
        if row.entry.matches is not False:
            entry = row.entry
            found[entry.step, entry.place] = BroughtMark(
                step=entry.step, read=entry.read, value=entry.value, place=entry.place
            )
    return tuple(found.values())


def _choices(state: State) -> tuple[tuple[str, str], ...]:
    procedure = state.procedure
    chosen = {step.choose.name for step in procedure.steps if step.choose is not None}
    names = {*procedure.particulars, *procedure.options, *chosen}
    return tuple((name, answer) for name, answer in answers(state.facts).items() if name in names)


def _computed(state: State) -> tuple[tuple[str, str], ...]:
    found = {}
    for row in state.facts.of(Reading):
        entry = row.entry
        if entry.counts_as == "computed" and entry.value is not None:
            where = ", ".join((f"{entry.step}.{entry.what}", *entry.place))
            found[where] = f"{_short(entry.value)} {entry.unit}"
    return tuple(found.items())


_DECIMALS = 6
"""A computed value is handed on to so many decimals at most; the other build's log has more."""


def _short(value: Decimal) -> Decimal:
    exponent = value.as_tuple().exponent
    return to_decimal(value, _DECIMALS) if isinstance(exponent, int) and -exponent > _DECIMALS else value
