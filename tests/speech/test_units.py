"""What unit words mean, by the work and step in hand."""

from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.units import UNITS, UnknownUnit
from benchvoice.speech.tokens import words_of
from benchvoice.speech.units import (
    UNIT_TABLE,
    everyday,
    is_inch,
    meanings,
    part_meanings,
    part_of,
    part_word,
    says_unit,
    setting_of,
    unit_word,
)
from tests.speech.steps import context


def setting(step="-", work="metric"):
    here = context(step, work)
    return setting_of(here.unit, here.work, here.what, here.per_division)


def units(name, step="-", work="metric"):
    return [meaning.unit for meaning in meanings(name, setting(step, work))]


@pytest.mark.parametrize(
    ("name", "step", "meant"),
    [
        ("pound", "what=torque", ["ft_lb", "in_lb"]),
        ("pound", "psi what=pressure", ["psi"]),
        ("pound", "kg what=mass", ["lb"]),
        ("pound", "N", ["lbf"]),
        ("pound", "mm", ["lb"]),
        ("pound", "-", ["lb", "ft_lb", "in_lb", "psi"]),
        ("kilo", "what=torque", ["kgf_m", "kgf_cm"]),
        ("kilo", "bar", ["kgf_cm2"]),
        ("kilo", "N", ["kgf"]),
        ("kilo", "g", ["kg"]),
        ("kilo", "-", ["kg", "kgf_m", "kgf_cm"]),
        ("kilogram", "-", ["kg"]),
        ("kilogram", "what=torque", ["kgf_m", "kgf_cm"]),
        ("degree", "deg", ["deg"]),
        ("degree", "degF", ["degF"]),
        ("degree", "delta_degC", ["delta_degC"]),
        ("degree", "what=temperature", ["degC"]),
        ("degree", "-", ["deg", "degC"]),
        ("degree", "mm", ["deg"]),
        ("celsius", "degF", ["degC"]),
        ("celsius", "delta_degF", ["delta_degC"]),
        ("fahrenheit", "degC", ["degF"]),
        ("fahrenheit", "delta_degC", ["delta_degF"]),
        ("rev", "rpm", ["rpm"]),
        ("rev", "deg", ["turn"]),
        ("mil", "mm", ["thou", "mm"]),
        ("turn", "deg", ["turn"]),
        ("N_m", "mm", ["N_m"]),
        ("division", "mm", []),
    ],
)
def test_meanings(name, step, meant):
    assert units(name, step) == meant


def test_degrees_of_inch_work_are_fahrenheit():
    assert units("degree", "what=temperature", "inch") == ["degF"]


def test_a_flat_is_a_sixth_of_a_turn():
    (flat,) = meanings("flat", setting("deg"))
    assert (flat.unit, flat.factor) == ("deg", 60)


def test_turns_and_divisions_of_a_dial():
    dial = setting("mm div=0.01 what=dial, 1 mm a turn")
    assert [(m.unit, m.factor) for m in meanings("turn", dial)] == [("mm", 1)]
    assert [(m.unit, m.factor) for m in meanings("division", dial)] == [("mm", Fraction(1, 100))]
    assert setting("mm div=0.01 what=dial").turn == 1
    assert setting("in div=0.001 what=dial").turn == Fraction(1, 10)
    assert setting("mm div=0.01 what=dial, 0.5 mm a turn").turn == Fraction(1, 2)
    assert setting("deg").turn is None
    assert setting("mm div=0.01 what=dial, 2 of a turn").turn == 1
    assert setting("thou what=dial").turn is None
    assert setting("mm what=dial, 1 mm a turn").turn == 1
    assert setting("mm div=0.01").turn == 1
    assert setting("mm what=screw, 1 mm a turn").turn is None
    assert setting("deg div=1 what=dial").turn is None
    assert setting("mm div=0.01 what=end float by dial, 0.5 mm a turn, twice").turn == Fraction(1, 2)
    assert setting("mm div=0.01 what=dial, 0.5.1 mm a turn").turn == 1


