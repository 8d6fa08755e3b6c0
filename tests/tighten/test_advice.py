"""Advice on clamp load: said with its scatter, never a figure changed."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.advice import (
    SCATTER,
    Method,
    angle_advice,
    clamp_advice,
    reuse_advice,
    stretch_advice,
    torque_advice,
)
from benchvoice.tighten.lubricant import CONDITIONS
from benchvoice.tighten.preload import PreloadError
from benchvoice.tighten.strength import strength_of
from benchvoice.tighten.stretch import in_the_grip
from benchvoice.tighten.threads import area_of, parse_thread

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


# Scenario: M9 x 1.0 10.9 over 48 mm, 5.4 to 6.0 thou is 71 to 78 per cent of 830 MPa (E 205 GPa).
@pytest.mark.parametrize(("thou", "per_cent"), [("5.4", "71"), ("6.0", "78")])
def test_a_stretched_bolt(thou: str, per_cent: str) -> None:
    thread = parse_thread("M9 x 1.0")
    longer = Fraction(thou) * Fraction("0.0254")
    advice = stretch_advice(longer, longer, in_the_grip(thread, 48), thread, strength_of("10.9", thread))
    assert round(100 * advice.likely / advice.proof) == int(per_cent)
    assert (advice.least, advice.greatest) == (advice.likely * Fraction(95, 100), advice.likely * Fraction(105, 100))
    assert not advice.past_yield


def test_anything_between_two_lengths() -> None:
    bolt = in_the_grip(M10, 60)
    low, high = (stretch_advice(longer, longer, bolt, M10, CLASS_10_9) for longer in (Fraction(1, 10), Fraction(3, 20)))
    both = stretch_advice(Fraction(1, 10), Fraction(3, 20), bolt, M10, CLASS_10_9)
    assert (both.least, both.greatest) == (low.least, high.greatest)
    assert both.likely == (low.likely + high.likely) / 2
    assert both.sentence.startswith("About 20 kilonewtons to 30 kilonewtons, 5 percent either way: ")


def test_a_bolt_past_its_yield_bears_what_it_yields_at() -> None:
    """10.9 yields at 900 MPa, nominally (ISO 898-1): 58.0 mm2 x 900 MPa."""
    advice = angle_advice(180, 20000, in_the_grip(M10, 60), M10, CLASS_10_9)
    assert advice.past_yield
    assert advice.likely == 52200
    assert advice.greatest == 52200 * Fraction(115, 100)
    assert advice.sentence.startswith("About 52 kilonewtons, where it yields, 15 percent either way: ")
    under = angle_advice(30, 20000, in_the_grip(M10, 60), M10, CLASS_10_9)
    assert (under.past_yield, under.likely < 52200) == (False, True)


@given(st.integers(1, 90), st.integers(1, 400))
def test_a_joint_that_gives_never_clamps_more(degrees: int, joint: int) -> None:
    bolt = in_the_grip(M10, 60)
    rigid = angle_advice(degrees, 5000, bolt, M10, CLASS_10_9)
    giving = angle_advice(degrees, 5000, bolt, M10, CLASS_10_9, joint * 1000)
    assert giving.likely <= rigid.likely
    assert giving.likely < rigid.likely or rigid.past_yield


@pytest.mark.parametrize("load", [0, -1])
def test_a_load_is_more_than_nothing(load: int) -> None:
    with pytest.raises(PreloadError, match="more than nothing; correct"):
        clamp_advice(load, Method.STRETCH, M10, CLASS_10_9)


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
