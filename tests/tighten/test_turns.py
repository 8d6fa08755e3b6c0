"""Angles: thread advance (computed), loads after an angle, and angles as said."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.turns import FLATS, TurnError, advance, angle_for, flats, load_after, said_angle


@pytest.mark.parametrize(
    ("load", "bolt", "joint", "pitch", "angle"),
    [
        (25275, 199133, None, "1.5", "30.46"),
        (25275, 199133, 800000, "1.5", "38.04"),
        (20000, 150000, 600000, "1.25", "48.00"),
    ],
)
def test_angle_for_a_load(load: int, bolt: int, joint: int | None, pitch: str, angle: str) -> None:
    found = angle_for(load, Decimal(pitch), bolt, joint)
    assert abs(found - Fraction(angle)) <= Fraction("0.005")
    assert load_after(found, Decimal(pitch), bolt, joint) == load
    assert load_after(found, Decimal(pitch), bolt, joint, snug=1000) == load + 1000


def test_load_after_an_angle() -> None:
    assert abs(load_after(90, Decimal("1.5"), 199133, 800000, 5000) - 64792) <= Fraction("0.5")
    assert load_after(60, Decimal("1.25"), 150000, None, 4000) == 35250


def test_advance() -> None:
    assert advance(Decimal("0.25"), Decimal("1.5")) == Fraction("0.375")
    assert advance(2, Decimal("1.25")) == Fraction("2.5")


@given(st.integers(1, 10**5), st.integers(1, 10**6), st.integers(1, 10**6))
def test_a_softer_joint_needs_more_angle(load: int, bolt: int, joint: int) -> None:
    assert angle_for(load, 1, bolt, joint) > angle_for(load, 1, bolt)
    assert angle_for(load, 1, bolt, joint + 1) < angle_for(load, 1, bolt, joint)


@pytest.mark.parametrize(
    ("words", "degrees"),
    [
        ("one flat", 60),
        ("a flat and a half", 90),
        ("quarter turn", 90),
        ("a quarter turn", 90),
        ("half a turn", 180),
        ("three quarters of a turn", 270),
        ("three-quarters of a turn", 270),
        ("two flats", 120),
        ("one sixth of a turn", 60),
        ("an eighth of a turn", 45),
        ("one twelfth of a turn", 30),
        ("a third of a turn", 120),
        ("two thirds of a turn", 240),
        ("two and a half turns", 900),
        ("a turn and a quarter", 450),
        ("Two turns", 720),
        ("one whole turn", 360),
        ("two full turns and a half", 900),
        ("half a flat", 30),
        ("one turn and three quarters", 630),
        ("twelve flats", 720),
        ("eleven flats", 660),
        ("two and three quarter turns", 990),
        ("one and two fifths of a turn", 504),
    ],
)
def test_said_angles(words: str, degrees: int) -> None:
    assert said_angle(words) == degrees


@pytest.mark.parametrize(
    ("head", "degrees"), [("square", 90), ("bihexagon", 30), ("hexagon", 60), ("twelve point", 30)]
)
def test_flats_of_other_heads(head: str, degrees: int) -> None:
    assert said_angle("one flat", head) == degrees == flats(1, head)
    assert flats(FLATS[head], head) == 360
    assert flats(2) == 120
    assert said_angle("half a turn", head) == 180


@pytest.mark.parametrize(
    "words",
    [
        "",
        "flat",
        "turn",
        "half",
        "two",
        "five halves of a turn",
        "two halves of a turn",
        "two turns please",
        "a turn half",
        "three third turns",
        "two halves turns",
        "one halve turn",
        "a flat a turn",
        "two and half and half turns",
        "quarter and a half turns",
        "a flat and two",
        "ninety degrees",
        "two and a half turns and a half",
        "and a turn",
        "a turn and",
        "zero turns",
        "half and a half turns",
        "a a turn",
    ],
)
def test_what_is_no_angle(words: str) -> None:
    with pytest.raises(TurnError, match="is not an angle in turns or flats"):
        said_angle(words)


def test_unknown_head_and_stiffness_of_nothing() -> None:
    with pytest.raises(TurnError, match="'pentagon' is not a head"):
        flats(1, "pentagon")
    for make in (
        lambda: angle_for(1, 1, 0),
        lambda: angle_for(1, 1, 1, 0),
        lambda: angle_for(1, 0, 1),
        lambda: load_after(1, 1, -1),
    ):
        with pytest.raises(TurnError, match="more than nothing"):
            make()
