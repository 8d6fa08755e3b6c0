from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.computed import COMPUTED, BadComputed, ComputedKind, Input
from benchvoice.quantity.computed.model import linear, padded
from benchvoice.quantity.units import WrongKind
from benchvoice.quantity.values import parse_quantity as q

D = Decimal
TWO = ComputedKind(
    name="two",
    inputs={
        "a": Input(meaning="a"),
        "b": Input(meaning="b", least=2, most=3),
        "c": Input(meaning="c", least=0, most=None),
    },
    formula="",
    source="",
    function=lambda a, b, c=(): a[0],
)


def test_every_kind_says_what_it_is():
    for name, kind in COMPUTED.items():
        assert kind.name == name
        assert kind.formula
        assert kind.source
        assert all(one.meaning and one.least >= 1 for one in kind.inputs.values())
    assert len(COMPUTED) == 25


def test_inputs_are_counted():
    one, two = (q("1 mm"),), (q("1 mm"), q("2 mm"))
    assert TWO(a=one, b=two) == one[0]
    assert TWO(a=one, b=two + one, c=two * 9) == one[0]
    for given, words in (
        ({"b": two}, "two needs 1 for a: 0 given"),
        ({"a": two, "b": two}, "two needs 1 for a: 2 given"),
        ({"a": one, "b": one}, "two needs 2 to 3 for b: 1 given"),
        ({"a": one, "b": two * 2}, "two needs 2 to 3 for b: 4 given"),
        ({"a": one, "b": two, "d": one}, "two has no input 'd': its inputs are a, b, c"),
    ):
        with pytest.raises(BadComputed) as fault:
            TWO(**given)
        assert str(fault.value) == words
    with pytest.raises(BadComputed, match="mean needs at least 1 for of: 0 given"):
        COMPUTED["mean"](of=())


def test_units_are_checked_before_the_bench():
    assert COMPUTED["clearance_mean"].unit_of({"bore": "mm", "shaft": "in"}) == "mm"
    assert COMPUTED["difference"].unit_of({"of": "degC", "less": "degF"}) == "delta_degC"
    assert COMPUTED["scaled"].unit_of({"of": "thou", "at": "mm", "to": "in"}) == "thou"
    assert COMPUTED["ratio"].unit_of({"of": "bar", "to": "psi"}) == "1"
    assert COMPUTED["out_of_round"].unit_of({"of": "in"}) == "in"
    with pytest.raises(WrongKind):
        COMPUTED["clearance_mean"].unit_of({"bore": "mm", "shaft": "N_m"})
    with pytest.raises(BadComputed, match="difference needs 1 for less: 0 given"):
        COMPUTED["difference"].unit_of({"of": "mm"})
    with pytest.raises(BadComputed, match="difference has no input 'more'"):
        COMPUTED["difference"].unit_of({"of": "mm", "less": "mm", "more": "mm"})


def test_linear_is_in_the_unit_of_the_first():
    assert linear([(1, q("1 in")), (-1, q("12.7 mm"))]) == q("0.5 in")
    assert linear([(Fraction(1, 3), q("1 mm")), (2, q("1 in"))]) == q("51.1333333333 mm")


def test_temperatures_are_averaged_or_subtracted():
    assert linear([(Fraction(1, 2), q("20 degC")), (Fraction(1, 2), q("86 degF"))]) == q("25 degC")
    assert linear([(1, q("30 degC")), (-1, q("20 degC"))]) == q("10 delta_degC")
    assert linear([(1, q("86 degF")), (-1, q("20 degC"))]) == q("18 delta_degF")
    assert linear([(1, q("30 delta_degC")), (1, q("20 delta_K"))]) == q("50 delta_degC")
    with pytest.raises(
        WrongKind, match=r"^temperatures can be averaged or subtracted, not added: give a temperature difference$"
    ):
        linear([(1, q("30 degC")), (1, q("20 degC"))])
    with pytest.raises(WrongKind):
        linear([(2, q("30 degC"))])


@pytest.mark.parametrize(
    ("value", "parts", "wanted"),
    [
        ("3", ["1.50 mm", "1.50 mm"], "3.00"),
        ("0.04", ["95.4 mm", "95.36 mm"], "0.04"),
        ("0.5", ["1.50 mm", "2 mm"], "0.5"),
        ("-3", ["1.50 mm", "4.500 mm"], "-3.00"),
        ("0", ["1.50 mm", "1.50 mm"], "0.00"),
        ("3", ["1.50 mm", "1.50 in"], "3"),
        ("1.25", ["1.5 mm"], "1.25"),
    ],
)
def test_zeros_that_were_said_are_kept(value, parts, wanted):
    assert str(padded(D(value), [q(part) for part in parts])) == wanted
