"""Marks stand where their values are, relative to the limits."""

import re
from decimal import Decimal
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.sheet.model import Band, Mark
from benchvoice.sheet.pictures import EDGE, WIDTH, limits_picture, scale

D = Decimal
BAND = Band(D("1.5"), D("3.0"), "thou")


def mark(value: str, outcome: str = "in limits", *, counts: bool = True) -> Mark:
    return Mark(D(value), D(value), outcome, counts)


def shapes(band: Band, *marks: Mark) -> list[ElementTree.Element]:
    return list(ElementTree.fromstring(limits_picture(band, marks)))


def of_class(found: list[ElementTree.Element], name: str) -> list[ElementTree.Element]:
    return [each for each in found if name in (each.get("class") or "").split()]


def limits_at(found: list[ElementTree.Element]) -> tuple[float, float]:
    low, high = (float(each.get("x1", "")) for each in of_class(found, "limit"))
    return low, high


def test_a_reading_in_limits_stands_between_them_in_proportion() -> None:
    found = shapes(BAND, mark("2.25"))
    low, high = limits_at(found)
    disc = of_class(found, "in")[0]
    assert float(disc.get("cx", "")) == pytest.approx((low + high) / 2, abs=0.2)


@pytest.mark.parametrize(("value", "outcome"), [("3.5", "over"), ("1.0", "under")])
def test_a_reading_out_of_limits_stands_beyond_and_points_outwards(value: str, outcome: str) -> None:
    found = shapes(BAND, mark(value, outcome))
    low, high = limits_at(found)
    points = [float(x) for x in re.findall(r"(\S+),", of_class(found, "out")[0].get("points", ""))]
    base, tip = points[0], points[1]
    assert (base > high - 6 and tip > base) if outcome == "over" else (base < low + 6 and tip < base)


def test_an_interval_is_a_line_between_its_ends_with_a_square_when_too_close() -> None:
    found = shapes(BAND, Mark(D("1.0"), D("2.0"), "too close to call"))
    span, *ends = of_class(found, "span")
    low, _ = limits_at(found)
    assert float(span.get("x1", "")) < low < float(span.get("x2", ""))
    assert len(ends) == 2
    assert of_class(found, "close")


def test_an_open_interval_ends_in_an_arrow_at_the_edge() -> None:
    found = shapes(BAND, Mark(D("4"), None, "over"))
    assert float(of_class(found, "span")[0].get("x2", "")) == pytest.approx(WIDTH - EDGE / 2)
    assert len(of_class(found, "span")) == 1 + 1 + 2


def test_a_void_reading_is_a_cross_and_each_reading_has_its_row() -> None:
    found = shapes(BAND, mark("3.5", "over", counts=False), mark("2.8"))
    assert len(of_class(found, "cross")) == 2
    assert not of_class(found, "out")
    assert float(of_class(found, "cross")[0].get("y1", "")) < float(of_class(found, "in")[0].get("cy", ""))


def test_wear_limits_are_a_box_of_their_own() -> None:
    found = shapes(Band(D(4), D(8), "thou", (D(4), D(12))), mark("10", "over"))
    box = of_class(found, "worn")[0]
    _, high = limits_at(found)
    assert float(box.get("x", "")) + float(box.get("width", "")) > high


def test_no_picture_without_limits_or_readings() -> None:
    assert limits_picture(None, [mark("1")]) == ""
    assert limits_picture(BAND, []) == ""


NUMBERS = st.decimals(-(10**6), 10**6, places=4)


@given(NUMBERS, NUMBERS, st.lists(NUMBERS, min_size=1, max_size=4), st.booleans(), st.booleans())
def test_order_is_kept_and_nothing_leaves_the_picture(
    one: Decimal, other: Decimal, values: list[Decimal], open_low: bool, open_high: bool
) -> None:
    low, high = sorted((one, other))
    band = Band(None if open_low else low, None if open_high and not open_low else high, "thou")
    marks = [Mark(value, value, "in limits") for value in values]
    across = scale(band, marks)
    places = [across(value) for value in sorted([*values, *(end for end in (band.low, band.high) if end is not None)])]
    assert places == sorted(places)
    assert places[0] >= EDGE - 0.01
    assert places[-1] <= WIDTH - EDGE + 0.01
    ElementTree.fromstring(limits_picture(band, marks))
