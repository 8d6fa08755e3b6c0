"""Threads: table values of ISO 724, ISO 898-1 and ASME B1.1 (recalled; coarse metric areas seen in public copies)."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.tighten.threads import (
    COARSE_PITCHES,
    Thread,
    ThreadError,
    metric,
    parse_thread,
    printed_stress_area,
    unified,
)

HALF_A_UNIT = Fraction("0.0005")


@pytest.mark.parametrize(
    ("size", "d2", "d3", "nut", "area", "printed"),
    [
        ("M5", "4.480", "4.019", "4.134", "14.183", "14.2"),
        ("M6", "5.350", "4.773", "4.917", "20.123", "20.1"),
        ("M8", "7.188", "6.466", "6.647", "36.609", "36.6"),
        ("M10", "9.026", "8.160", "8.376", "57.990", "58.0"),
        ("M12", "10.863", "9.853", "10.106", "84.267", "84.3"),
        ("M14", "12.701", "11.546", "11.835", "115.439", "115"),
        ("M16", "14.701", "13.546", "13.835", "156.668", "157"),
        ("M20", "18.376", "16.933", "17.294", "244.794", "245"),
        ("M24", "22.051", "20.319", "20.752", "352.504", "353"),
        ("M8 x 1", "7.350", "6.773", "6.917", "39.167", "39.2"),
        ("M10 x 1.25", "9.188", "8.466", "8.647", "61.199", "61.2"),
        ("M12 x 1.25", "11.188", "10.466", "10.647", "92.072", "92.1"),
        ("M14 x 1.5", "13.026", "12.160", "12.376", "124.546", "125"),
    ],
)
def test_metric(size: str, d2: str, d3: str, nut: str, area: str, printed: str) -> None:
    thread = parse_thread(size)
    assert abs(thread.pitch_diameter - Fraction(d2)) <= HALF_A_UNIT
    assert abs(thread.root_diameter - Fraction(d3)) <= HALF_A_UNIT
    assert abs(thread.nut_bore - Fraction(nut)) <= HALF_A_UNIT
    assert abs(thread.stress_area - Fraction(area)) <= HALF_A_UNIT
    assert printed_stress_area(thread) == Fraction(printed)


@pytest.mark.parametrize(
    ("size", "printed"),  # ISO 898-1 table of coarse threads, seen in a public copy
    [
        ("M3", "5.03"),
        ("M3.5", "6.78"),
        ("M4", "8.78"),
        ("M7", "28.9"),
        ("M18", "192"),
        ("M22", "303"),
        ("M27", "459"),
        ("M30", "561"),
        ("M33", "694"),
        ("M36", "817"),
        ("M39", "976"),
    ],
)
def test_more_printed_areas(size: str, printed: str) -> None:
    assert printed_stress_area(parse_thread(size)) == Fraction(printed)


@pytest.mark.parametrize(
    ("size", "area", "printed"),
    [
        ("1/4-20", "0.03182", "0.0318"),
        ("5/16-18", "0.05243", "0.0524"),
        ("3/8-16", "0.07749", "0.0775"),
        ("7/16-14", "0.10631", "0.1063"),
        ("1/2-13", "0.14190", "0.1419"),
        ("9/16-12", "0.18194", "0.182"),
        ("1/4-28", "0.03637", "0.0364"),
        ("3/8-24", "0.08783", "0.0878"),
        ("7/16-20", "0.11872", "0.1187"),
        ("1/2-20", "0.15995", "0.1599"),
    ],
)
def test_unified(size: str, area: str, printed: str) -> None:
    thread = parse_thread(size)
    assert thread.inch
    assert abs(thread.stress_area / Fraction("645.16") - Fraction(area)) <= Fraction("0.000005")
    assert printed_stress_area(thread) == Fraction(printed)


@pytest.mark.parametrize(
    ("size", "printed"),  # ASME B1.1 table (recalled)
    [
        ("5/16-24", "0.0580"),
        ("5/8-11", "0.226"),
        ("5/8-18", "0.256"),
        ("3/4-10", "0.334"),
        ("3/4-16", "0.373"),
        ("7/8-9", "0.462"),
        ("1-8", "0.606"),
        ("#10-24", "0.0175"),
        ("#10-32", "0.0200"),
        ("#8-32", "0.0140"),
    ],
)
def test_more_printed_inch_areas(size: str, printed: str) -> None:
    assert printed_stress_area(parse_thread(size)) == Fraction(printed)


@pytest.mark.parametrize(
    ("text", "thread"),
    [
        ("M12 x 1.75", metric(12, Fraction("1.75"))),
        ("m12x1.75", metric(12, Fraction("1.75"))),
        ("M12 × 1.25", metric(12, Fraction("1.25"))),
        (" M  6  coarse", metric(6, 1)),
        ("M10 x 1.25 fine", metric(10, Fraction("1.25"))),
        ("M3.5", metric(Fraction("3.5"), Fraction("0.6"))),
        ("M9 x 1.0", metric(9, 1)),
        ("3/8-16 UNC", unified(Fraction(3, 8), 16)),
        ("7/16 - 20 unf", unified(Fraction(7, 16), 20)),
        ("1-8", unified(1, 8)),
        ("1 1/4-7", unified(Fraction(5, 4), 7)),
        ("1-1/4-7 UNC", unified(Fraction(5, 4), 7)),
        ("No. 10-32", unified(Fraction(19, 100), 32)),
        ("no 6-32", unified(Fraction(138, 1000), 32)),
    ],
)
def test_threads_as_written(text: str, thread: Thread) -> None:
    assert parse_thread(text) == thread


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("M9", "has no coarse pitch"),
        ("", "is not a thread"),
        ("bolt", "is not a thread"),
        ("-16", "is not a thread"),
        ("3/0-16", "is not a thread"),
        ("M12 x", "is not a thread"),
        ("M12 x 1.75 left", "is not a thread"),
        ("M2 x 1.75", "well below its diameter"),
        ("M0 x 0", "above nothing"),
        ("3/8-0", "threads per inch are more than nothing"),
        ("3/8-1", "well below its diameter"),
    ],
)
def test_what_is_not_a_thread(text: str, said: str) -> None:
    with pytest.raises(ThreadError, match=said):
        parse_thread(text)


def test_coarse() -> None:
    assert parse_thread("M10").coarse
    assert not parse_thread("M10 x 1.25").coarse
    assert not unified(Fraction(10) / Fraction("25.4"), Fraction("25.4") / Fraction("1.5")).coarse
    assert len(COARSE_PITCHES) == 23
    with pytest.raises(ThreadError):
        unified(1, -8)
    assert metric(2, 1).pitch == 1


@given(st.fractions(1, 100), st.fractions(Fraction(1, 100), Fraction(1, 2)))
def test_diameters_stand_in_order(diameter: Fraction, share: Fraction) -> None:
    thread = metric(diameter, diameter * share)
    assert thread.root_diameter < thread.nut_bore < thread.pitch_diameter < thread.diameter
    assert thread.root_diameter < thread.stress_diameter < thread.pitch_diameter
    finer = metric(diameter, thread.pitch / 2)
    assert finer.stress_area > thread.stress_area


def test_printed_inch_areas_are_the_formula_to_their_last_figure() -> None:
    sizes = [
        "#0-80",
        "#5-44",
        "#6-40",
        "#12-24",
        "9/16-18",
        "7/8-14",
        "1-12",
        "1 1/8-7",
        "1 1/4-12",
        "1 3/8-6",
        "1 1/2-12",
    ]
    for size in [*sizes, "5/16-24", "1/2-20"]:
        thread = parse_thread(size)
        formula = thread.stress_area / Fraction("645.16")
        assert abs(printed_stress_area(thread) - formula) < formula / 200


def test_an_inch_thread_out_of_the_table_is_printed_to_three_figures() -> None:
    assert printed_stress_area(parse_thread("1 1/8-8")) == Fraction("0.790")  # seen in a public copy
    assert printed_stress_area(parse_thread("5/16-32")) == Fraction("0.0625")
