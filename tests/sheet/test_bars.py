"""The end of a window stands before or after what was asked, as it did."""

from decimal import Decimal
from xml.etree import ElementTree

from benchvoice.sheet.bars import time_bar
from benchvoice.sheet.gather import Source, gather
from benchvoice.sheet.model import Window
from tests.sheet.builds import a_build, facts, procedure


def bars() -> tuple[Window, ...]:
    return gather(procedure(), facts(a_build()), Source(1, "0")).windows


def widths(window: Window) -> dict[str, float]:
    found = ElementTree.fromstring(time_bar(window))
    return {str(each.get("class")): float(each.get("width", "")) for each in found if each.tag == "rect"}


def test_taken_and_asked_are_to_scale() -> None:
    found = widths(bars()[0])
    assert abs(found["taken"] / found["asked"] - float(Decimal("437.2") / 480)) < 0.01


def test_the_caption_tells_warnings_and_end() -> None:
    assert bars()[0].caption == (
        "open time, at most 8 min; started 2026-11-25 10:33:10; warned with 3 min left; warned with 1 min left; "
        "closed in time, after 7 min 17 s"
    )


def test_a_doubt_is_drawn_and_said() -> None:
    window = bars()[1]
    assert widths(window)["doubt"] > 1
    assert "the clocks can't say how long it had, between 2 h 30 min and 4 h 10 min" in window.caption
    assert window.caption.endswith("not ended in this record")
