"""How limits choose between senses."""

from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.speech.choose import Window, as_limit, choose, converted, in_unit
from benchvoice.speech.sense import Doubt, Sense
from benchvoice.speech.units import setting_of


def sense(value, unit="mm", step="1", **other):
    step = Fraction(step)
    return Sense(value=Fraction(value), places=0, step=step, grain=other.pop("grain", step), unit=unit, **other)


def window(low=None, high=None, unit="mm", resolution=None):
    low, high, resolution = (None if end is None else Fraction(end) for end in (low, high, resolution))
    return Window(low, high, unit, resolution)


def test_what_the_limits_hold_includes_their_ends():
    assert all(window("1", "2").holds(sense(value)) for value in ("1", "1.5", "2"))
    assert not any(window("1", "2").holds(sense(value)) for value in ("0.99", "2.01"))
    assert window(None, "2").holds(sense("-5"))
    assert window("1", None).holds(sense("500"))
    assert window("25", "26").holds(sense("1", "in"))


@pytest.mark.parametrize(
    ("low", "high", "value", "near"),
    [
        ("1", "2", "6.4", True),
        ("1", "2", "6.41", False),
        ("1.6", "2", "0.5", True),
        ("1.6", "2", "0.49", False),
        ("0", "2", "0.0001", True),
        ("-1", "2", "0", True),
        ("-1", "2", "-6.4", True),
        (None, "2", "0.001", True),
        (None, "2", "7", False),
        ("2", None, "1", True),
        ("2", None, "0.5", False),
        ("0.5", "2", "0.15", False),
    ],
)
def test_what_is_of_the_size_of_the_limits(low, high, value, near):
    assert window(low, high).near(sense(value)) is near


@pytest.mark.parametrize(
    ("low", "high", "value", "unit", "whole"),
    [
        ("2.9130", "2.9138", "0.9134", "in", ["2.9134"]),
        ("2.9130", "2.9138", "0.9130", "in", ["2.913"]),
        ("2.9130", "2.9138", "0.9138", "in", ["2.9138"]),
        ("2.9130", "2.9138", "0.9139", "in", []),
        ("2.9130", "2.9138", "0.9129", "in", []),
        ("95.38", "95.42", "0.4", "mm", ["95.4"]),
        ("95.38", "95.42", "5.4", "mm", ["95.4"]),
        ("95.38", "95.42", "0", "mm", []),
        ("95.38", "95.42", "95.4", "mm", []),
        ("0.38", "0.42", "0.4", "mm", []),
        (None, "95.42", "0.4", "mm", []),
        ("95.38", None, "0.4", "mm", []),
        ("20", "30", "5", "N_m", []),
        ("11", "13", "2", "thou", []),
        ("10.5", "11.5", "1", "mm", ["11"]),
        ("24.5", "25.5", "1", "mm", []),
        ("1.38", "1.42", "0.4", "in", ["1.4"]),
    ],
)
def test_what_bare_figures_may_be_the_end_of(low, high, value, unit, whole):
    found = window(low, high, unit).with_front(sense(value, unit))
    assert [one.value for one in found] == [Fraction(one) for one in whole]


def test_a_unit_that_was_said_leaves_nothing_out():
    assert window("95.38", "95.42").with_front(sense("0.4", heard="mm")) == []


@pytest.mark.parametrize(
    ("low", "high", "resolution", "value", "step", "coarse"),
    [
        ("0", "4", None, "2", "1", False),
        ("0", "3.9", None, "2", "1", True),
        ("0", "3.9", None, "0", "1", False),
        (None, "3.9", None, "2", "1", False),
        ("0", None, None, "2", "1", False),
        ("0", "3.9", "1", "2", "1", False),
        ("0", "3.9", "0.5", "2", "1", False),
        ("0", "3.9", "0.25", "2", "1", False),
        ("0", "3.9", "0.1", "2", "1", True),
        ("0", "3.9", "0.5", "2", "2", True),
        ("0", "1", None, "1.5", "1", True),
        ("0", "1", None, "1.51", "1", False),
        ("0", "3.9", "1.5", "2", "1.5", False),
        ("0", "3.9", "1.5", "2", "1.6", True),
        ("2", "3", None, "1.5", "1", True),
        ("2", "3", None, "1.49", "1", False),
    ],
)
def test_too_coarse(low, high, resolution, value, step, coarse):
    assert window(low, high, resolution=resolution).too_coarse(sense(value, step=step)) is coarse


