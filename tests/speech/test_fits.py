"""Names of fits as they are said and typed."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.iso286 import fit_named, limits_of_size
from benchvoice.speech.fits import spoken_fit
from benchvoice.speech.say import say_number

D = Decimal


@pytest.mark.parametrize(
    ("words", "size", "zones", "side"),
    [
        ("twenty five h seven g six", "25", ("h7", "g6"), None),
        ("twenty-five hotel seven golf six", "25", ("h7", "g6"), None),
        ("25 H7/g6", "25", ("h7", "g6"), None),
        ("40.5 H8/f7", "40.5", ("h8", "f7"), None),
        ("25 mm H7/js6", "25", ("h7", "js6"), None),
        ("one hundred and twenty millimetres h eight f seven", "120", ("h8", "f7"), None),
        ("forty point five h eight f seven", "40.5", ("h8", "f7"), None),
        ("thirty k six shaft", "30", ("k6",), "shaft"),
        ("thirty h eleven hole", "30", ("h11",), "hole"),
        ("thirty k six", "30", ("k6",), None),
        ("a thirty k six shaft", "30", ("k6",), "shaft"),
        ("an eighty h eleven hole", "80", ("h11",), "hole"),
        ("twenty five h seven/g six", "25", ("h7", "g6"), None),
        ("the twenty five h seven g six", "25", ("h7", "g6"), None),
    ],
)
def test_fits(words, size, zones, side):
    found = spoken_fit(words)
    assert (found.size, found.zones, found.side) == (D(size), zones, side)


@pytest.mark.parametrize(
    "words",
    [
        "", "done", "a", "a seven", "the thirty",
        "twenty five", "h seven", "h seven g six", "twenty five h", "twenty five h seven g",
        "twenty five h seven g six k five", "four b", "two point eight", "twenty five h nineteen",
        "nought h seven g six", "0 h7", "twenty five j s s six",
        "one left", "fifty h seven p six shaft", "all but seven", "number two a",
    ],
)  # fmt: skip
def test_what_is_no_fit(words):
    assert spoken_fit(words) is None


def test_hole_in_capitals_shaft_in_small_letters():
    """ISO 286-1 table of limits, 18 to 30 mm: H7 is 0 to +21 um, g6 is -20 to -7 um."""
    found = spoken_fit("twenty five h seven g six")
    fit = fit_named(found.size, f"{found.name('hole')}/{found.name('shaft')}")
    assert (fit.hole.low, fit.hole.high, fit.shaft.low, fit.shaft.high) == (25, D("25.021"), D("24.980"), D("24.993"))
    alone = spoken_fit("thirty k six shaft")
    assert limits_of_size(alone.size, alone.name("shaft")).high == D("30.015")


@given(st.integers(1, 500), st.sampled_from("abcdefghjkmnprs"), st.integers(1, 18), st.sampled_from("cdefghjkmnp"))
def test_what_is_said_is_understood(size, hole, grade, shaft):
    words = f"{say_number(size)} {hole} {say_number(grade)} {shaft} six"
    found = spoken_fit(words)
    assert (found.size, found.zones) == (size, (f"{hole}{grade}", f"{shaft}6"))
