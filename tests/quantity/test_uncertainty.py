from decimal import Decimal
from fractions import Fraction
from statistics import mean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from uncertainties import ufloat

from benchvoice.quantity.uncertainty import (
    BadUncertainty,
    Part,
    Source,
    combined,
    coverage_factor,
    effective_freedom,
    of_repeats,
    reported,
    standard,
)

D = Decimal
SMALL = st.decimals(places=4, min_value=D("0.0001"), max_value=10)


# Published: GUM (JCGM 100:2008) 4.3.7, 4.3.9; F.2.2.1 prints 0.29 of a digital step.
@pytest.mark.parametrize(
    ("source", "value", "u"),
    [
        (Source.RESOLUTION, "0.01", "0.0028867513459481288225"),
        (Source.RECTANGULAR, "0.003", "0.0017320508075688772935"),
        (Source.TRIANGULAR, "0.003", "0.0012247448713915890491"),
        (Source.ARCSINE, "0.5", "0.35355339059327376220"),
        (Source.CERTIFICATE, "0.0024", "0.0012"),
        (Source.RESOLUTION, "0", "0"),
    ],
)
def test_single_source(source, value, u):
    assert abs(standard(source, D(value)) - D(u)) <= D("1e-20")


def test_certificate_with_another_k():
    assert standard(Source.CERTIFICATE, D("0.003"), D(3)) == D("0.001")
    assert standard(Source.RESOLUTION, D("0.01"), D(3)) == standard(Source.RESOLUTION, D("0.01"))


@pytest.mark.parametrize(("value", "k"), [("-0.1", "2"), ("0.1", "0"), ("0.1", "-2")])
def test_figures_of_doubt_are_above_nought(value, k):
    with pytest.raises(BadUncertainty, match="can't be: give figures above nought"):
        standard(Source.CERTIFICATE, D(value), D(k))


# Computed: GUM 5.1.2.
def test_combination():
    assert combined([Part(u=D("0.003")), Part(u=D("0.004"))]) == D("0.005")
    assert combined([Part(u=D("0.004"), times=D("0.5"))]) == D("0.002")
    shells = [Part(u=D("0.0008"), times=D(-2)), Part(u=D("0.0015")), Part(u=D("0.0012"), times=D(-1))]
    assert abs(combined(shells) - D("0.00249")) < D("0.00002")
    assert combined([]) == 0


@given(SMALL, SMALL, st.decimals(places=2, min_value=-3, max_value=3))
def test_combination_agrees_with_uncertainties(one, other, times):
    total = ufloat(0, float(one)) + float(times) * ufloat(0, float(other))
    assert float(combined([Part(u=one), Part(u=other, times=times)])) == pytest.approx(total.std_dev, rel=1e-12)


@given(st.lists(SMALL, min_size=1, max_size=5))
def test_another_source_never_makes_it_less(parts):
    less = combined([Part(u=u) for u in parts[:-1]])
    assert combined([Part(u=u) for u in parts]) >= max(less, *parts)


# Published: GUM G.4.1, Welch-Satterthwaite.
def test_effective_freedom():
    parts = [Part(u=D("0.0010"), freedom=4), Part(u=D("0.0012"))]
    assert effective_freedom(parts) == Fraction(244**2, 100**2) * 4 == Fraction("23.8144")
    assert effective_freedom([Part(u=D(1), freedom=9)]) == 9
    assert effective_freedom([Part(u=D(2), freedom=3), Part(u=D(2), freedom=3)]) == 6
    assert effective_freedom([Part(u=D(1))]) is None
    assert effective_freedom([Part(u=D(1), times=D(2), freedom=5), Part(u=D(1))]) == Fraction(25, 16) * 5


# Computed: GUM 4.2.1 to 4.2.3.
def test_repeats():
    found = of_repeats([D("79.98"), D("79.99"), D("80.00"), D("79.99")])
    assert found.mean == D("79.99")
    assert abs(found.deviation - D("0.008165")) < D("0.0000005")
    assert abs(found.u_mean - D("0.004082")) < D("0.0000005")
    assert found.freedom == 3


