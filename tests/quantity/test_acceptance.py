from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.acceptance import (
    QUARTER,
    TENTH,
    NoWidth,
    accepted_after_rounding,
    capability,
    rounded_for,
    too_coarse,
    width_over_resolution,
)
from benchvoice.quantity.limits import Limits

D = Decimal
BORE = Limits(low=D("95.38"), high=D("95.42"), unit="mm")


def limits(low, high, unit="mm"):
    return Limits(low=None if low is None else D(low), high=None if high is None else D(high), unit=unit)


# Common practice, no source: the four to one and ten to one rules.
@pytest.mark.parametrize(
    ("resolution", "unit", "share", "coarse"),
    [
        ("0.1", "mm", QUARTER, True),
        ("0.01", "mm", QUARTER, False),  # just a quarter will do
        ("0.0101", "mm", QUARTER, True),
        ("0.01", "mm", TENTH, True),
        ("0.004", "mm", TENTH, False),
        ("0.001", "in", QUARTER, True),
        ("0.0001", "in", QUARTER, False),
    ],
)
def test_too_coarse(resolution, unit, share, coarse):
    assert too_coarse(D(resolution), unit, BORE, share) is coarse


def test_a_quarter_unless_another_share_is_given():
    assert too_coarse(D("0.0101"), "mm", BORE)
    assert not too_coarse(D("0.01"), "mm", BORE)


def test_steps_in_the_tolerance():
    assert width_over_resolution(D("0.01"), "mm", BORE) == 4
    assert width_over_resolution(D("0.001"), "in", limits("0.0010", "0.0025", "in")) == Fraction(3, 2)
    assert width_over_resolution(D("1"), "degC", limits("50", "86", "degF")) == 20


# Published: JCGM 106:2012 7.6.3 (formula, recalled).
def test_capability():
    assert capability(limits("60", "70", "N_m"), D("1.25"), "N_m") == 2
    assert capability(limits("0", "25.4"), D("0.1"), "in") == Fraction(5, 2)


@pytest.mark.parametrize("one_sided", [limits(None, "1"), limits("1", None)])
def test_open_limits_have_no_width(one_sided):
    with pytest.raises(NoWidth, match=r"^limits with an open side have no width: give both limits$"):
        too_coarse(D("0.1"), "mm", one_sided)
    with pytest.raises(NoWidth):
        width_over_resolution(D("0.1"), "mm", one_sided)
    with pytest.raises(NoWidth):
        capability(one_sided, D("0.1"), "mm")


@pytest.mark.parametrize("step", ["0", "-0.1"])
def test_resolution_is_above_nought(step):
    with pytest.raises(NoWidth, match="is not above nought: give a resolution or uncertainty above it"):
        width_over_resolution(D(step), "mm", BORE)


# Published: ASTM E29, rounding method (recalled); figures invented.
@pytest.mark.parametrize(
    ("reading", "unit", "low", "high", "rounded", "accepted"),
    [
        ("2.53", "mm", None, "2.5", "2.5", True),
        ("0.2549", "mm", "0.10", "0.25", "0.25", True),
        ("0.2551", "mm", "0.10", "0.25", "0.26", False),
        ("65.5", "N_m", "60", "65", "66", False),
        ("64.5", "N_m", "65", "70", "64", False),
        ("59.5", "N_m", "60", None, "60", True),
        ("59.4", "N_m", "60", None, "59", False),
        ("0.0025", "in", "0.0010", "0.0025", "0.0025", True),
        ("95.40", "mm", "95.400", "95.42", "95.400", True),  # the finer of the two ends
        ("1", "in", "25", "25.5", "25.4", True),
    ],
)
def test_rounding_method(reading, unit, low, high, rounded, accepted):
    asked = limits(low, high, "mm" if unit == "in" and high == "25.5" else unit)
    assert str(rounded_for(D(reading), unit, asked)) == rounded
    assert accepted_after_rounding(D(reading), unit, asked) is accepted
