"""Readings drawn against their limits: a bar for what is asked, a mark or an interval for each reading.

In limits is a filled disc, over and under a triangle that points outwards, too close to call an open square, not
judged an open disc; a reading that doesn't count any more is a grey cross. So they differ without colour.
"""

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal

from markupsafe import Markup

from benchvoice.sheet.model import Band, Mark
from benchvoice.sheet.svg import circle, drawing, line, polygon, rect, text
from benchvoice.sheet.words import number

WIDTH, EDGE = 230.0, 14.0
ROW, TOP, FOOT = 13.0, 6.0, 13.0
Across = Callable[[Decimal], float]


def limits_picture(band: Band | None, marks: Sequence[Mark]) -> Markup:
    """The picture of one place; empty where there are no limits or nothing was read."""
    drawn = [mark for mark in marks if mark.low is not None or mark.high is not None]
    if band is None or not drawn:
        return Markup("")
    across = scale(band, drawn)
    bottom = TOP + ROW * len(drawn)
    parts = [*_band(band, across, bottom)]
    for at, mark in enumerate(drawn):
        parts.extend(_mark(mark, across, TOP + ROW * (at + 0.5)))
    return drawing(WIDTH, bottom + FOOT, _title(band, len(drawn)), parts, "limits")


def scale(band: Band, marks: Iterable[Mark]) -> Across:
    """Where a value stands across the picture: limits, wear limits and every reading fit in, with room at the sides.

    An open side of the limits is given half as much again as the picture would need.
    """
    ends = [band.low, band.high, *(band.worn or ()), *(end for mark in marks for end in (mark.low, mark.high))]
    known = [end for end in ends if end is not None]
    least, most = min(known), max(known)
    room = (most - least) / 5 or abs(most) / 5 or Decimal(1)
    low = least - room * (3 if band.low is None else 1)
    high = most + room * (3 if band.high is None else 1)
    if band.low is None and low < 0 <= least:
        low = Decimal(0)  # a spread or a clearance is not below nothing
    if low == high:
        high = low + 1

    def across(value: Decimal) -> float:
        return EDGE + (WIDTH - 2 * EDGE) * float((value - low) / (high - low))

    return across


def _title(band: Band, count: int) -> str:
    ends = " to ".join("open" if end is None else number(end) for end in (band.low, band.high))
    return f"{count} reading{'s' if count != 1 else ''} drawn against {ends} {band.unit}"


def _band(band: Band, across: Across, bottom: float) -> Iterable[Markup]:
    left = EDGE / 2 if band.low is None else across(band.low)
    right = WIDTH - EDGE / 2 if band.high is None else across(band.high)
    if band.worn is not None:
        low, high = band.worn
        start = left if low is None else across(low)
        end = right if high is None else across(high)
        yield rect(min(start, end), TOP + 1, abs(end - start), bottom - TOP - 2, "worn")
    yield rect(left, TOP - 2, right - left, bottom - TOP + 4, "band")
    yield line(EDGE / 2, bottom + 2, WIDTH - EDGE / 2, bottom + 2, "axis")
    near = band.low is not None and band.high is not None and right - left < 44
    for value, x, css in (
        (band.low, left, "end" if near else "middle"),
        (band.high, right, "start" if near else "middle"),
    ):
        if value is not None:
            yield line(x, TOP - 4, x, bottom + 4, "limit")
            yield text(x, bottom + FOOT - 1, number(value), f"figure {css}")


def _mark(mark: Mark, across: Across, y: float) -> Iterable[Markup]:
    low = EDGE / 2 if mark.low is None else across(mark.low)
    high = WIDTH - EDGE / 2 if mark.high is None else across(mark.high)
    x = (low + high) / 2
    grey = "" if mark.counts else " void"
    if mark.low != mark.high:
        yield line(low, y, high, y, f"span{grey}")
        for end, known in ((low, mark.low), (high, mark.high)):
            yield from _end(end, y, known is not None, end == low, grey)
    if not mark.counts:
        yield line(x - 4, y - 4, x + 4, y + 4, "cross")
        yield line(x - 4, y + 4, x + 4, y - 4, "cross")
    elif mark.outcome == "in limits":
        yield circle(x, y, 4.2, "in")
    elif mark.outcome == "over":
        yield polygon(((low - 5, y - 5), (low + 5, y), (low - 5, y + 5)), "out")
    elif mark.outcome == "under":
        yield polygon(((high + 5, y - 5), (high - 5, y), (high + 5, y + 5)), "out")
    elif mark.outcome == "too close to call":
        yield rect(x - 4, y - 4, 8.0, 8.0, "close")
    else:
        yield circle(x, y, 4.2, "bare")


def _end(x: float, y: float, known: bool, left: bool, grey: str) -> Iterable[Markup]:
    """An interval's end: a cap where it is known, an arrow where it is open."""
    if known:
        yield line(x, y - 4, x, y + 4, f"span{grey}")
    else:
        back = 5 if left else -5
        yield line(x, y, x + back, y - 4, f"span{grey}")
        yield line(x, y, x + back, y + 4, f"span{grey}")
