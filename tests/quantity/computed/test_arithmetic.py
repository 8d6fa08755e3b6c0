from decimal import Decimal
from statistics import mean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.computed import COMPUTED, BadComputed
from benchvoice.quantity.units import WrongKind
from benchvoice.quantity.values import Quantity
from benchvoice.quantity.values import parse_quantity as q

D = Decimal
READINGS = st.lists(st.decimals(places=4, min_value=-50, max_value=50), min_size=1, max_size=8)


def r(*texts):
    return tuple(map(q, texts))


@pytest.mark.parametrize(
    ("kind", "inputs", "wanted"),
    [
        ("difference", {"of": r("28.05 mm"), "less": r("26.95 mm")}, "1.10 mm"),  # the pump's seal: free less room
        ("difference", {"of": r("1 in"), "less": r("0.4 mm")}, "0.9842519685 in"),
        ("sum", {"of": r("0.80 mm", "0.70 mm", "0.12 mm")}, "1.62 mm"),
        # The gear's pinion shim: housing less stack less mounting distance and its mark.
        ("net", {"plus": r("111.38 mm"), "minus": r("18.04 mm", "92.05 mm")}, "1.29 mm"),
        ("net", {"plus": r("31.98 mm", "0.25 mm"), "minus": r("32.07 mm")}, "0.16 mm"),
        ("mean", {"of": r("5.5 thou", "6.0 thou", "5.0 thou")}, "5.5 thou"),
        ("mean", {"of": r("1 mm", "2 mm", "2 mm")}, "1.6666666667 mm"),
        ("mean", {"of": r("2.50 mm", "3.50 mm")}, "3.00 mm"),
        ("least", {"of": r("0.30 mm", "0.011 in", "0.29 mm")}, "0.011 in"),
        ("greatest", {"of": r("0.27 mm", "0.011 in", "0.29 mm")}, "0.29 mm"),
        ("least", {"of": r("0.30 mm", "0.30 mm")}, "0.30 mm"),
        ("spread", {"of": r("411.5 g", "412.2 g", "411.9 g")}, "0.7 g"),
        ("half", {"of": r("0.03 mm")}, "0.015 mm"),
        ("scaled", {"of": r("0.28 mm"), "at": r("67.5 mm"), "to": r("54.0 mm")}, "0.224 mm"),
        ("scaled", {"of": r("2 thou"), "at": r("6 in"), "to": r("152.4 mm")}, "2 thou"),
        ("stretch", {"tight": r("1.8957 in"), "free": r("1.8900 in")}, "0.0057 in"),
        ("ratio", {"of": r("1 bar"), "to": r("50 kPa")}, "2"),
    ],
)
def test_values(kind, inputs, wanted):
    found = COMPUTED[kind](**inputs)
    assert (str(found.value), found.unit) == (str(q(wanted).value), q(wanted).unit)


@pytest.mark.parametrize(("at", "to"), [("0 mm", "1 mm"), ("-1 mm", "1 mm"), ("1 mm", "-1 mm")])
def test_radii_are_there(at, to):
    with pytest.raises(BadComputed, match=r"^scaled needs 'at' above nought and 'to' not below it: give radii"):
        COMPUTED["scaled"](of=r("1 mm"), at=r(at), to=r(to))


def test_nothing_is_divided_by_nought():
    with pytest.raises(BadComputed, match=r"^ratio needs 'to' other than nought$"):
        COMPUTED["ratio"](of=r("1 mm"), to=r("0 mm"))


@pytest.mark.parametrize("kind", ["sum", "mean", "least", "greatest", "spread"])
def test_kinds_of_quantity_are_not_mixed(kind):
    with pytest.raises(WrongKind):
        COMPUTED[kind](of=r("1 mm", "1 N_m"))


@given(READINGS)
def test_agree_with_plain_arithmetic(values):
    readings = tuple(Quantity(value=value, unit="mm") for value in values)
    assert COMPUTED["sum"](of=readings).value == sum(values)
    assert COMPUTED["least"](of=readings).value == min(values)
    assert COMPUTED["greatest"](of=readings).value == max(values)
    assert COMPUTED["spread"](of=readings).value == max(values) - min(values)
    assert float(COMPUTED["mean"](of=readings).value) == pytest.approx(float(mean(values)), abs=1e-9)


@given(READINGS, READINGS)
def test_net_is_the_difference_of_sums(plus, minus):
    found = COMPUTED["net"](
        plus=tuple(Quantity(value=value, unit="mm") for value in plus),
        minus=tuple(Quantity(value=value, unit="mm") for value in minus),
    )
    assert found.value == sum(plus) - sum(minus)