def test_the_step_is_compared_in_the_unit_of_the_limits():
    assert window("15", "21", "degC").too_coarse(sense("64", "degF", "1")) is False
    assert window("17", "18", "degC").too_coarse(sense("64", "degF", "1")) is True
    assert window("0.015", "0.035", "in").too_coarse(sense("20", "thou", "5")) is False
    assert converted(sense("64.4", "degF", "1/10"), "degC").step == Fraction(1, 18)


def test_kinds_are_kept_apart():
    setting = setting_of("mm", "metric", None, None)
    both = choose([sense("2", "N_m"), sense("2")], setting, Window())
    assert ([one.unit for one in both.left], both.wrong) == (["mm"], ())
    wrong = choose([sense("2", "N_m"), sense("2", "N_m")], setting, Window())
    assert (wrong.left, [one.unit for one in wrong.wrong], wrong.one) == ((), ["N_m"], None)


def test_of_two_equal_senses_the_less_doubtful_stays():
    setting = setting_of("mm", "metric", None, None)
    plain, doubtful = sense("2"), sense("2", doubts=frozenset({1}))
    assert choose([doubtful, plain], setting, Window()).one == plain
    assert choose([plain, doubtful], setting, Window()).one == plain


def test_one_that_is_near_is_plain_when_nothing_else_was_said_whole():
    setting = setting_of("N_m", "metric", None, None)
    face, other = sense("12", "N_m"), sense("0.12", "N_m", scaled=True)
    (left,) = choose([face, other], setting, window("5", "6", "N_m")).left
    assert (left.value, left.doubts) == (12, frozenset())
    (left,) = choose([face, other], setting, window("0.05", "0.06", "N_m")).left
    assert (left.value, left.doubts) == (Fraction("0.12"), {Doubt.SPARE})


def test_a_sense_that_only_limits_ask_for_waits_for_them():
    setting = setting_of("mm", "metric", None, None)
    face, small = sense("12"), sense("0.12", scaled=True, by_limits=True)
    assert choose([face, small], setting, Window()).one == face
    assert choose([face, small], setting, window("0.1", "0.2")).one.value == Fraction("0.12")
    assert choose([face, small], setting, window("11", "13")).one == face
    # neither is of the size of the limits: the plain one is what was said
    assert choose([face, small], setting, window("1000.5", "1000.6")).one == face


def test_two_senses_within_the_limits_are_both_left():
    setting = setting_of("mm", "metric", None, None)
    assert len(choose([sense("2"), sense("0.2", scaled=True)], setting, window("0", "3")).left) == 2


def test_a_likelier_meaning_ten_times_the_limits_is_asked_about():
    setting = setting_of("in", "inch", None, None)
    small, limits = sense("0.2", "in", scaled=True), window("0.19", "0.21", "in")
    assert len(choose([sense("2", "in", rival=True), small], setting, limits).left) == 2
    assert choose([sense("2.2", "in", rival=True), small], setting, limits).one.value == Fraction("0.2")
    assert choose([sense("2", "in"), small], setting, limits).one.value == Fraction("0.2")


def test_conversions():
    assert in_unit(Fraction(1), "in", "mm") == Fraction("25.4")
    assert in_unit(Fraction(1), None, "mm") == in_unit(Fraction(1), "in", None) == 1
    assert in_unit(Fraction(9), "degF", "degC", difference=True) == 5
    shown = converted(sense("10", "thou"), "in")
    assert (str(shown.decimal), shown.step, shown.grain, shown.unit) == ("0.010", Fraction(1, 1000), shown.step, "in")
    assert str(converted(sense("1/2", "turn", "1/2"), "deg").decimal) == "180"
    assert converted(sense("2", None), "in").unit is None
    assert as_limit(None) is None
    assert as_limit(Decimal("0.1")) == Fraction(1, 10)
