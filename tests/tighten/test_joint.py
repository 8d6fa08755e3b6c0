"""Joints drawn together and taken apart (common practice, no source)."""

import pytest

from benchvoice.tighten.joint import loosening, named_stages_rise, ring, tightening, two_rows
from benchvoice.tighten.stages import StageError


def test_six_studs_that_hold_a_shaft() -> None:
    way = tightening(two_rows(3, holds_shaft=True))
    assert way.order == ("A2", "B2", "A1", "B3", "A3", "B1")
    assert way.rule == "centre pair first, then crosswise outwards"
    assert way.between == "turn the shaft by hand: it must turn freely"
    assert way.stages is None


def test_ten_bolts_slackened() -> None:
    way = loosening(two_rows(5))
    assert way.rule == "outside in, the reverse of tightening"
    assert way.stages == "a little at a time"
    assert way.order[0] == "B1"
    assert way.order[-1] == "A3"
    assert way.between is None
    assert tightening(two_rows(5)).between is None


def test_a_ring() -> None:
    way = tightening(ring(6))
    assert way.order == ("1", "4", "2", "5", "3", "6")
    assert way.between is None
    assert tightening(ring(4, holds_shaft=True)).between is not None


@pytest.mark.parametrize(
    ("names", "rise"),
    [
        (["first", "second", "final"], True),
        (["by hand", "first", "final"], True),
        (["final"], True),
        (["first", "first", "final"], False),
        (["second", "first", "final"], False),
        (["first", "final", "second"], False),
        (["first", "second"], False),
        ([], False),
    ],
)
def test_named_stages(names: list[str], rise: bool) -> None:
    assert named_stages_rise(names) is rise


def test_a_stage_that_has_no_name() -> None:
    with pytest.raises(StageError, match="'last' names no stage"):
        named_stages_rise(["first", "last"])
