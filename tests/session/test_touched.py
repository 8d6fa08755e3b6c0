"""What was touched, from a person's words, on readings of five places: doubt falls on the harmful side."""

from pathlib import Path

import pytest

from benchvoice.session.state import State
from benchvoice.session.touched import understand_touched
from benchvoice.testing.bench import Bench

LAUNCH = Path(__file__).parents[2] / "procedures" / "launch-bottom-end.yaml"
ALL = "one two three four five"


@pytest.fixture(scope="module")
def state() -> State:
    """The main clearances are read, and the mains are being tightened."""
    bench = Bench(LAUNCH)
    bench.work_to("mains_stage_one")
    return bench.state


@pytest.mark.parametrize(
    ("text", "new", "kept"),
    [
        ("four", "four", ""),
        ("two three four", "two three four", ""),
        ("swapped two and three", "two three", ""),
        ("new shell on four, cleaned three and put it back", "four", "three"),
        ("cleaned two but three is new", "three", "two"),
        ("only four, new shell", "four", ""),
        ("two's shell is a new one", "two", ""),
        ("a new one in one", "one", ""),
        ("took four out and put it back", "four", ""),
        ("none but two", "two", ""),
        ("i did not touch three, two is new", "two", "three"),
        ("main four got a new shell the rest i left alone", "four", ""),
        ("two wiped three new four left alone", "two three four", ""),
        ("all five new", ALL, ""),
        ("the whole lot", ALL, ""),
        ("the crank is new", ALL, ""),
        ("cleaned everything", "", ALL),
        ("the caps were cleaned", "", ""),
        ("nothing changed", "", ""),
        ("i haven't touched anything", "", ""),
    ],
)
def test_what_is_new_and_what_stands(state: State, text: str, new: str, kept: str) -> None:
    """A clause with words of both sorts, and no pause in it, says that all it names are new."""
    said = understand_touched(state, ("main_clearance",), text)
    assert said.understood
    assert " ".join(place[0] for place in said.spoilt.get("main_clearance", ())) == new
    assert " ".join(place[0] for place in said.kept.get("main_clearance", ())) == kept


@pytest.mark.parametrize("text", ["not sure", "i don't know", "the caps", "both ends", "it was the brake"])
def test_what_says_nothing_is_asked_again(state: State, text: str) -> None:
    assert not understand_touched(state, ("main_clearance",), text).understood
