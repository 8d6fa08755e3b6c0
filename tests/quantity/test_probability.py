from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from benchvoice.quantity.probability import below, conformance, normal_cdf

D = Decimal


# Published: table of the standard normal distribution (any handbook).
@pytest.mark.parametrize(
    ("z", "p"),
    [
        ("0", "0.5"),
        ("1", "0.841344746068542948585232545632"),
        ("-1", "0.158655253931457051414767454368"),
        ("1.96", "0.9750021048517796"),
        ("3", "0.998650101968369905473348185232"),
        ("6", "0.9999999990134123549623019"),
    ],
)
def test_normal_distribution(z, p):
    assert abs(normal_cdf(D(z)) - D(p)) <= D((0, (1,), D(p).as_tuple().exponent))


@pytest.mark.parametrize(("z", "p"), [("12.01", 1), ("-12.01", 0), ("1e9", 1), ("-1e9", 0)])
def test_far_out_is_certain(z, p):
    assert normal_cdf(D(z)) == p


def test_just_inside_twelve_is_still_computed():
    assert D("1e-33") < normal_cdf(D("-11.9")) + D("1e-28") < D("2e-28")
    assert 1 - normal_cdf(D("8")) < D("1e-15")


@given(st.floats(min_value=-9, max_value=9))
def test_agrees_with_scipy(z):
    assert float(normal_cdf(D(z))) == pytest.approx(norm.cdf(z), abs=1e-14)


@given(st.decimals(places=3, min_value=-11, max_value=11))
def test_is_symmetric(z):
    assert abs(normal_cdf(z) + normal_cdf(-z) - 1) < D("1e-30")


# Published: JCGM 106:2012 clause 7, examples (recalled, printed 0.92, 0.989, 0.66).
@pytest.mark.parametrize(
    ("reading", "u", "low", "high", "printed", "within"),
    [
        ("-5.47", "0.05", None, "-5.40", "0.92", "0.005"),
        ("509.7", "8.6", "490", None, "0.989", "0.0005"),
        ("13.6", "1.8", "12.5", "16.3", "0.66", "0.005"),
        ("0", "1", "-2", "2", "0.9545", "0.00005"),
        ("95.400", "0.0015", "95.400", "95.420", "0.5", "1e-20"),
    ],
)
def test_conformance(reading, u, low, high, printed, within):
    ends = [None if end is None else D(end) for end in (low, high)]
    assert abs(conformance(D(reading), D(u), *ends) - D(printed)) <= D(within)


def test_below():
    assert below(D(3), D(3), D(1)) == D("0.5")
    assert below(D(5), D(3), D(2)) == normal_cdf(D(1))
    assert below(D(1), D(3), D(2)) == normal_cdf(D(-1))


def test_open_on_both_sides_is_certain():
    assert conformance(D(3), D(1), None, None) == 1