@given(st.lists(st.decimals(places=2, min_value=-50, max_value=50), min_size=2, max_size=8))
def test_repeats_agree_with_statistics(readings):
    found = of_repeats(readings)
    floats = [float(reading) for reading in readings]
    assert float(found.mean) == pytest.approx(mean(floats), abs=1e-9)
    assert float(found.deviation) == pytest.approx(stdev(floats), abs=1e-9)
    assert float(found.u_mean) == pytest.approx(stdev(floats) / len(floats) ** 0.5, abs=1e-9)


@pytest.mark.parametrize("readings", [[], [D(1)]])
def test_one_reading_has_no_spread(readings):
    with pytest.raises(BadUncertainty, match=r"has no spread: measure at least twice"):
        of_repeats(readings)


def test_two_readings_have():
    assert of_repeats([D(1), D(3)]).deviation ** 2 - 2 < D("1e-18")


# Published: GUM 7.2.6, EA-4/02 (recalled).
@pytest.mark.parametrize(
    ("value", "expanded", "shown"),
    [
        ("95.40347", "0.003124", ("95.4035", "0.0031")),
        ("0.02618", "0.00249", ("0.0262", "0.0025")),
        ("64.83", "2.47", ("64.8", "2.5")),
        ("2.374087", "0.000283", ("2.37409", "0.00028")),
        ("64.83", "1.05", ("64.8", "1.0")),  # a tie goes to the even
        ("64.83", "1.0501", ("64.8", "1.1")),
        ("1234", "154", ("1230", "150")),
        ("5", "9.99", ("5", "10")),
    ],
)
def test_report(value, expanded, shown):
    found = reported(D(value), D(expanded))
    assert tuple(f"{part.normalize():f}" for part in found) == tuple(f"{D(part).normalize():f}" for part in shown)


@given(st.decimals(places=4, min_value=D("0.0001"), max_value=1000))
def test_report_takes_off_a_twentieth_at_most(expanded):
    assert reported(D(0), expanded)[1] >= expanded * D("0.95")


@pytest.mark.parametrize("expanded", ["0", "-1"])
def test_nothing_to_report(expanded):
    with pytest.raises(BadUncertainty, match="can't be reported: give one above nought"):
        reported(D(1), D(expanded))


# Published: GUM table G.2 (recalled).
@pytest.mark.parametrize(
    ("freedom", "p", "k"),
    [
        (1, "0.95", "12.71"),
        (2, "0.95", "4.30"),
        (4, "0.9545", "2.87"),
        (10, "0.95", "2.23"),
        (10, "0.9545", "2.28"),
        (20, "0.99", "2.85"),
        (None, "0.95", "1.960"),
        (None, "0.6827", "1.000"),
        (None, "0.9973", "3.000"),
    ],
)
def test_coverage_factor(freedom, p, k):
    printed = D(k)
    assert abs(coverage_factor(D(p), freedom) - printed) <= D("0.5") * D((0, (1,), printed.as_tuple().exponent))


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 7, 8, 29, 60, 201, 1999, 2000, 2001])
@pytest.mark.parametrize("p", ["0.5", "0.9", "0.99", "0.9973"])
def test_coverage_factor_agrees_with_scipy(freedom, p):
    expected = stats.t.ppf((1 + float(p)) / 2, freedom)
    # Above two thousand degrees of freedom the normal distribution stands in, which is a thousandth off.
    assert float(coverage_factor(D(p), freedom)) == pytest.approx(expected, rel=1e-9 if freedom <= 2000 else 2e-3)


@pytest.mark.parametrize(("p", "freedom"), [("0", 3), ("1", 3), ("-0.1", 3), ("1.1", None), ("0.9", 0), ("0.9", -1)])
def test_no_coverage_factor(p, freedom):
    with pytest.raises(BadUncertainty, match="no coverage factor for p = "):
        coverage_factor(D(p), freedom)


def test_coverage_so_near_to_all_that_no_factor_is_sensible():
    with pytest.raises(BadUncertainty, match="no coverage factor for p = "):
        coverage_factor(D("0.9999999"), 1)


def test_results_are_given_to_twenty_places():
    found = of_repeats([D("1"), D("2"), D("2")])
    parts = [Part(u=D(1)), Part(u=D(1))]
    for value in (found.mean, found.deviation, found.u_mean, combined(parts), standard(Source.ARCSINE, D(1))):
        assert value.as_tuple().exponent == -20
    assert standard(Source.CERTIFICATE, D(1), D("0.5")) == 2
