"""Kinds of log entries for what was chosen from what lies at hand: packs from a tray, parts that go together."""

from decimal import Decimal
from typing import Literal

from benchvoice.session.entries_base import Entry, Place, Refs


class PackTaken(Entry):
    """Pieces taken out of a stock to make a pack. Made void, they are back in the tray."""

    kind: Literal["pack_taken"] = "pack_taken"
    step: str
    pack: str
    """What it is called: "left pack"."""
    place: Place = ()
    stock: str
    pieces: tuple[Decimal, ...]
    """Thickest first, in `unit`."""
    total: Decimal
    unit: str
    low: Decimal
    high: Decimal
    """What the total may be; of two packs that share a sum, what the sum may be."""
    reading: int | None = None
    """Line of the computed value that it was chosen for; None where the person asked for a figure."""
    reason: str = ""


class StockChanged(Entry):
    """Pieces that came into a stock, or are lost to it: not taken for a pack."""

    kind: Literal["stock_changed"] = "stock_changed"
    stock: str
    size: Decimal
    unit: str
    number: int
    """How many more; below nought: fewer."""
    said: str


class Matched(Entry):
    """Which parts go together: piston one with rod three."""

    kind: Literal["matched"] = "matched"
    step: str
    what: str
    how: Literal["pairs", "banks", "totals", "clearances"]
    sets: tuple[tuple[str, ...], ...]
    """The places of the parts that go together, or of each bank."""
    figure: Decimal
    """The largest difference within a pair, the difference of the banks, or the spread of totals or clearances."""
    unit: str
    from_entries: Refs
