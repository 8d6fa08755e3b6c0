"""Fasteners sit in their rows or in a ring, inside the picture and apart from one another."""

import math
from xml.etree import ElementTree

import pytest

from benchvoice.sheet.maps import RADIUS, layout, stage_map
from benchvoice.sheet.model import Bolt, StageMap
from benchvoice.sheet.torque import STATES
from tests.sheet.builds import MAINS, procedure

GROUPS = {name: group.positions for name, group in procedure().groups.items()}


@pytest.mark.parametrize("name", sorted(GROUPS))
def test_no_two_touch_and_all_are_inside(name: str) -> None:
    spots, width, height = layout(GROUPS[name])
    places = list(spots.values())
    assert all(RADIUS <= x <= width - RADIUS and RADIUS <= y <= height - RADIUS for x, y in places)
    near = min(math.dist(a, b) for at, a in enumerate(places) for b in places[at + 1 :])
    assert near > 2 * RADIUS


def test_pairs_sit_opposite_in_two_rows() -> None:
    spots, _, _ = layout(MAINS)
    assert spots["1L"][0] == spots["1R"][0] < spots["2L"][0]
    assert spots["1L"][1] == spots["5L"][1] < spots["1R"][1]


def test_letters_before_numbers_are_rows_too() -> None:
    spots, _, _ = layout(["L1", "R1", "L2", "R2"])
    assert spots["L1"][1] == spots["L2"][1] != spots["R1"][1]


def test_the_first_of_a_ring_is_at_the_top_and_they_go_round_clockwise() -> None:
    spots, _, _ = layout(["A", "B", "C", "D"])
    assert spots["A"][1] == min(y for _, y in spots.values())
    assert spots["B"][0] == max(x for x, _ in spots.values())


def test_one_alone() -> None:
    spots, width, height = layout(["pinch bolt"])
    assert spots["pinch bolt"] == (width / 2, height / 2)


def test_every_state_is_drawn_in_its_own_way() -> None:
    drawn = set()
    for state in STATES:
        picture = stage_map(StageMap("t", "25 N·m", (Bolt("A", 1, state),), "", (), ()))
        parts = [(each.tag, each.get("class"), each.text) for each in ElementTree.fromstring(picture)]
        drawn.add(str(parts))
    assert len(drawn) == len(STATES)
