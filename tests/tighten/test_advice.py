"""Advice on clamp load: said with its scatter, never a figure changed."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.advice import SCATTER, Method, area_of, clamp_advice, reuse_advice, torque_advice
from benchvoice.tighten.lubricant import CONDITIONS
from benchvoice.tighten.strength import strength_of
from benchvoice.tighten.threads import parse_thread

M10 = parse_thread("M10 x 1.5")
M6 = parse_thread("M6")
CLASS_10_9 = strength_of("10.9", M10)


def test_moly_greased_head_nuts() -> None:
    advice = torque_advice(65, "N_m", CONDITIONS["moly grease"], M10, CLASS_10_9)
    assert advice.likely == Fraction(65000, 1) / Fraction("1.2")
    assert advice.least == advice.likely * Fraction(3, 4)
    assert advice.greatest == advice.likely * Fraction(5, 4)
    assert advice.proof == 48140
    assert advice.past_proof
    said = "About 54 kilonewtons, a quarter either way: 80 to 145 percent of proof load, which may be past it."
    assert advice.sentence == said


def test_a_dry_sump_bolt() -> None:
    advice = torque_advice(9, "N_m", CONDITIONS["dry"], M6, strength_of("8.8", M6))
    assert advice.likely == 7500
    assert not advice.past_proof
    assert advice.sentence == "About 7.5 kilonewtons, a third either way: 40 to 90 percent of proof load."


def test_an_inch_bolt() -> None:
    thread = parse_thread("3/8-16")
    advice = torque_advice(31, "ft_lb", CONDITIONS["plated"], thread, strength_of("5", thread))
    assert area_of(thread) == Fraction("0.0775") * Fraction("645.16")
    assert abs(advice.proof - Fraction("29302.66")) < 1
    assert advice.sentence.startswith("About 22 kilonewtons, a third either way: 45 to 105 percent")


@pytest.mark.parametrize(
    ("load", "said"),
    [
        ("940", "940 newtons"),
        ("994", "990 newtons"),
        ("996", "1 kilonewtons"),
        ("1040", "1 kilonewtons"),
        ("1049", "1 kilonewtons"),
        ("1060", "1.1 kilonewtons"),
        ("9900", "9.9 kilonewtons"),
        ("9960", "10 kilonewtons"),
        ("10400", "10 kilonewtons"),
        ("43480", "43 kilonewtons"),
        ("143480", "140 kilonewtons"),
        ("55", "55 newtons"),
    ],
)
def test_loads_are_said_to_two_figures(load: str, said: str) -> None:
    advice = clamp_advice(Fraction(load), Method.STRETCH, M10, CLASS_10_9)
    assert advice.sentence.startswith(f"About {said}, 5 percent either way: ")


@pytest.mark.parametrize(
    ("method", "share", "said"),
    [
        (Method.FEEL, "0.35", "a third"),
        (Method.TORQUE_DRY, "0.35", "a third"),
        (Method.TORQUE_LUBRICATED, "0.25", "a quarter"),
        (Method.ANGLE, "0.15", "15 percent"),
        (Method.STRETCH, "0.05", "5 percent"),
    ],
)
def test_scatter_by_method(method: Method, share: str, said: str) -> None:  # NASA RP-1228 (recalled)
    advice = clamp_advice(10000, method, M10, CLASS_10_9)
    assert SCATTER[method] == Fraction(share)
    assert advice.greatest - advice.likely == advice.likely - advice.least == 10000 * Fraction(share)
    assert f", {said} either way: " in advice.sentence


@given(st.integers(1, 200000), st.sampled_from(list(Method)))
def test_the_percentages_never_flatter(load: int, method: Method) -> None:
    advice = clamp_advice(load, method, M10, CLASS_10_9)
    low = int(advice.sentence.split(": ")[1].split()[0])
    high = int(advice.sentence.split(" to ")[1].split()[0])
    assert low <= 100 * advice.least / advice.proof < low + 5
    assert high - 5 < 100 * advice.greatest / advice.proof <= high
    assert advice.past_proof is ("past it" in advice.sentence)


def test_the_lubricant_decides_the_method() -> None:
    for name, condition in CONDITIONS.items():
        advice = torque_advice(40, "N_m", condition, M10, CLASS_10_9)
        assert ("a third" in advice.sentence) is (name in ("dry", "plated"))


def test_at_proof_load_exactly_is_not_past_it() -> None:
    advice = clamp_advice(48140 / (1 + Fraction(SCATTER[Method.ANGLE])), Method.ANGLE, M10, CLASS_10_9)
    assert advice.greatest == advice.proof
    assert not advice.past_proof
    assert advice.sentence.endswith("to 100 percent of proof load.")


def test_reuse() -> None:  # common practice, no source
    assert reuse_advice(into_yield=True, used_before=True) == (
        "only if the maker allows it and the length is inside his limit"
    )
    assert reuse_advice(into_yield=True, used_before=False) is None
    assert reuse_advice(into_yield=False, used_before=True) is None
