"""Windows of time as bars: the time asked, when it was warned of, when it ended, and where the clocks can't say."""

from collections.abc import Iterable
from decimal import Decimal

from markupsafe import Markup

from benchvoice.sheet.model import Window
from benchvoice.sheet.svg import drawing, line, polygon, rect, text
from benchvoice.sheet.words import duration

WIDTH, EDGE, BAR = 460.0, 12.0, 16.0


def time_bar(window: Window) -> Markup:
    """The picture of one window, from its start at the left."""
    ends = [window.seconds, *window.warned, *(window.doubt or ())]
    ends += [window.ended] if window.ended is not None else []
    longest = max(max(ends), Decimal(1)) * Decimal("1.08")

    def across(seconds: Decimal) -> float:
        return EDGE + (WIDTH - 2 * EDGE) * float(max(seconds, Decimal(0)) / longest)

    asked = across(window.seconds)
    parts = [rect(EDGE, 8, asked - EDGE, BAR, "asked")]
    if window.ended is not None:
        parts.append(rect(EDGE, 11, across(window.ended) - EDGE, BAR - 6, "taken"))
    if window.doubt is not None:
        least, most = (across(each) for each in window.doubt)
        parts.append(rect(least, 11, most - least, BAR - 6, "doubt"))
    parts.extend(_warnings(across(each) for each in window.warned))
    parts.append(line(EDGE, 4, EDGE, 28, "limit"))
    parts.append(line(asked, 4, asked, 28, "limit"))
    parts.append(text(EDGE, 38, "started", "figure start"))
    side = "at most" if window.sort == "open time" else "at least"
    parts.append(text(asked, 38, f"{side} {duration(window.seconds)}", "figure end"))
    if window.ended is not None:
        x = across(window.ended)
        parts.append(polygon(((x, 8), (x - 4, 2), (x + 4, 2)), "out"))
    return drawing(WIDTH, 42.0, window.what, parts, "window")


def _warnings(places: Iterable[float]) -> Iterable[Markup]:
    for x in places:
        yield line(x, 6, x, 26, "warned")
