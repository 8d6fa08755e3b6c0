"""Stretch of a bolt: Hooke's law, computed values."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.stretch import Section, StretchError, in_the_grip, load_from, stiffness, stretch
from benchvoice.tighten.threads import circle, parse_thread

GPA = 1000
MPSI = 10**6


def bolt(*sections: tuple[str, str]) -> list[Section]:
    return [Section(length=Decimal(length), area=Decimal(area)) for length, area in sections]


@pytest.mark.parametrize(
    ("load", "sections", "modulus", "longer", "stiff"),
    [
        (25275, bolt(("60", "58.0")), 206 * GPA, "0.126925", "199133.3"),
        (30000, bolt(("40", "78.54"), ("20", "58.0")), 206 * GPA, "0.124387", "241183.3"),
        (9000, bolt(("1.5", "0.0878")), 30 * MPSI, "0.005125", "1756000.0"),
        (12000, bolt(("1.2", "0.1104"), ("0.4", "0.0878")), 30 * MPSI, "0.006170", "1944847.5"),
        (48900, bolt(("90", "84.3")), 205 * GPA, "0.254665", "192016.7"),
    ],
)
def test_stretch(load: int, sections: list[Section], modulus: int, longer: str, stiff: str) -> None:
    assert abs(stretch(load, sections, modulus) - Fraction(longer)) <= Fraction("0.0000005")
    assert abs(stiffness(sections, modulus) - Fraction(stiff)) <= Fraction("0.05")
    assert load_from(stretch(load, sections, modulus), sections, modulus) == load


def test_load_from_stretch() -> None:
    assert load_from(Decimal("0.0055"), bolt(("1.5", "0.0878")), 30 * MPSI) == 9658
    assert load_from(Decimal("0.15"), bolt(("60", "58.0")), 206 * GPA) == 29870


lengths = st.decimals("0.1", "500", places=1)


@given(lengths, lengths, st.decimals("0.1", "900", places=1))
def test_a_bolt_cut_in_two_is_the_same_bolt(one: Decimal, other: Decimal, area: Decimal) -> None:
    whole = stiffness([Section(length=one + other, area=area)], 1)
    assert stiffness([Section(length=one, area=area), Section(length=other, area=area)], 1) == whole
    assert stiffness([Section(length=one, area=area)], 1) > whole


@pytest.mark.parametrize(
    "make",
    [
        lambda: stiffness([], 206),
        lambda: stiffness(bolt(("60", "58")), 0),
        lambda: bolt(("0", "58")),
        lambda: bolt(("60", "0")),
        lambda: bolt(("-1", "58")),
    ],
)
def test_what_is_no_bolt(make: object) -> None:
    with pytest.raises(StretchError, match="above nothing"):
        make()  # type: ignore[operator]


def test_sections_in_the_grip() -> None:
    """Thread by its printed stress area (ISO 898-1: M10 58.0 mm2), shank by its own circle."""
    thread = parse_thread("M10 x 1.5")
    assert in_the_grip(thread, 48) == (Section(length=48, area=58),)
    both = in_the_grip(thread, 18, 30)
    assert both == (Section(length=18, area=58), Section(length=30, area=circle(Fraction(10))))
    assert in_the_grip(thread, 0, 30, Decimal("8.5"))[0].area == circle(Fraction("8.5"))
    inch = in_the_grip(parse_thread("3/8-16"), 25)
    assert inch[0].area == Fraction("0.0775") * Fraction("645.16")


@pytest.mark.parametrize(("threaded", "shank"), [(-1, 49), (49, -1)])
def test_a_grip_below_nothing(threaded: int, shank: int) -> None:
    with pytest.raises(StretchError, match="longer than what stretches"):
        in_the_grip(parse_thread("M10"), threaded, shank)
