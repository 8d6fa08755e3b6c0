"""Talk that is not understood is answered twice in a row, then by a tone alone, and moves nothing at any time."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import hypothesis.strategies as st
import pytest
from hypothesis import given

from benchvoice.session.commands import COMMANDS
from benchvoice.session.commands.pausing import STOP
from benchvoice.session.core import step
from benchvoice.session.effects import Effect, Hush, Say, ToneAlone, Write
from benchvoice.session.entries import Unclear
from benchvoice.session.events import Utterance
from benchvoice.session.quiet import ANSWERS, LAST
from benchvoice.session.state import State
from benchvoice.testing.bench import Bench
from tests.session.test_careless import EVERY, WORDS
from tests.session.test_talk import KEPT, TALK

CONVERSATIONS = Path(__file__).parents[1] / "conversations"
DOCUMENTS = ("small.yaml", "witness.yaml", "labels.yaml", "threads.yaml", "warmth.yaml")
TRUSTED = ("the red one", "pass me the fifteen", "what do you reckon, two thou or three")
"""Talk that the ear trusts and that is nothing that can be said, whatever is asked."""

STOPPING = {text for command in COMMANDS if command.name == STOP for text in command.says}
SAYABLE = [text for text in (*WORDS, *EVERY, *TALK) if text not in STOPPING]
"""What can be said and talk, but for "stop", which is always obeyed."""


@cache
def states() -> list[State]:
    """The builds before each thing that a careful person says, but where any words are kept as a remark."""
    found = []
    for name in DOCUMENTS:
        bench, seen = Bench(CONVERSATIONS / name), set()
        for _ in range(200):
            question = bench.state.talk.question
            where = (bench.at, question.name if question is not None else None)
            if where not in seen and not bench.state.takes_any_words:
                seen.add(where)
                found.append(bench.state)
            if not bench.work_for(1):
                break
    return found


def hear(state: State, text: str, *, doubtful: str | None = "I am not sure of the words") -> tuple[State, list[Effect]]:
    now = state.facts.rows()[-1].now
    after, effects = step(state, Utterance(now=now, text=text, via="voice", doubtful=doubtful))
    return after, list(effects)


def kinds(effects: list[Effect]) -> set[str]:
    return {effect.entry.kind for effect in effects if isinstance(effect, Write)}


def said(effects: list[Effect]) -> list[str]:
    return [effect.text for effect in effects if isinstance(effect, Say)]


@given(where=st.integers(0), texts=st.lists(st.sampled_from(SAYABLE), max_size=6, unique=True))
def test_what_the_ear_does_not_trust_moves_nothing_and_is_answered_twice(where: int, texts: list[str]) -> None:
    state, answers = states()[where % len(states())], 0
    for text in texts:
        after, effects = hear(state, text)
        assert kinds(effects) <= KEPT
        if answers == ANSWERS:
            assert [type(effect) for effect in effects] == [Write, ToneAlone]
            assert kinds(effects) == {"unclear"}
            assert replace(after.talk, toned="") == replace(state.talk, toned="")
        answers += len(said(effects))
        assert [LAST in text for text in said(effects)] in ([], [answers == ANSWERS])
        state = after


@pytest.mark.parametrize("text", TRUSTED)
def test_trusted_talk_that_is_not_placed_counts_with_the_rest(text: str) -> None:
    tried = 0
    for state in states():
        once, first = hear(state, text, doubtful=None)
        twice, effects = hear(once, "pass me a rag", doubtful=None)
        if "unclear" not in kinds(first) & kinds(effects):
            continue  # it is a name, a reason, or something else comes first
        tried += 1
        assert said(effects)[0].endswith(f"{LAST}.")
        after, effects = hear(twice, text, doubtful=None)
        (write, tone) = effects
        assert isinstance(write, Write)
        assert isinstance(write.entry, Unclear)
        assert write.entry.reason != "I am not sure of the words"
        assert tone == ToneAlone("not heard")
        assert after.talk == twice.talk
    assert tried > len(states()) // 2


def test_what_is_typed_always_gets_its_words() -> None:
    bench = Bench(CONVERSATIONS / "small.yaml")
    bench.work_to("gap")
    for _ in range(ANSWERS + 1):
        bench.mumble("pass me a rag")
    assert bench.heard == [ToneAlone.text]
    assert bench.say("pass me a rag") == ["I can't place that."]
    assert bench.mumble("pass me a rag") == [ToneAlone.text]  # for what is typed tells nothing of the ear


def test_again_does_not_repeat_that_only_a_tone_will_follow() -> None:
    bench = Bench(CONVERSATIONS / "small.yaml")
    bench.work_to("gap")
    bench.mumble("pass me a rag")
    (last,) = bench.mumble("point one five")
    assert bench.speak("say again") == [last.removesuffix(f" {LAST}.")]


def test_a_doubtful_stop_is_obeyed_among_tones() -> None:
    state = states()[0]
    for text in ("the red one", "pass me the fifteen", "two of those"):
        state, effects = hear(state, text)
    assert [type(effect) for effect in effects if not isinstance(effect, Write)] == [ToneAlone]
    _, effects = hear(state, "stop")
    assert [type(effect) for effect in effects if not isinstance(effect, Write)] == [Hush]
