import shlex

import pytest

from tests.app.conftest import Command


def test_a_torque_with_an_adapter(benchvoice: Command) -> None:
    """Statics of the lever: 30 x 12 / (12 + 6) = 20."""
    done = benchvoice("reckon", "adapter", "torque=30ft_lb", "lever=12in", "adapter=6in")
    assert (done.status, done.err) == (0, "")
    assert done.out.splitlines()[0] == "set: 20 ft_lb"


def test_as_json_with_formula_and_source(benchvoice: Command) -> None:
    answer = benchvoice("reckon", "adapter", "torque=30ft_lb", "lever=12in", "adapter=6in", "--json").answer
    assert answer["results"]["set"] == {"value": "20", "unit": "ft_lb"}
    assert answer["formula"]
    assert answer["source"]


def test_every_example_of_the_list_runs(benchvoice: Command) -> None:
    entries = benchvoice("reckon", "--list", "--json").answer
    assert len(entries) > 50
    for entry in entries:
        done = benchvoice("reckon", *shlex.split(entry["example"]))
        assert done.status == 0, entry["example"]
        assert f"by {entry['formula']} [{entry['source']}]" in done.out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Name one computation with its inputs, or ask for --list."),
        (("adaptor",), "there is no reckoning 'adaptor': did you mean 'adapter'?"),
        (("adapter", "torque"), "'torque' is no input: write key=value"),
        (("adapter", "torque=1N_m", "torque=2N_m"), "torque is given twice."),
    ],
)
def test_wrong_use(benchvoice: Command, arguments: tuple[str, ...], told: str) -> None:
    done = benchvoice("reckon", *arguments)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith(told)
