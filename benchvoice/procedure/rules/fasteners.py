"""Fasteners: positions and orders, wrenches and units, stages that follow each other, and what is left loose."""

from collections.abc import Iterator, Sequence
from itertools import chain

from benchvoice.errors import BenchvoiceError
from benchvoice.procedure.faults import listed, nearest
from benchvoice.procedure.grips import bolt_of
from benchvoice.procedure.models import Group, Leave, Step, Tighten
from benchvoice.procedure.rules.book import Book, Finding, asked_of, is_fitted, parts_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.units import kind_of
from benchvoice.tighten.order_rules import order_cautions
from benchvoice.tighten.orders import OrderError, order_of
from benchvoice.tighten.strength import strength_of
from benchvoice.tighten.threads import parse_thread

_TO_TEN = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_TEENS = ("eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen")
_NUMBER_WORDS = frozenset((*_TO_TEN, *_TEENS, "twenty"))
_SIDES = frozenset("LR")


def findings(book: Book) -> Iterator[Finding]:
    """Positions that a group lacks, orders that miss one, positions left for later that nothing closes."""
    for name, group in book.procedure.groups.items():
        yield from _group(("groups", name), group)
    for at, path, step in book.steps:
        for where, part in parts_of(path, step):
            group_or_none = book.procedure.groups.get(part.group)
            if group_or_none is not None:
                yield from _part(book, at, where, part, group_or_none)
        if step.slacken is not None and step.slacken.group in book.procedure.groups:
            group = book.procedure.groups[step.slacken.group]
            yield from _positions((*path, "slacken", "positions"), step.slacken.positions, group.positions)


def _group(path: Path, group: Group) -> Iterator[Finding]:
    yield from _positions((*path, "takes"), tuple(group.takes), group.positions)
    yield from _grip((*path, "grip"), group)
    try:
        order = order_of(group.order, group.positions)
    except OrderError as fault:
        yield from _from_order((*path, "order"), fault)
        return
    yield from _cautions(path, group, order)
    if order != group.positions and all(name.isdigit() or name in _NUMBER_WORDS for name in group.positions):
        what = "positions are numbers, and not the order numbers that are painted on and spoken"
        yield Finding((*path, "positions"), what, "list them in the order of tightening, or use letters", True)


def _grip(path: Path, group: Group) -> Iterator[Finding]:
    """What stretches has lengths, and the size and class without which it tells nothing."""
    grip = group.grip
    if grip is None:
        return
    units = {"length": "mm", "shank": "mm", "across": "mm", "joint": "N_per_mm"}
    faults = [
        Finding((*path, name), f"{size} is no {kind_of(unit)}", f"give it in {unit}")
        for name, unit in units.items()
        if (size := getattr(grip, name)) is not None and kind_of(size.unit) != kind_of(unit)
    ]
    yield from faults
    if faults:
        return
    try:
        thread = parse_thread(group.size or "")
        strength_of(group.property_class or "", thread)
    except BenchvoiceError:
        what = "what stretches tells nothing without a size and a class that are known"
        yield Finding(path, what, "add them, such as size: M10 x 1.5 and class: 10.9")
        return
    try:
        bolt_of(grip, thread)
    except BenchvoiceError as fault:
        what, _, remedy = str(fault).partition("; ")
        yield Finding(path, what, remedy)


def _cautions(path: Path, group: Group, order: Sequence[str]) -> Iterator[Finding]:
    """Advice about an order that no pattern gave, or about none where the positions are two rows, left and right."""
    listed_out = not isinstance(group.order, str)
    sides = all(name[-1:] in _SIDES or name[:1] in _SIDES for name in group.positions)
    if listed_out or (order == group.positions and sides):
        for caution in order_cautions(order, group.positions):
            what, _, remedy = caution.partition("; ")
            yield Finding((*path, "order"), what, remedy, True)


def _from_order(path: Path, fault: OrderError) -> Iterator[Finding]:
    what, _, remedy = str(fault).partition("; ")
    yield Finding(path, what, remedy or "name a pattern, or list every position once")


