"""Classes and grades: ISO 898-1 and SAE J429 tables, seen in public copies."""

from decimal import Decimal
from fractions import Fraction

import pytest

from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.values import Quantity
from benchvoice.tighten.strength import (
    PROOF_LOADS,
    PROOF_STRESSES,
    StrengthError,
    printed_proof_load,
    proof_load,
    property_class,
    sae_grade,
    strength_of,
)
from benchvoice.tighten.threads import metric, parse_thread, printed_stress_area


@pytest.mark.parametrize(
    ("size", "area", "name", "tensile", "yields", "proof", "product", "printed"),
    [  # published: ISO 898-1:2013 tables 3 and 5
        ("M6", "20.1", "8.8", 800, 640, 580, 11658, 11600),
        ("M8", "36.6", "8.8", 800, 640, 580, 21228, 21200),
        ("M10", "58.0", "8.8", 800, 640, 580, 33640, 33700),
        ("M12", "84.3", "8.8", 800, 640, 580, 48894, 48900),
        ("M14", "115", "8.8", 800, 640, 580, 66700, 66700),
        ("M16", "157", "8.8", 800, 640, 580, 91060, 91000),
        ("M18", "192", "8.8", 800, 640, 600, 115200, 115000),
        ("M20", "245", "8.8", 800, 640, 600, 147000, 147000),
        ("M24", "353", "8.8", 800, 640, 600, 211800, 212000),
        ("M6", "20.1", "10.9", 1000, 900, 830, 16683, 16700),
        ("M8", "36.6", "10.9", 1000, 900, 830, 30378, 30400),
        ("M10", "58.0", "10.9", 1000, 900, 830, 48140, 48100),
        ("M12", "84.3", "10.9", 1000, 900, 830, 69969, 70000),
        ("M16", "157", "10.9", 1000, 900, 830, 130310, 130000),
        ("M8", "36.6", "12.9", 1200, 1080, 970, 35502, 35500),
        ("M10", "58.0", "12.9", 1200, 1080, 970, 56260, 56300),
        ("M10", "58.0", "4.6", 400, 240, 225, 13050, 13000),
        ("M12", "84.3", "5.8", 500, 400, 380, 32034, 32000),
    ],
)
def test_property_classes(
    size: str, area: str, name: str, tensile: int, yields: int, proof: int, product: int, printed: int
) -> None:
    thread = parse_thread(size)
    strength = property_class(name, thread.diameter)
    assert (strength.tensile, strength.yields, strength.proof) == tuple(
        Quantity(value=Decimal(stress), unit="MPa") for stress in (tensile, yields, proof)
    )
    assert proof_load(Decimal(area), strength) == product
    assert printed_stress_area(thread) == Fraction(area)
    assert printed_proof_load(thread, name) == printed


def test_every_printed_load_is_the_product_within_a_hundredth() -> None:
    odd = set()
    for (diameter, name), printed in PROOF_LOADS.items():
        thread = parse_thread(f"M{float(diameter):g}")
        product = proof_load(printed_stress_area(thread), property_class(name, diameter))
        assert abs(printed - product) < product / 100
        if printed != round_digits(product, 3):
            odd.add(f"{float(diameter):g} {name}")
    assert {"10 8.8", "16 8.8"} <= odd
    assert len(odd) < 20
    assert len(PROOF_LOADS) == 20 * 9 - 9


@pytest.mark.parametrize(
    ("size", "name", "printed"),  # ISO 898-1 table of fine threads (recalled)
    [
        ("M8 x 1", "8.8", 22700),
        ("M10 x 1.25", "10.9", 50800),
        ("M12 x 1.25", "12.9", 89300),
        ("M14 x 1.5", "4.6", 28100),
    ],
)
def test_fine_threads(size: str, name: str, printed: int) -> None:
    assert printed_proof_load(parse_thread(size), name) == printed


@pytest.mark.parametrize(
    ("size", "area", "grade", "proof", "yields", "tensile", "load"),
    [  # published: SAE J429 table 1
        ("1/4-20", "0.0318", "5", 85, 92, 120, "2703"),
        ("5/16-18", "0.0524", "5", 85, 92, 120, "4454"),
        ("3/8-16", "0.0775", "5", 85, 92, 120, "6587.5"),
        ("3/8-16", "0.0775", "8", 120, 130, 150, "9300"),
        ("7/16-14", "0.1063", "8", 120, 130, 150, "12756"),
        ("1/2-13", "0.1419", "5", 85, 92, 120, "12061.5"),
        ("1/2-13", "0.1419", "8", 120, 130, 150, "17028"),
        ("1/2-20", "0.1599", "2", 55, 57, 74, "8794.5"),
    ],
)
def test_sae_grades(size: str, area: str, grade: str, proof: int, yields: int, tensile: int, load: str) -> None:
    thread = parse_thread(size)
    strength = strength_of(grade, thread)
    assert [s.in_unit("psi") / 1000 for s in (strength.proof, strength.yields, strength.tensile)] == [
        proof,
        yields,
        tensile,
    ]
    newtons = proof_load(Fraction(area) * Fraction("645.16"), strength)
    assert newtons == Fraction(load) * Fraction("4.4482216152605")


@pytest.mark.parametrize(
    ("grade", "diameter", "proof"),
    [
        ("2", "3/4", 55),
        ("2", "7/8", 33),
        ("5", "1", 85),
        ("5", "5/4", 74),
        ("1", "1/4", 33),
        ("4", "1/2", 65),
        ("5.2", "1", 85),
        ("7", "1", 105),
        ("8.2", "1", 120),
        ("8", "3/2", 120),
    ],
)
def test_sae_sizes(grade: str, diameter: str, proof: int) -> None:
    assert sae_grade(grade, Fraction(diameter)).proof.value == proof * 1000


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: property_class("8", 10), "'8' is not a property class"),
        (lambda: property_class("9.8", 18), "class 9.8 isn't made in M18"),
        (lambda: property_class("8.8", 42), "isn't made in M42"),
        (lambda: property_class("8.8", 40), "isn't made in M40"),
        (lambda: property_class("9.8", Fraction("16.5")), "isn't made in"),
        (lambda: sae_grade("5", Fraction(22, 100)), "isn't made in that size"),
        (lambda: sae_grade("3", Fraction(1, 2)), "'3' is not an SAE grade"),
        (lambda: sae_grade("5.2", Fraction(5, 4)), "grade 5.2 isn't made in that size"),
        (lambda: sae_grade("5", Fraction(1, 8)), "isn't made in that size"),
        (lambda: sae_grade("8", Fraction(2)), "isn't made in that size"),
        (lambda: strength_of("8.8", parse_thread("3/8-16")), "is not an SAE grade"),
    ],
)
def test_what_isn_t_made(make: object, said: str) -> None:
    with pytest.raises(StrengthError, match=said):
        make()  # type: ignore[operator]


def test_edges_and_sources() -> None:
    assert property_class("9.8", 16).proof.value == 650
    assert property_class("12.9", 39).proof.value == 970
    assert property_class("8.8", 16).proof.value == 580
    assert property_class("8.8", Fraction("16.5")).proof.value == 600
    assert strength_of("10.9", metric(12, 1)).name == "10.9"
    assert property_class("4.6", 6).source == "ISO 898-1:2013 table 3"
    assert sae_grade("5", 1).source == "SAE J429 table 1"
    assert sae_grade("5", 1).name == "5"
    assert list(PROOF_STRESSES.values()) == [225, 310, 280, 380, 440, 580, 650, 830, 970]
