"""The real program killed with kill -9 at random moments, resumed each time: nothing that it said is lost.

A careful person's words are typed faster than they can be worked on, so that the kill falls anywhere: before the disk,
between the disk and the prompt, after it. What was printed must be in the log; the build must come to its end.
"""

import random
import sys
from datetime import datetime
from pathlib import Path

import pytest

from benchvoice.app.clock import ScriptClock, move
from benchvoice.app.conversation import facts_of, resume_event
from benchvoice.app.judging import judge_for
from benchvoice.app.person import next_words
from benchvoice.log import read_log, verify
from benchvoice.procedure.load import load_document
from benchvoice.session.core import step
from benchvoice.session.entries import Heard, Reading, Said
from benchvoice.session.events import Utterance
from benchvoice.session.state import State

if sys.platform == "win32":
    pytest.skip("needs fork", allow_module_level=True)

from tests.app.lives import Life

PROJECT = Path(__file__).parents[2]
HERE = PROJECT / "tests" / "conversations"
SMALL, TOOLS, DOUBT = HERE / "small.yaml", HERE / "tools.yaml", HERE / "doubt.yaml"
SHOP = ("--instruments", str(HERE / "shop-instruments.yaml"))
LIVES = 60
SEED = random.SystemRandom().randrange(2**32)


@pytest.mark.parametrize(("file", "more"), [(SMALL, ()), (TOOLS, SHOP), (DOUBT, ())], ids=["small", "tools", "doubt"])
def test_a_killed_build_loses_nothing_it_said(tmp_path: Path, file: Path, more: tuple[str, ...]) -> None:
    """Killed until the build is closed; every prompt that came out stands in the log, in order."""
    print(f"seed {SEED}")  # shown when the test fails
    moments = random.Random(SEED)
    build = tmp_path / "build"
    typed = ["ann"]
    for _ in range(LIVES):
        before = _said(build)
        printed = _live(build, typed, moments, (str(file), *more), more)
        after = _said(build)
        assert after[: len(before)] == before
        assert after[len(before) :][: len(printed)] == printed
        if not (build / "log.jsonl").exists():
            continue
        assert verify(build, judge_for(build)).fault is None
        state = State(load_document(file).procedure, facts_of(read_log(build).lines))
        if state.closed:
            break
        typed = _ahead(state, read_log(build).lines[-1].stamped.at, 15)
    else:
        raise AssertionError(f"not closed in {LIVES} lives; next would be {typed}")
    facts = facts_of(read_log(build).lines)
    heard = {row.entry.text for row in facts.all(Heard)}
    assert all(row.entry.said in heard for row in facts.all(Reading) if row.entry.counts_as not in ("computed", "mean"))


def _live(
    build: Path, typed: list[str], moments: random.Random, fresh: tuple[str, ...], more: tuple[str, ...]
) -> list[str]:
    """Start the program, type, kill it; returns the prompts that it had printed, without one cut off by the kill."""
    begin = ["--resume", str(build), *more] if (build / "log.jsonl").exists() else [*fresh, "--out", str(build)]
    life = Life("build", *begin, "--typed", "--clock", "script")
    first = life.read_line()
    life.type(typed)
    whole = first + life.kill(after=moments.uniform(0, 0.8))
    return [line.removesuffix("\n") for line in whole.splitlines(keepends=True) if line.endswith("\n")]


def _said(build: Path) -> list[str]:
    if not (build / "log.jsonl").exists():
        return []
    return [" ".join(row.entry.text.split()) for row in facts_of(read_log(build).lines).all(Said)]


def _ahead(state: State, at: datetime, most: int) -> list[str]:
    """What a careful person would type next, worked out on a copy of the state."""
    clock = ScriptClock(at, boot="ahead")
    copy, _ = step(state, resume_event(clock, None))
    found: list[str] = []
    for _ in range(most):
        words = next_words(copy, clock.now(), {"who is on": "ann"})
        if words is None:
            break
        found.append(words)
        if words.startswith("@"):
            move(clock, words, lambda: None, lambda: None)
            continue
        copy, _ = step(copy, Utterance(now=clock.now(), text=words))
    return found
