from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.windows import (
    Age,
    BadTime,
    BadWindow,
    Window,
    WindowState,
    age_across_restart,
    age_by_monotonic,
    jumped,
    pace,
    remaining,
    state,
    warnings_at,
)

D = Decimal
BEAD = Window(closes=D(480), warnings=(D(300), D(420)))
CURE = Window(opens=D(7200))
SECONDS = st.integers(min_value=0, max_value=20_000)


def age(seconds, most=None, doubtful=False):
    return Age(least=Fraction(seconds), most=Fraction(seconds if most is None else most), doubtful=doubtful)


@pytest.mark.parametrize(
    ("window", "seconds", "found"),
    [
        (BEAD, 0, WindowState.OPEN),
        (BEAD, 480, WindowState.OPEN),
        (BEAD, 481, WindowState.LATE),
        (CURE, 7199, WindowState.EARLY),
        (CURE, 7200, WindowState.OPEN),
        (CURE, 10**7, WindowState.OPEN),
        (Window(opens=D(300), closes=D(1200)), 299, WindowState.EARLY),
        (Window(opens=D(300), closes=D(1200)), 300, WindowState.OPEN),
        (Window(opens=D(300), closes=D(1200)), 1201, WindowState.LATE),
    ],
)
def test_state(window, seconds, found):
    assert state(window, age(seconds)) is found


def test_states_in_words():
    assert [str(one) for one in WindowState] == ["too early", "open", "too late", "can't say"]


def test_doubt_goes_to_the_harmful_side():
    # What must not be exceeded is judged by the longer age, what must have passed by the shorter.
    assert state(BEAD, age(478, 482)) is WindowState.LATE
    assert state(CURE, age(7198, 7202)) is WindowState.EARLY


def test_clocks_that_disagree_never_say_that_there_is_time_left():
    assert state(BEAD, age(100, 200, doubtful=True)) is WindowState.DOUBTFUL
    assert state(BEAD, age(100, 900, doubtful=True)) is WindowState.DOUBTFUL
    assert state(BEAD, age(480, 900, doubtful=True)) is WindowState.DOUBTFUL
    assert state(BEAD, age(481, 900, doubtful=True)) is WindowState.LATE
    assert state(CURE, age(7199, 9000, doubtful=True)) is WindowState.EARLY
    assert state(CURE, age(7200, 9000, doubtful=True)) is WindowState.OPEN


def test_remaining_is_by_the_longer_age():
    assert remaining(BEAD, age(100, 110)) == 370
    assert remaining(BEAD, age(500)) == -20
    assert remaining(CURE, age(100)) is None


def test_age_inside_one_process():
    assert age_by_monotonic(D("1000.0"), D("1420.5")) == age("420.5")
    assert age_by_monotonic(5, 5) == age(0)
    with pytest.raises(BadTime, match=r"^the monotonic clock went backwards: the two readings aren't of one process$"):
        age_by_monotonic(5, 4)


@pytest.mark.parametrize(
    ("passed", "wall", "found"),
    [(420, 420, False), (420, 425, False), (420, 426, True), (420, 415, False), (420, -3180, True)],
)
def test_wall_clock_that_was_set(passed, wall, found):
    assert jumped(passed, wall) is found


def test_age_across_a_restart():
    assert age_across_restart(wall=600, known=400, gap=200) == age(600)
    assert age_across_restart(wall=602, known=400, gap=200) == age(600, 602)
    assert age_across_restart(wall=598, known=400, gap=200) == age(598, 600)
    assert age_across_restart(wall=605, known=400, gap=200) == age(600, 605)
    assert age_across_restart(wall=606, known=400, gap=200) == age(600, 606, doubtful=True)
    # Set back while nothing ran, so that the gap is below nought: at least what is known.
    assert age_across_restart(wall=300, known=400, gap=-100) == age(400, 400, doubtful=True)
    assert age_across_restart(wall=399, known=400, gap=0) == age(400, 400, doubtful=True)
    assert age_across_restart(wall=400, known=400, gap=0) == age(400)
    assert age_across_restart(wall=500, known=400, gap=-1) == age(400, 500, doubtful=True)


@given(SECONDS, SECONDS, SECONDS)
def test_known_time_never_gets_lost(wall, known, gap):
    found = age_across_restart(wall=wall, known=known, gap=gap)
    assert known <= found.least <= found.most
    assert found.most >= min(known + gap, max(wall, known + gap))


@given(SECONDS, SECONDS, st.booleans())
def test_an_older_bead_is_never_better(one, further, doubtful):
    rank = {WindowState.OPEN: 0, WindowState.DOUBTFUL: 1, WindowState.LATE: 2}
    younger, older = age(one, doubtful=doubtful), age(one + further, doubtful=doubtful)
    assert rank[state(BEAD, older)] >= rank[state(BEAD, younger)]


@pytest.mark.parametrize(
    ("opens", "closes", "warnings", "words"),
    [
        (D(-1), None, (), "a window from -1 s to None s is never open: mend its times"),
        (D(10), D(10), (), "a window from 10 s to 10 s is never open: mend its times"),
        (D(0), D(0), (), "a window from 0 s to 0 s is never open: mend its times"),
        (D(0), D(480), (D(0),), "a warning at 0 s is not inside the window: put it before the end"),
        (D(0), D(480), (D(300), D(480)), "a warning at 480 s is not inside the window: put it before the end"),
        (D(0), None, (D(-5),), "a warning at -5 s is not inside the window: put it before the end"),
    ],
)
def test_windows_that_cannot_be(opens, closes, warnings, words):
    with pytest.raises(BadWindow) as fault:
        Window(opens=opens, closes=closes, warnings=warnings)
    assert str(fault.value) == words


def test_warnings_come_forward_and_are_never_put_off():
    assert warnings_at(BEAD) == (300, 420)
    assert warnings_at(BEAD, Fraction(1, 2)) == (150, 210)
    assert warnings_at(BEAD, 2) == (300, 420)
    for factor in (0, -1):
        with pytest.raises(BadTime, match="can't be: give one above nought"):
            warnings_at(BEAD, factor)


# Common practice, no source: half for every ten degrees.
@pytest.mark.parametrize(
    ("temperature", "factor"), [(20, 1), (30, D("0.5")), (40, D("0.25")), (10, 2), (25, D("0.70710678"))]
)
def test_pace(temperature, factor):
    assert abs(pace(temperature) - Fraction(factor)) < Fraction(1, 10**8)


def test_pace_by_another_rule():
    assert abs(pace(28, label=18, halving=5) - Fraction(1, 4)) < Fraction(1, 10**30)
    assert pace(150) < pace(-50)


@pytest.mark.parametrize(
    ("temperature", "label", "halving"), [(151, 20, 10), (-51, 20, 10), (20, 151, 10), (20, -51, 10), (20, 20, 0)]
)
def test_no_bench_is_so_hot(temperature, label, halving):
    with pytest.raises(BadTime, match="is no bench: give temperatures from -50 to 150 degC"):
        pace(temperature, label, halving)


def test_a_warning_may_be_early_and_a_bench_at_the_ends_of_the_range():
    assert Window(closes=D(5), warnings=(D("0.5"),)).warnings == (D("0.5"),)
    assert abs(pace(150, label=150) - 1) < Fraction(1, 10**30)
    assert abs(pace(-50, label=-50, halving=Fraction(1, 2)) - 1) < Fraction(1, 10**30)
