import pytest

from tests.app.conftest import Command


def test_a_reading_as_json(benchvoice: Command) -> None:
    done = benchvoice("parse", "four and a half thou", "--unit", "in", "--json")
    assert done.status == 0
    assert done.answer == {
        "action": "take",
        "value": "0.0045",
        "unit": "in",
        "heard_unit": "thou",
        "low": "0.0045",
        "high": "0.0045",
        "resolution": "0.0005",
        "decimals": 4,
        "candidates": [],
        "reason": "",
    }


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("forty one newton metres", "--unit", "N_m"), "take: 41 N_m\n"),
        (("at least ten", "--unit", "thou"), "bound: 10 or more thou\n"),
        (("four goes five won't", "--unit", "thou"), "bound: 4 to 5 thou\n"),
        (("sixty newton metres", "--unit", "N_m"), "read back: 60 N_m (it sounds like another number)\n"),
        (("sixty pound", "--unit", "ft_lb"), "ask again (pounds of what?; 60 ft_lb, 60 in_lb)\n"),
    ],
)
def test_a_reading_in_words(benchvoice: Command, words: tuple[str, ...], told: str) -> None:
    assert benchvoice("parse", *words).out == told


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--unit", "furlong"), "'furlong' is not a unit: use one such as "),
        (("--unit", "in", "--low", "little"), "The low limit 'little' is no number: "),
        (("--work", "imperial"), "Work is inch or metric, not 'imperial'."),
    ],
)
def test_options_that_mean_nothing_are_wrong_use(benchvoice: Command, options: tuple[str, ...], told: str) -> None:
    done = benchvoice("parse", "one", *options)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith(told)
    assert done.err.count("\n") == 1


def test_a_limit_below_zero_is_a_limit(benchvoice: Command) -> None:
    done = benchvoice("parse", "minus one thou", "--unit", "thou", "--low", "-2", "--high", "2", "--json")
    assert done.answer["value"] == "-1"