def _positions(path: Path, names: Sequence[str], known: Sequence[str]) -> Iterator[Finding]:
    for name in names:
        if name not in known:
            yield Finding(path, f"the group has no position {name}", nearest(name, known))


def _part(book: Book, at: int, path: Path, part: Tighten, group: Group) -> Iterator[Finding]:
    yield from _positions((*path, "positions"), part.positions, group.positions)
    wanted = part.positions or group.positions
    if set(part.positions) <= set(group.positions):
        try:
            order_of(part.order if part.order is not None else "in turn", wanted)
        except OrderError as fault:
            yield from _from_order((*path, "order" if part.order is not None else "positions"), fault)
    if part.leave_for_later is not None:
        where = (*path, "leave_for_later", "positions")
        yield from _positions(where, part.leave_for_later.positions, wanted)
        yield from _closed(book, where, part.group, part.leave_for_later)
    if group.new_each_time and part.purpose == "final" and part.fasteners == "old":
        yield Finding((*path, "fasteners"), f"{group.what} are new each time", "write fasteners: new")
    if group.new_each_time and part.purpose == "trial" and part.fasteners == "new":
        what = f"a trial uses up new {group.what}"
        yield Finding((*path, "fasteners"), what, "use old ones for the trial, fasteners: old", True)


def _closed(book: Book, path: Path, group: str, leave: Leave) -> Iterator[Finding]:
    """Positions left for later are tightened by the step that is said to close them."""
    closing = book.step(leave.closed_by)
    if closing is None or leave.closed_by in book.unsure or group in book.unsure:
        return
    tightened = {
        name
        for _, part in parts_of((), closing)
        if part.group == group
        for name in (part.positions or book.procedure.groups[group].positions)
    }
    left = [name for name in leave.positions if name not in tightened]
    if left:
        what = f"{listed(left)} left for later, and {closing.step} does not tighten them"
        yield Finding(path, what, "tighten them there, with also, or name the step that closes them")


def whole(book: Book) -> Iterator[Finding]:
    """Fasteners that no machine's build ever tightens finally, and that only stay trial-tight."""
    later = {name for step in book.procedure.steps for owed in step.owed for name in owed.steps}
    for name, group in book.procedure.groups.items():
        steps = [step for _, step in _tightening(book, name) if step.step not in later]
        if steps:
            yield from _never_final(book, name, group, steps)


def _tightening(book: Book, group: str) -> Iterator[tuple[Path, Step]]:
    for _, path, step in book.steps:
        if any(part.group == group for _, part in parts_of(path, step)):
            yield path, step


def _never_final(book: Book, name: str, group: Group, steps: Sequence[Step]) -> Iterator[Finding]:
    for answers in book.machines(asked_of(steps)):
        parts = [
            part for step in steps if is_fitted(step, answers) for _, part in parts_of((), step) if part.group == name
        ]
        if not parts:
            continue
        final = set(chain.from_iterable(_tight(part, group) for part in parts if part.purpose == "final"))
        loose = [position for position in group.positions if position not in final]
        when = _when(answers)
        if len(loose) == len(group.positions):
            what = f"{group.what} are never finally tightened, only for a trial{when}"
            yield Finding(("groups", name), what, "add a tighten step with purpose: final")
            return
        if loose:
            what = f"{group.what} {listed(loose)} are never finally tightened{when}"
            yield Finding(("groups", name, "positions"), what, "tighten them in some step")
            return


def _tight(part: Tighten, group: Group) -> Iterator[str]:
    left = part.leave_for_later.positions if part.leave_for_later is not None else ()
    return (name for name in part.positions or group.positions if name not in left)


def _when(answers: dict[str, str]) -> str:
    """For which machine something holds: ` when crank_ground is standard`."""
    said = listed([f"{name} is {answer}" for name, answer in answers.items()])
    return f" when {said}" if said else ""
