"""Instrument practice; figures invented."""

import pytest

from benchvoice.quantity.gauges import (
    BadGauge,
    Sense,
    bore_size,
    corrected,
    dial,
    drift,
    estimated,
    micrometer,
    must_repeat,
    vernier_caliper,
)
from benchvoice.quantity.values import parse_quantity as q


@pytest.mark.parametrize(
    ("turns", "hand", "per_turn", "zero", "value"),
    [
        (2, "0.43 mm", "1 mm", "0 mm", "2.43 mm"),
        (0, "0.87 mm", "1 mm", "0.02 mm", "0.85 mm"),
        (1, "0.043 in", "100 thou", "0 in", "0.143 in"),
        (3, "0.12 mm", "1 mm", "-0.01 mm", "3.13 mm"),
        (-1, "-0.25 mm", "1 mm", "0 mm", "-1.25 mm"),
        (0, "0.99 mm", "1 mm", "0 mm", "0.99 mm"),
    ],
)
def test_dial(turns, hand, per_turn, zero, value):
    assert dial(turns, q(hand), q(per_turn), q(zero)) == q(value)


@pytest.mark.parametrize("hand", ["1 mm", "-1 mm", "1.2 mm"])
def test_a_hand_stays_within_its_turn(hand):
    with pytest.raises(BadGauge, match="is past its own turn of 1 mm: read the dial again"):
        dial(0, q(hand), q("1 mm"), q("0 mm"))


@pytest.mark.parametrize(
    ("before", "after", "allowed", "moved", "repeat"),
    [
        ("0.00 mm", "0.00 mm", "0.01 mm", "0 mm", False),
        ("0.00 mm", "0.02 mm", "0.01 mm", "0.02 mm", True),
        ("0.00 mm", "0.01 mm", "0.01 mm", "0.01 mm", False),
        ("0.000 in", "-0.0005 in", "0.0005 in", "-0.0005 in", False),
        ("0.000 in", "-0.0006 in", "0.5 thou", "-0.0006 in", True),
        ("0.01 mm", "-0.01 mm", "0.01 mm", "-0.02 mm", True),
    ],
)
def test_drift(before, after, allowed, moved, repeat):
    assert drift(q(before), q(after)) == q(moved)
    assert must_repeat(q(before), q(after), q(allowed)) is repeat


def test_bore_gauge():
    assert bore_size(q("86.00 mm"), q("0.02 mm"), Sense.LARGER) == q("86.02 mm")
    assert bore_size(q("86.00 mm"), q("0.02 mm"), Sense.SMALLER) == q("85.98 mm")
    assert bore_size(q("2.375 in"), q("-0.8 thou"), Sense.LARGER) == q("2.3742 in")
    # The shipped bottom end: set to a 2.9130 ring.
    assert bore_size(q("2.9130 in"), q("0.0004 in"), Sense.LARGER) == q("2.9134 in")


def test_micrometer():
    assert micrometer(q("12.5 mm"), q("0.34 mm"), q("0.006 mm")) == q("12.846 mm")
    assert micrometer(q("0.625 in"), q("17 thou")) == q("0.642 in")


def test_vernier():
    assert vernier_caliper(q("23 mm"), 17, q("0.02 mm")) == q("23.34 mm")
    assert vernier_caliper(q("8 mm"), 0, q("0.05 mm")) == q("8 mm")
    with pytest.raises(BadGauge, match="line -1 is not on a vernier: read it again"):
        vernier_caliper(q("8 mm"), -1, q("0.05 mm"))


def test_master_that_is_not_its_nominal_size():
    assert corrected(q("50.013 mm"), q("50.0012 mm"), q("50 mm")) == q("50.0142 mm")
    assert corrected(q("25.006 mm"), q("24.9987 mm"), q("25 mm")) == q("25.0047 mm")
    assert corrected(q("25.006 mm"), q("24.9987 mm"), q("24.9987 mm")) == q("25.006 mm")


def test_divisions():
    assert estimated(q("3.5").value, q("0.01 mm")) == q("0.035 mm")
