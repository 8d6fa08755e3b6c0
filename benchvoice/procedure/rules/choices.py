"""What is chosen from what lies at hand: packs and shim moved between them; ways back by answer."""

from collections.abc import Iterator

from benchvoice.procedure.faults import nearest
from benchvoice.procedure.limits import OTHER
from benchvoice.procedure.models import Measure, Shift, Step
from benchvoice.procedure.places import places_of
from benchvoice.procedure.rules.book import Book, Finding, graded_of, parts_of
from benchvoice.procedure.source import Path
from benchvoice.quantity.matching import MOST_PARTS


def findings(book: Book) -> Iterator[Finding]:
    """Packs without a stock, moves between packs that nothing chooses, ways back for answers that there are not."""
    for at, path, step in book.steps:
        yield from _ways_by_answer(path, step)
        yield from _each_read(book, at, path, step)
        if step.measure is not None:
            yield from _match(book, at, (*path, "measure", "match"), step.measure)
            yield from _packs((*path, "measure"), step.measure)
            if step.measure.out is not None and step.measure.out.shift is not None:
                yield from _shift(book, at, (*path, "measure", "out", "shift"), step.measure.out.shift)


def _ways_by_answer(path: Path, step: Step) -> Iterator[Finding]:
    for where, graded in graded_of(path, step):
        if not isinstance(graded.back_to, dict):
            continue
        failing = (*graded.fails, *graded.further)
        for answer in graded.back_to:
            if answer not in (*failing, OTHER):
                what = f"{answer} is no answer that fails"
                yield Finding((*where, "back_to", answer), what, nearest(answer, failing))


def _each_read(book: Book, at: int, path: Path, step: Step) -> Iterator[Finding]:
    """What is read after each fastener is a measure step to come, with a place for each fastener."""
    for where, part in parts_of(path, step):
        if part.each_read is None:
            continue
        other = book.step(part.each_read)
        if other is None or other.measure is None:
            known = [each.step for each in book.procedure.steps if each.measure is not None]
            yield from book.unknown((*where, "each_read"), "measure step", part.each_read, known)
            continue
        if book.at(part.each_read) <= at:
            what = f"{part.each_read} does not come after this step"
            yield Finding((*where, "each_read"), what, "move it after, or name another")
        group = book.procedure.groups.get(part.group)
        positions = part.positions or (group.positions if group is not None else ())
        if group is not None and {(name,) for name in positions} != set(places_of(other.measure)):
            what = f"{part.each_read} has no place for each of these fasteners"
            yield Finding((*where, "each_read"), what, "read at one axis with a value for each position")


def _match(book: Book, at: int, path: Path, measure: Measure) -> Iterator[Finding]:
    """Parts that are matched have one reading each, were read before, and are as many of one kind as of the other."""
    if measure.match is None:
        return
    counts = []
    for field, name in (("of", measure.match.of), ("partners", measure.match.partners)):
        if name is None:
            continue
        other = book.step(name)
        if other is None or other.measure is None:
            known = [each.step for each in book.procedure.steps if each.measure is not None]
            yield from book.unknown((*path, field), "measure step", name, known)
            return
        if book.at(name) > at:
            yield Finding((*path, field), f"{name} comes only after this step", "match there, or later")
        counts.append(len(places_of(other.measure)))
    if len(set(counts)) > 1:
        what = f"there are {counts[0]} of one and {counts[1]} of the other"
        yield Finding(path, what, "match as many of each")
    if measure.match.how in ("pairs", "banks") and counts[0] % 2:
        yield Finding(path, f"{counts[0]} parts make no {measure.match.how}", "match an even number")
    if max(counts) > MOST_PARTS:
        yield Finding(path, f"{max(counts)} parts are too many to match", f"match at most {MOST_PARTS}")


def _packs(path: Path, measure: Measure) -> Iterator[Finding]:
    for name, computed in measure.computed.items():
        if computed.stock is None and (computed.packs or computed.first is not None):
            yield Finding((*path, "computed", name), "a pack comes from no stock", "add stock, the tray it comes from")
        if computed.first is not None and len(computed.packs) != 2:
            what = "first is how thick the first of two packs is to be"
            yield Finding((*path, "computed", name, "first"), what, "name two packs, or take first out")
    out = measure.out.pack if measure.out is not None else None
    if out is None:
        return
    chosen = measure.computed.get(out)
    with_stock = [name for name, computed in measure.computed.items() if computed.stock is not None]
    if chosen is None or chosen.stock is None:
        yield Finding((*path, "out", "pack"), f"{out} is no computed value with a stock", nearest(out, with_stock))
    elif chosen.per:
        what = f"{out} has a value for each {' and '.join(chosen.per)}"
        yield Finding((*path, "out", "pack"), what, "let one value choose, such as a mean")


def _shift(book: Book, at: int, path: Path, shift: Shift) -> Iterator[Finding]:
    known = {
        computed.packs
        for step in book.procedure.steps[:at]
        if step.measure is not None
        for computed in step.measure.computed.values()
        if computed.stock is not None
    }
    if shift.packs not in known:
        what = f"no step before this chooses {' and '.join(shift.packs)} together"
        yield Finding((*path, "packs"), what, "name the two packs of a computed value as it has them")
    if shift.change == 0:
        yield Finding((*path, "change"), "a move that changes nothing helps nothing", "give what the value falls by")
    if shift.aim[0] > shift.aim[1]:
        yield Finding((*path, "aim"), f"{shift.aim[0]} is more than {shift.aim[1]}", "swap them")