@pytest.mark.parametrize(
    ("places", "step", "work", "unit", "factor", "odd"),
    [
        (1, "in", "inch", "tenth", 1, False),
        (2, "in", "inch", "in", Fraction(1, 100), True),
        (3, "in", "inch", "thou", 1, False),
        (4, "in", "inch", "tenth", 1, False),
        (5, "in", "inch", "tenth", Fraction(1, 10), False),
        (1, "mm", "metric", "mm", Fraction(1, 10), False),
        (2, "mm", "metric", "mm", Fraction(1, 100), False),
        (3, "mm", "inch", "mm", Fraction(1, 1000), False),
        (1, "thou", "metric", "tenth", 1, False),
        (1, "-", "inch", "tenth", 1, False),
        (1, "bar", "metric", "bar", Fraction(1, 10), True),
    ],
)
def test_parts_without_a_unit(places, step, work, unit, factor, odd):
    (meaning,) = part_meanings(places, setting(step, work))
    assert (meaning.unit, meaning.factor, meaning.odd) == (unit, factor, odd)


def test_parts_of_nothing_known_mean_nothing():
    assert part_meanings(1, setting("what=torque")) == []


def test_parts_of_a_unit():
    (meaning,) = part_of(2, "mm", setting("in", "inch"))
    assert (meaning.unit, meaning.factor) == ("mm", Fraction(1, 100))


def test_kinds_from_words():
    assert setting("what=torque").kind == "torque"
    assert setting("what=angle, hexagon").kind == "angle"
    assert setting("what=oversize").kind == "length"
    assert setting("what=weight").kind == "mass"
    assert setting("what=a nice thing").kind is None
    assert setting("psi what=torque").kind == "pressure"


def test_the_unit_of_a_length_decides_the_work():
    assert setting("in", "metric").inch
    assert not setting("mm", "inch").inch
    assert setting("N_m", "inch").inch
    with pytest.raises(UnknownUnit):
        setting("furlong")


def test_units_used_side_by_side():
    assert everyday("thou", "in")
    assert everyday("um", "mm")
    assert everyday("turn", "deg")
    assert everyday("bar", "bar")
    assert not everyday("thou", "mm")
    assert not everyday("g", "kg")
    assert is_inch("thou")
    assert not is_inch("mm")


def test_words_of_units():
    words = words_of("pounds per square inch")
    assert list(unit_word(words, 0)) == [("pound", 1), ("psi", 4)]
    assert list(unit_word(words_of("thou"), 1)) == []
    assert list(unit_word(words_of("pounds to the square inch"), 0)) == [("pound", 1), ("psi", 5)]
    assert says_unit(words_of("tenths"), 0, setting("N_m"))
    assert says_unit(words_of("thou"), 0, setting("mm"))
    assert not says_unit(words_of("thou"), 0, setting("N_m"))
    assert says_unit(words_of("thou"), 0, setting("-"))
    assert not says_unit(words_of("in"), 0, setting("mm"))
    assert not says_unit(words_of("in a row"), 0, setting("mm"))
    assert says_unit(words_of("pounds"), 0, setting("N_m"))
    assert not says_unit(words_of("pounds"), 0, setting("mm"))
    assert says_unit(words_of("inches"), 0, setting("mm"))
    assert list(part_word(words_of("ten thousandths"), 0)) == [(4, 2)]
    assert list(part_word(words_of("tenths"), 0)) == [(1, 1)]


def test_every_unit_word_leads_to_the_closed_list():
    here = setting("mm div=0.01 what=dial")
    for name in set(UNIT_TABLE.values()):
        for meaning in meanings(name, here):
            assert meaning.unit in UNITS, name


def test_a_dial_without_a_unit_has_no_divisions():
    assert meanings("division", setting_of(None, "metric", "dial", Decimal("0.01"))) == []
