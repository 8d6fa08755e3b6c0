from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.benchmarks.published.compare import differs, shown
from benchvoice.quantity.values import parse_quantity as q

MM = {"value": "25.40", "unit": "mm"}


@pytest.mark.parametrize(
    ("got", "tolerance", "different"),
    [
        (q("25.4 mm"), "0", False),
        (q("1 in"), "0", False),  # in the published unit
        (q("25.4 mm"), "exact", False),
        (q("25.41 mm"), "0", True),
        (q("25.405 mm"), "0.005", False),
        (q("25.4051 mm"), "0.005", True),
        (q("25.395 mm"), "0.005", False),
        (q("25.4 N_m"), "0", True),
        ({"value": Fraction(127, 5), "unit": "mm"}, "0", False),
        ({"value": Fraction(1), "unit": "in"}, "0", False),
        ({"value": Fraction(1), "unit": "furlong"}, "0", True),
        ("25.40", "0", True),
        (Decimal("25.4"), "0", True),
        (None, "0", True),
        (True, "0", True),
    ],
)
def test_quantity(got, tolerance, different):
    assert differs(MM, got, tolerance) is different


def test_quantity_without_a_unit():
    ratio = {"value": "0.5", "unit": "1"}
    assert not differs(ratio, Fraction(1, 2), "0")
    assert not differs(ratio, Decimal("0.50"), "0")
    assert differs(ratio, Fraction(1, 3), "0")
    assert not differs({"value": "1", "unit": "1"}, 1, "0")
    assert differs({"value": "1", "unit": "1"}, True, "0")


def test_quantity_of_a_unit_that_the_library_lacks():
    volts = {"value": "5", "unit": "V"}
    assert not differs(volts, {"value": Fraction(5), "unit": "V"}, "0")
    assert differs(volts, {"value": Fraction(5), "unit": "mm"}, "0")
    assert differs(volts, q("5 mm"), "0")


def test_difference_of_temperature_is_written_without_a_mark():
    assert not differs({"value": "18", "unit": "degF"}, q("10 delta_degC"), "0")
    assert differs({"value": "50", "unit": "degF"}, q("10 delta_degC"), "0")
    assert not differs({"value": "50", "unit": "degF"}, q("10 degC"), "0")


@pytest.mark.parametrize(
    ("wanted", "got", "different"),
    [
        (True, True, False),
        (True, False, True),
        (True, 1, True),
        (True, "yes", True),
        (1, True, True),
        (3, 3, False),
        (3, Fraction(3), False),
        (3, 4, True),
        (3, "3", True),
        (3, None, True),
        (510.0, Fraction(510), False),
        (0.1, Fraction(1, 10), False),
        (0.1, Fraction(1, 11), True),
        ("1.50", "1.50", False),
        ("1.50", "1.5", True),
        ("open", "open not", True),
        ("3", 3, True),
        (None, None, False),
        (None, 0, True),
        (None, "", True),
        (0, None, True),
    ],
)
def test_plain_values(wanted, got, different):
    assert differs(wanted, got, "exact") is different


@pytest.mark.parametrize(
    ("wanted", "got", "different"),
    [
        (["0.1", "0.20"], ["0.1", "0.20"], False),
        (["0.1", "0.20"], ["0.10", "0.2"], True),
        (["0.1"], ["0.11"], True),
        (["0.1"], ["0.1", "0.2"], True),
        (["0.1", "0.2"], ["0.2", "0.1"], True),
        ([], [], False),
        ([], None, True),
        ([[1, 2]], [[1, 2]], False),
        ([[1, 2]], [(1, 2)], False),
        ([[1, 2]], [[2, 1]], True),
        (["A1"], ["A2"], True),
        ([True], [1], True),
        (["1"], [1], True),
        (["-0.5"], ["-0.50"], True),
    ],
)
def test_lists(wanted, got, different):
    assert differs(wanted, got, "exact") is different


def test_shown():
    assert shown(MM) == "25.40 mm"
    assert shown({"value": Fraction(1, 4), "unit": "mm"}) == "0.25 mm"
    assert shown(q("1.5 mm")) == "1.5 mm"
    assert shown(["a"]) == "['a']"
