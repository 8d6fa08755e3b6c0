import random

import pytest

from benchvoice.benchmarks.calibrate import Bin, Case, accepted, bins, fitted, main, plot, predicted, table
from benchvoice.ear.confidence import Policy, log_odds, probability
from benchvoice.ear.decode import Decoded, Word


def drawn(constant: float, slope: float, count: int = 4000) -> list[Case]:
    r = random.Random(1)
    found = []
    for number in range(count):
        least = r.uniform(0.2, 0.98)
        decoded = Decoded((Word("two", least, 0.0, 0.1),), 1.0, 0.1)
        right = r.random() < probability(decoded, Policy(constant, slope))
        found.append(Case(f"speaker {number % 40}", least, right, inside=number % 3 > 0))
    return found


def test_the_curve_that_made_the_cases_is_found() -> None:
    constant, slope = fitted(drawn(-0.7, 1.5))
    assert constant == pytest.approx(-0.7, abs=0.1)
    assert slope == pytest.approx(1.5, abs=0.12)


def test_nine_in_ten_are_right_where_it_says_so() -> None:
    some = drawn(0.4, 0.6)
    for each in bins(some, predicted(some)):
        assert each.right / each.count == pytest.approx(each.said, abs=0.06)


def test_a_speakers_own_clips_do_not_shape_what_is_said_of_them() -> None:
    others = [Case(f"s{number % 9}", 0.9, True, True) for number in range(900)]
    others += [Case(f"s{number % 9}", 0.3, number % 2 == 0, True) for number in range(90)]
    own = [Case("never right", 0.9, False, True)] * 500
    said = predicted([*others, *own], folds=10)
    assert said[-1] > 0.9
    assert log_odds(0.5) == 0


def test_what_is_printed_and_plotted() -> None:
    some = [Bin(0.42, 3, 10), Bin(0.95, 98, 100)]
    assert table(some).splitlines()[2:] == [
        "| 0.42 | 10 | 0.30 | 0.07 to 0.65 |",
        "| 0.95 | 100 | 0.98 | 0.93 to 1.00 |",
    ]
    assert plot(some).count("<circle") == 2
    two = [Case("a", 0.9, True, True), Case("a", 0.9, False, False)]
    assert accepted(two, [0.95, 0.91], 0.9) == "from 0.9: 1 right, 1 wrong (1 of them outside the grammar)"


def test_a_curve_is_fitted_on_dev_alone(capsys) -> None:
    with pytest.raises(SystemExit):
        main(["--speech", "nowhere", "--split", "test", "--write"])
    assert "dev alone" in capsys.readouterr().err


def test_without_recordings_it_says_what_is_missing(tmp_path, capsys) -> None:
    assert main(["--speech", str(tmp_path)]) == 2
    assert "manifest" in capsys.readouterr().err
