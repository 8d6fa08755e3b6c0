"""Instruments and wrenches that were used, as the page lists them: how well they read, and whether they were due."""

from benchvoice.errors import BenchvoiceError
from benchvoice.quantity.instruments import Instrument, due_date, objections
from benchvoice.session.entries import Reading, SetRead
from benchvoice.session.facts import Instant
from benchvoice.session.instruments import own, register, uses
from benchvoice.sheet.items import Book
from benchvoice.sheet.model import Tool
from benchvoice.sheet.words import limits, plain, quantity


def tools_used(book: Book) -> tuple[Tool, ...]:
    """Each with the date its calibration is due, against the last day of use; instruments first."""
    read: dict[str, Instant] = {}
    turned: dict[str, Instant] = {}
    for row in book.facts.all(Reading):
        if row.entry.instrument:
            read[row.entry.instrument] = row.now
    for each in book.facts.all(SetRead):
        if each.entry.wrench:
            turned[each.entry.wrench] = each.now
    return tuple(_tool(book, name, last, name in turned) for name, last in (read | turned).items())


def _tool(book: Book, name: str, last: Instant, is_wrench: bool) -> Tool:
    shop = register(book.facts).get(name)
    try:
        known = shop.instrument() if shop is not None else own(book.state, name)
    except BenchvoiceError:  # figures that no register holds, in a log that another program wrote
        known = None
    called = f"{plain(name)} wrench" if is_wrench and shop is None else plain(name)
    if known is None:
        return Tool(called, "torque wrench" if is_wrench else "", "", "", False)
    before = shop.used if shop is not None else 0
    overdue = bool(objections(known, on=last.at.date(), uses=before + max(0, uses(book.facts, name) - 1)))
    return Tool(called, known.kind, _detail(known), _due(known), overdue)


def _detail(known: Instrument) -> str:
    parts = []
    if known.low is not None or known.high is not None:
        parts.append(limits(known.low, known.high, known.unit))
    if known.class_percent is not None:
        parts.append(f"±{known.class_percent} %")
    if known.uncertainty is not None:
        parts.append(f"U = {quantity(known.uncertainty, known.unit)} (k = {known.k})")
    elif known.class_percent is None and known.resolution is not None:
        parts.append(f"resolution {quantity(known.resolution, known.unit)}")
    return ", ".join(parts)


def _due(known: Instrument) -> str:
    by = due_date(known)
    after = f"after {known.due.uses} uses" if known.due.uses is not None else ""
    return " or ".join(filter(None, (by.isoformat() if by is not None else "", after)))
