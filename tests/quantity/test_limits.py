from decimal import Decimal

import pytest

from benchvoice.quantity.limits import BadLimits, Limits
from benchvoice.quantity.units import UnknownUnit


def test_both_ends_and_nominal():
    limits = Limits(low=Decimal("1.5"), high=Decimal("3.0"), unit="thou", nominal=Decimal(2))
    assert limits.width == Decimal("1.5")
    assert limits.nominal == 2


@pytest.mark.parametrize(("low", "high"), [(None, Decimal(3)), (Decimal(3), None)])
def test_one_side_may_be_open(low, high):
    assert Limits(low=low, high=high, unit="mm").width is None


def test_one_value_is_allowed():
    assert Limits(low=Decimal(3), high=Decimal("3.0"), unit="mm").width == 0


def test_open_on_both_sides_is_refused():
    with pytest.raises(
        BadLimits, match=r"^limits with neither a least nor a greatest value limit nothing: give at least one of them$"
    ):
        Limits(low=None, high=None, unit="mm")


def test_ends_the_wrong_way_round_are_refused():
    with pytest.raises(BadLimits, match=r"the least limit 4 mm is above the greatest, 3 mm: swap them"):
        Limits(low=Decimal(4), high=Decimal(3), unit="mm")


def test_unknown_unit_is_refused():
    with pytest.raises(UnknownUnit):
        Limits(low=Decimal(1), high=Decimal(3), unit="mil")
