"""Computed values of machines, against published and worked values (check values of the project, named beside each)."""

from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.computed import COMPUTED, BadComputed
from benchvoice.quantity.rounding import round_places
from benchvoice.quantity.thermal import BadHeat
from benchvoice.quantity.values import parse_quantity as q


def r(*texts):
    return tuple(map(q, texts))


# CR-001, CR-003, CR-005: computed from the definitions; chamber, dish, gasket and deck make the clearance.
@pytest.mark.parametrize(
    ("bore", "stroke", "gasket", "thick", "below", "others", "swept", "ratio"),
    [
        ("86.0 mm", "86.0 mm", "87.0 mm", "1.2 mm", "0.2 mm", ("50.0 cc", "5.0 cc"), "499.557", "8.892"),
        ("4.030 in", "3.480 in", "4.100 in", "0.039 in", "0.010 in", ("64.0 cc", "6.0 cc"), "727.412", "10.033"),
        ("84.0 mm", "90.0 mm", "85.5 mm", "1.3 mm", "-0.3 mm", ("48.0 cc", "2.0 cc"), "498.759", "9.938"),
    ],
)
def test_volumes_and_compression(bore, stroke, gasket, thick, below, others, swept, ratio):
    piston = COMPUTED["swept_volume"](bore=r(bore), stroke=r(stroke))
    assert (str(round_places(piston.value, 3)), piston.unit) == (swept, "cc")
    layer = COMPUTED["disc_volume"](diameter=r(gasket), height=r(thick))
    deck = COMPUTED["disc_volume"](diameter=r(bore), height=r(below))
    found = COMPUTED["compression_ratio"](swept=(piston,), clearance=(*r(*others), layer, deck))
    assert (str(round_places(found.value, 3)), found.unit) == (ratio, "1")


@pytest.mark.parametrize(("bore", "stroke", "what"), [("-74 mm", "84 mm", "diameter"), ("74 mm", "-84 mm", "stroke")])
def test_sizes_of_a_cylinder_are_there(bore, stroke, what):
    with pytest.raises(BadComputed, match=rf"^a {what} isn't below nought: look at its sign$"):
        COMPUTED["swept_volume"](bore=r(bore), stroke=r(stroke))


def test_compression_needs_something_swept():
    with pytest.raises(BadComputed, match="needs a swept volume above nought"):
        COMPUTED["compression_ratio"](swept=r("0 cc"), clearance=r("10 cc"))


def test_compression_needs_room():
    with pytest.raises(BadComputed, match="room over the piston"):
        COMPUTED["compression_ratio"](swept=r("350 cc"), clearance=r("10 cc", "-10 cc"))


# RG-001 and RG-004: 3.5 to 4 thou per inch of bore, a workshop rule (common practice, no source).
@pytest.mark.parametrize(
    ("bore", "per", "gap"),
    [("4.000 in", "0.0035", "0.014"), ("86.0 mm", "0.004", "0.344"), ("2.9134 in", "0.0041", "0.01194494")],
)
def test_ring_gap(bore, per, gap):
    found = COMPUTED["ring_gap"](bore=r(bore), per=r(per))
    assert found.unit == q(bore).unit
    assert Fraction(found.value) == Fraction(gap)


def test_twist_over_another_length():
    given = {"one_end": r("1.0 thou"), "other_end": r("3.0 thou"), "to": r("6 in")}
    found = COMPUTED["twist"](**given, apart=r("8 in"))
    assert (found.value, found.unit) == (Decimal("1.5"), "thou")
    other = COMPUTED["twist"](one_end=given["other_end"], other_end=given["one_end"], to=r("6 in"), apart=r("8 in"))
    assert other == found
    with pytest.raises(BadComputed, match="above nought"):
        COMPUTED["twist"](**given, apart=r("0 in"))


def test_at_twenty_degrees():
    """100 mm of steel read at 30 degrees: 100 / (1 + 11.5e-6 x 10)."""
    found = COMPUTED["at_twenty"](of=r("100.000 mm"), temperature=r("30 degC"), expansion=r("0.0000115 per_K"))
    assert round_places(found.value, 4) == Decimal("99.9885")
    same = COMPUTED["at_twenty"](of=r("100.000 mm"), temperature=r("68 degF"), expansion=r("0.0000115 per_K"))
    assert same.value == 100
    with pytest.raises(BadHeat):
        COMPUTED["at_twenty"](of=r("1 mm"), temperature=r("0 degC"), expansion=r("1 per_K"))


@pytest.mark.parametrize(
    ("kind", "units", "unit"),
    [
        ("at_twenty", {"of": "mm", "temperature": "degC", "expansion": "per_K"}, "mm"),
        ("disc_volume", {"diameter": "in", "height": "thou"}, "cc"),
        ("compression_ratio", {"swept": "cc", "clearance": "cc"}, "1"),
        ("ring_gap", {"bore": "in", "per": "1"}, "in"),
        ("twist", {"one_end": "thou", "other_end": "thou", "apart": "in", "to": "mm"}, "thou"),
    ],
)
def test_units_before_the_bench(kind, units, unit):
    assert COMPUTED[kind].unit_of(units) == unit
