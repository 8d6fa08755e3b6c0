"""Settings with adapters: printed examples, statics, and what a wrench refuses."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.values import Quantity, parse_quantity
from benchvoice.tighten.wrench import (
    Adapter,
    Setting,
    Wrench,
    WrenchError,
    lever_ratio,
    number_to_set,
    range_fault,
    setting_for,
    torque_from,
    well_inside,
)


def q(text: str) -> Quantity:
    return parse_quantity(text)


def wrench(low: str, high: str, step: str = "0.5", unit: str = "N_m") -> Wrench:
    return Wrench(low=Decimal(low), high=Decimal(high), step=Decimal(step), unit=unit)


W0 = wrench("2", "12")
W1 = wrench("10", "50")
W2 = wrench("20", "120")


@pytest.mark.parametrize(
    ("torque", "lever", "adapter", "angle", "setting"),
    [
        # published: printed examples in public pages, one line each
        ("80", "40", "5", 0, "71.111"),
        ("30", "12", "6", 0, "20.000"),
        ("50", "16", "2", 0, "44.444"),
        # computed: statics
        ("65", "350", "45", 0, "57.595"),
        ("65", "350", "45", 45, "59.583"),
        ("65", "350", "45", 180, "74.590"),
        ("120", "10", "2", 30, "102.284"),
        ("100", "500", "100", 60, "90.909"),
    ],
)
def test_setting_with_an_adapter(torque: str, lever: str, adapter: str, angle: int, setting: str) -> None:
    found = setting_for(Decimal(torque), Decimal(lever), Decimal(adapter), angle)
    assert abs(found - Fraction(setting)) <= Fraction("0.0005")


def test_square_on_changes_nothing_and_an_uncorrected_setting_overdoes_it() -> None:
    assert setting_for(65, 350, 45, 90) == 65
    assert lever_ratio(350, 45, 270) == 1
    assert abs(torque_from(65, 350, 45) - Fraction("73.357")) <= Fraction("0.0005")


lengths = st.decimals(min_value="0.1", max_value="2000", places=1)


@given(st.decimals(min_value="0.1", max_value="500", places=2), lengths, lengths, st.integers(0, 89))
def test_round_trip_and_direction(torque: Decimal, lever: Decimal, adapter: Decimal, angle: int) -> None:
    setting = setting_for(torque, lever, adapter, angle)
    assert torque_from(setting, lever, adapter, angle) == torque
    assert setting < torque
    if adapter < lever:
        assert setting_for(torque, lever, adapter, 180 - angle) > torque
    if angle:
        assert setting_for(torque, lever, adapter, angle - 1) < setting


def test_the_rear_corner_bolts_of_the_sump() -> None:
    crowfoot = Adapter(length=q("60 mm"), lever=q("220 mm"))
    setting = number_to_set(q("9 N_m"), W0, adapter=crowfoot)
    assert setting == Setting(exact=Fraction(99, 14), mark=Decimal("7.0"), gives=Fraction(98, 11), unit="N_m")
    assert str(setting.mark) == "7.0"


def test_the_mark_is_given_in_the_wrench_s_own_unit_and_step() -> None:
    setting = number_to_set(q("9 N_m"), wrench("20", "120", "1", "in_lb"))
    assert (setting.mark, setting.unit) == (80, "in_lb")
    assert str(number_to_set(q("66 N_m"), wrench("20", "120", "5")).mark) == "65"
    assert str(number_to_set(q("66 N_m"), wrench("20", "120", "2.50")).mark) == "65.00"
    assert str(number_to_set(q("104 N_m"), wrench("20", "120", "10")).mark) == "100"


def test_drag_is_added_before_the_adapter() -> None:
    setting = number_to_set(q("40 N_m"), W1, adapter=Adapter(length=q("1 in"), lever=q("9 in")), drag=q("5 N_m"))
    assert setting.exact == Fraction(45 * 9, 10)
    assert setting.mark == Decimal("40.5")
    assert setting.gives == 40
    assert number_to_set(q("40 N_m"), W1, drag=q("0 N_m")).exact == 40


def test_small_wrenches_and_adapters_are_allowed() -> None:
    small = Wrench(low=Decimal("0.2"), high=Decimal(2), step=Decimal("0.1"), unit="N_m", class_percent=Decimal("0.5"))
    assert number_to_set(q("0.9 N_m"), small).mark == Decimal("0.9")
    assert Adapter(length=q("0 mm"), lever=q("220 mm")).ratio() == 1
    assert lever_ratio(350, 45) == Fraction(350, 395)
    assert setting_for(65, 350, 45) == 65 * lever_ratio(350, 45, 0)
    assert torque_from(65, 350, 45) == 65 / lever_ratio(350, 45, 0)


def test_lever_and_adapter_may_have_different_units() -> None:
    assert Adapter(length=q("2 in"), lever=q("254 mm"), angle=q("0.5 turn")).ratio() == Fraction(10, 8)


@pytest.mark.parametrize(
    ("torque", "on", "said"),
    [
        ("9 N_m", W1, "9 N·m is below this wrench's range, 10 to 50: take another wrench."),
        ("50.1 N_m", W1, "50.1 N·m is above this wrench's range, 10 to 50: take another wrench."),
        ("1.5 N_m", W0, "1.5 N·m is below this wrench's range, 2 to 12: take another wrench."),
        ("100 ft_lb", W2, "135.58 N·m is above this wrench's range, 20 to 120: take another wrench."),
    ],
)
def test_a_value_out_of_range_is_refused_in_one_sentence(torque: str, on: Wrench, said: str) -> None:
    assert range_fault(q(torque).value, q(torque).unit, on) == said
    with pytest.raises(WrenchError) as fault:
        number_to_set(q(torque), on)
    assert str(fault.value) == said


def test_a_mark_that_falls_out_of_range_is_refused() -> None:
    with pytest.raises(WrenchError, match="9 N·m is below"):
        number_to_set(q("10 N_m"), wrench("10", "50", "3"))


@pytest.mark.parametrize("edge", ["10", "50"])
def test_the_ends_of_the_range_can_be_set(edge: str) -> None:
    assert number_to_set(q(f"{edge} N_m"), W1).mark == Decimal(edge)
    assert range_fault(Decimal(edge), "N_m", W1) is None


@pytest.mark.parametrize(
    ("torque", "capacity", "inside"),
    [("65", 200, True), ("50", 340, False), ("22", 100, True), ("65", 50, False), ("68", 340, True), ("50", 50, True)],
)
def test_a_fifth_of_capacity(torque: str, capacity: int, inside: bool) -> None:  # common practice, no source
    assert well_inside(Decimal(torque), capacity) is inside


def test_another_lowest_share() -> None:
    assert well_inside(10, 100, Decimal("0.1"))
    assert not well_inside(10, 100)


@pytest.mark.parametrize(
    ("low", "high", "step", "unit", "percent", "said"),
    [
        ("10", "50", "0.5", "mm", "4", "can't be in mm"),
        ("0", "50", "0.5", "N_m", "4", "from 0 to 50 can't be"),
        ("50", "50", "0.5", "N_m", "4", "from 50 to 50 can't be"),
        ("10", "50", "0", "N_m", "4", "more than nothing"),
        ("10", "50", "0.5", "N_m", "0", "more than nothing"),
    ],
)
def test_a_wrench_that_can_t_be(low: str, high: str, step: str, unit: str, percent: str, said: str) -> None:
    with pytest.raises(WrenchError, match=said):
        Wrench(low=Decimal(low), high=Decimal(high), step=Decimal(step), unit=unit, class_percent=Decimal(percent))


@pytest.mark.parametrize(
    ("length", "lever", "angle", "said"),
    [
        ("60 N_m", "220 mm", "0 deg", "are lengths"),
        ("60 mm", "220 N_m", "0 deg", "are lengths"),
        ("60 mm", "220 mm", "0 mm", "can't be in mm"),
        ("-60 mm", "220 mm", "0 deg", "can't be -60 mm long"),
        ("60 mm", "0 mm", "0 deg", "lever is more than nothing"),
        ("60 mm", "60 mm", "180 deg", "reaches back past the grip"),
    ],
)
def test_an_adapter_that_can_t_be(length: str, lever: str, angle: str, said: str) -> None:
    with pytest.raises(WrenchError, match=said):
        Adapter(length=q(length), lever=q(lever), angle=q(angle))


@pytest.mark.parametrize(("torque", "drag"), [("0 N_m", None), ("20 N_m", "-1 N_m")])
def test_figures_that_can_t_be(torque: str, drag: str | None) -> None:
    with pytest.raises(WrenchError, match="more than nothing"):
        number_to_set(q(torque), W1, drag=q(drag) if drag else None)
