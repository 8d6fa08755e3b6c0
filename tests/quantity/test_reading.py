"""Decimals count. Source: GUM 7.2.6 (sense), NIST SP 811 B.7; the mean's extra digit is common practice, no source."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.reading import add, compared, mean_of, places_of, range_of, resolution_of, subtract

D = Decimal


@pytest.mark.parametrize(
    ("reading", "resolution"), [("1.50", "0.01"), ("14", "1"), ("0.0045", "0.0001"), ("0", "1"), ("-2.5", "0.1")]
)
def test_resolution(reading, resolution):
    assert str(resolution_of(D(reading))) == resolution


@pytest.mark.parametrize(("reading", "places"), [("1.50", 2), ("14", 0), ("1E+3", 0), ("NaN", 0)])
def test_places(reading, places):
    assert places_of(D(reading)) == places


@pytest.mark.parametrize(
    ("readings", "total"),
    [(("0.1", "0.2"), "0.3"), (("1.50", "1.50"), "3.00"), (("1.5", "1.25"), "2.8"), (("7",), "7")],
)
def test_sum_is_as_fine_as_the_coarsest(readings, total):
    assert str(add(*map(D, readings))) == total


@pytest.mark.parametrize(
    ("reading", "less", "left"),
    [("95.40", "95.36", "0.04"), ("2.3750", "2.3732", "0.0018"), ("95.4", "95.36", "0.0"), ("95.36", "95.4", "0.0")],
)
def test_difference_is_as_fine_as_the_coarser(reading, less, left):
    assert str(subtract(D(reading), D(less))) == left


def test_mean_has_one_digit_more():
    assert str(mean_of([D("0.05"), D("0.06"), D("0.06")])) == "0.057"
    assert str(mean_of([D("79.98"), D("79.99"), D("80.00"), D("79.99")])) == "79.990"
    assert str(mean_of([D("1"), D("2.55")])) == "1.8"


def test_range():
    assert str(range_of([D("79.98"), D("79.99"), D("80.00"), D("79.99")])) == "0.02"


@pytest.mark.parametrize(
    ("one", "other", "words"),
    [
        ("1.50", "1.5", "equal in value, different in resolution"),
        ("1.50", "1.50", "equal in value and resolution"),
        ("1.50", "1.60", "different in value, equal in resolution"),
        ("1.50", "1.6", "different in value, different in resolution"),
    ],
)
def test_comparison(one, other, words):
    assert compared(D(one), D(other)) == words


@given(st.lists(st.decimals(places=3, min_value=-99, max_value=99), min_size=1, max_size=9))
def test_sums_and_ranges_of_equal_decimals_lose_nothing(readings):
    assert add(*readings) == sum(readings)
    assert range_of(readings) == max(readings) - min(readings)
    assert min(readings) <= mean_of(readings) <= max(readings)
