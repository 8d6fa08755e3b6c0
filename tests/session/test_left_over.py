"""What is left in the tray, from the words to the closing and the page."""

from pathlib import Path

import pytest

from benchvoice.session.left_over import says_left, things_left
from benchvoice.session.sayable import sayable
from benchvoice.testing.bench import Bench

TRAY = Path(__file__).parents[1] / "conversations" / "tray.yaml"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("one washer", [(1, "washer", True)]),
        ("a washer left over", [(1, "washer", True)]),
        ("there's one long bolt left in the tray", [(1, "long bolt", True)]),
        ("two screws and a clip", [(2, "screws", True), (1, "clip", True)]),
        ("twenty two rings, one key", [(22, "rings", True), (1, "key", True)]),
        ("the spacer", [(None, "spacer", True)]),
        ("two drifts", [(2, "drifts", False)]),
        ("2 washers left", [(2, "washers", True)]),
    ],
)
def test_things_that_are_left(text: str, found: list[tuple[int | None, str, bool]]) -> None:
    things = things_left(text)
    assert things is not None
    assert [(each.number, each.what, each.known) for each in things] == found


@pytest.mark.parametrize(
    "text",
    [
        "",
        "left",
        "one left",
        "left over",
        "he said next week",
        "bore one left",
        "two point",
        "what's left",
        "one washer and the rest of it",
    ],
)
def test_what_names_no_thing(text: str) -> None:
    assert things_left(text) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("one washer left", True),
        ("two drifts left over", True),
        ("one washer", False),
        ("washer left", False),
        ("two drifts left", False),
        ("how many left", False),
        ("one left", False),
        ("what's in the tray", False),
        ("bore one left", False),
    ],
)
def test_what_can_be_said_at_any_time(text: str, says: bool) -> None:
    assert says_left(text) is says


def test_it_is_listened_for_where_no_place_is_left_and_right() -> None:
    bench = Bench(TRAY)
    bench.work_to("lid")
    assert "one washer left" not in sayable(bench.state)
    bench.work_to("tray")
    assert "one washer left" in sayable(bench.state)
    bench.say("done")
    assert {"no", "washer", "washers", "nothing"} <= set(sayable(bench.state))


def test_a_careful_person_leaves_nothing() -> None:
    bench = Bench(TRAY)
    bench.work_to(None)
    assert bench.state.closed
    assert [row.entry.what for row in bench.counting("counted") if row.entry.way == "left over"] == ["in the tray"]
