"""Folding of builds that were brought in and change: whatever happens there, and whenever this one is killed."""

from itertools import pairwise
from pathlib import Path

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from benchvoice.session.entries import BroughtIn, BroughtInChanged, BroughtMark
from benchvoice.session.entries_brought import Trouble
from benchvoice.session.facts import fold
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.plan import answers
from benchvoice.session.sub_builds import brought, changed_items, undecided_changes
from benchvoice.testing.bench import Bench

HERE = Path(__file__).parents[1] / "conversations"


def rotor(reading: str = "zero point one eight") -> Bench:
    """A rotor, worked to its end but for closing."""
    bench = Bench(HERE / "sub-rotor.yaml", machine="heron")
    bench.say("ann", "old shaft", "yes", "hotel four one seven", "yes", reading, "zero point two zero", "done")
    return bench


def pump(other: Bench) -> Bench:
    bench = Bench(HERE / "sub-pump.yaml")
    bench.beside.benches["gannet"] = other
    bench.say("ann", "yes")
    if not brought(bench.state.facts):
        bench.say("because it is at hand")
    return bench


def test_what_comes_along() -> None:
    bench = pump(rotor())
    (row,) = brought(bench.state.facts).values()
    assert (row.entry.build, row.entry.title, row.entry.machine) == ("gannet", "Rotor", "heron")
    assert not row.entry.closed
    assert row.entry.marks == (BroughtMark(step="stamp", read="the stamp on the rotor", value="H417"),)
    assert row.entry.choices == (("shaft", "old shaft"), ("ring", "thin ring"))
    assert row.entry.computed == (("float.widest", "0.2 mm"),)
    assert answers(bench.state.facts)["ring"] == "thin ring"


def test_an_answer_that_is_none_here_is_said_and_asked() -> None:
    other = Bench(HERE / "sub-rotor.yaml")
    other.say("ann", "special shaft", "yes")
    other.work_to(None)
    bench = pump(other)
    assert "which is no answer here" in bench.heard[0]
    assert bench.say("done") == ["Which shaft? Old shaft or new shaft."]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"choices": (("ring", "thick"),)}, ("ring thick, and was thin",)),
        ({"choices": ()}, ("ring was thin, and doesn't count any more",)),
        ({"marks": (BroughtMark(step="stamp", read="the stamp", value="2"),)}, ("the stamp 2, and was 1",)),
        ({"computed": (("float.widest", "3 mm"),)}, ("widest 3 mm, and was not known",)),
        ({"open_items": ("cap loose",)}, ("open now: cap loose",)),
        ({"owed": ()}, ("done: balance",)),
        ({"closed": False}, ("open again",)),
        ({}, ()),
    ],
)
def test_what_has_changed_in_words(change: dict[str, object], said: tuple[str, ...]) -> None:
    marks = (BroughtMark(step="stamp", read="the stamp", value="1"),)
    same = {"choices": (("ring", "thin"),), "marks": marks, "owed": ("balance",), "closed": True}
    old = BroughtIn.model_validate({"build": "gannet", "head": "1" * 64, **same})
    assert changed_items(old, OtherBuild(name="gannet", head="2" * 64, **{**same, **change}))[0] == said  # type: ignore[arg-type]


THERE = st.sampled_from(
    ["go back to float", "yes", "zero point two eight", "zero point one two", "done", "wrong", "finding scored",
     "measure again because it was dirty", "close the build", "go back to stamp", "hotel four one eight"]
)  # fmt: skip
HERE_SAID = st.sampled_from(
    ["ann", "done", "hotel four one seven", "hotel four one eight", "zero point one five", "five newton metres",
     "all two done", "close the build", "stands because it is", "stands", "take it as it is now", "yes", "no",
     "do those steps again", "go back to rotor", "bring in the rotor", "because it is so", "wrong", "look again"]
)  # fmt: skip
WHAT: dict[str, Trouble] = {"lose": "missing", "damage": "damaged", "find": ""}
MOVES = st.one_of(
    st.tuples(st.just("there"), THERE),
    st.tuples(st.just("here"), HERE_SAID),
    st.tuples(st.just("kill"), st.sampled_from(["1s", "3h"])),
    st.tuples(st.sampled_from(list(WHAT)), st.just("")),
)


@settings(max_examples=120, deadline=None)
@given(st.lists(MOVES, max_size=25))
def test_changes_fold_whatever_happens(moves: list[tuple[str, str]]) -> None:
    """The log alone gives the state; a change is noted once; nothing closes over one without a decision."""
    other = rotor()
    bench = pump(other)
    for what, text in moves:
        if what == "there":
            other.say(text)
        elif what == "here":
            bench.say(text)
        elif what == "kill":
            bench.kill_and_resume(away=text)
            for row in brought(bench.state.facts).values():  # first thing: the log has the other build as it is
                now = bench.beside.again(bench.state, bench.clock.now())[0]
                noted = [each.entry for each in bench.state.facts.of(BroughtInChanged) if each.entry.entry == row.n]
                assert (now.head, now.trouble) == (
                    (noted[-1].head, noted[-1].trouble) if noted else (row.entry.head, "")
                )
        else:
            bench.beside.trouble["gannet"] = WHAT[what]
        facts = bench.state.facts
        assert fold(bench.written) == facts
        assert len(brought(facts)) <= 1
        heads = [(row.entry.entry, row.entry.head, row.entry.trouble) for row in facts.all(BroughtInChanged)]
        assert all(one != other for one, other in pairwise(heads))
        if bench.state.closed:
            kinds = [entry.kind for entry, _ in bench.written]
            assert not undecided_changes(fold(bench.written[: kinds.index("closed")]))
            return
