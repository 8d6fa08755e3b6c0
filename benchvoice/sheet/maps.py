"""Torque maps: the fasteners of a group where they sit, with their order numbers and how far each came.

Done is a filled disc, left for later a dashed ring, open a plain ring, unknown a ring with a question mark, scrap a
ring crossed out, and another step's a dot.
"""

import math
import re
from collections.abc import Iterable, Sequence

from markupsafe import Markup

from benchvoice.sheet.model import Bolt, StageMap
from benchvoice.sheet.svg import circle, drawing, line, text

RADIUS, GAP, EDGE = 11.0, 36.0, 22.0
_ROWS = (re.compile(r"(?P<along>\d+)(?P<row>[A-Z])"), re.compile(r"(?P<row>[A-Z])(?P<along>\d+)"))


def stage_map(stage: StageMap) -> Markup:
    """The picture of one stage."""
    spots, width, height = layout([bolt.name for bolt in stage.bolts])
    parts = [part for bolt in stage.bolts for part in _bolt(bolt, *spots[bolt.name])]
    return drawing(width, height, f"{stage.title}: {stage.summary}", parts, "map")


def layout(names: Sequence[str]) -> tuple[dict[str, tuple[float, float]], float, float]:
    """Where each fastener sits, and the picture's size: rows for 1L, 1R … or L1 …, else a ring from the top."""
    for form in _ROWS:
        found = [form.fullmatch(name) for name in names]
        rows = dict.fromkeys(match["row"] for match in found if match)
        if all(found) and len(rows) > 1:
            return _in_rows(names, [(int(match["along"]), match["row"]) for match in found if match], list(rows))
    return _in_ring(names)


def _in_rows(
    names: Sequence[str], where: Sequence[tuple[int, str]], rows: list[str]
) -> tuple[dict[str, tuple[float, float]], float, float]:
    along = sorted({number for number, _ in where})
    spots = {
        name: (EDGE + GAP * along.index(number), EDGE + 4 + 46.0 * rows.index(row))
        for name, (number, row) in zip(names, where, strict=True)
    }
    return spots, 2 * EDGE + GAP * (len(along) - 1), 2 * EDGE + 10 + 46.0 * (len(rows) - 1)


def _in_ring(names: Sequence[str]) -> tuple[dict[str, tuple[float, float]], float, float]:
    count = len(names)
    ring = max(GAP * 1.1 * count / (2 * math.pi), 30.0) if count > 1 else 0.0
    # Names stand outside the ring, so that words such as "seven" need room at the sides.
    wide = 22.0 + 6.0 * max(len(name) for name in names)
    x, y = ring + wide, ring + EDGE + 8
    spots = {
        name: (x + ring * math.sin(2 * math.pi * at / count), y - ring * math.cos(2 * math.pi * at / count))
        for at, name in enumerate(names)
    }
    return spots, 2 * x, 2 * y


def _bolt(bolt: Bolt, x: float, y: float) -> Iterable[Markup]:
    css = bolt.state.replace(" ", "-")
    if bolt.state == "not here":
        yield circle(x, y, 3.0, css)
        return
    yield circle(x, y, RADIUS, css)
    if bolt.state == "scrap":
        reach = RADIUS * 0.95
        yield line(x - reach, y - reach, x + reach, y + reach, "scrap-cross")
        yield line(x - reach, y + reach, x + reach, y - reach, "scrap-cross")
    else:
        words = "?" if bolt.state == "unknown" else str(bolt.number)
        yield text(x, y + 4, words, f"order on-{css}")
    yield text(x, y - RADIUS - 3, bolt.name, "name")
