"""People at a bench talk to each other: whatever is asked, their talk writes nothing but that it was heard."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from benchvoice.session.core import step
from benchvoice.session.effects import Write
from benchvoice.session.events import Utterance
from benchvoice.session.state import State
from benchvoice.testing.bench import Bench

CONVERSATIONS = Path(__file__).parents[1] / "conversations"
TALK = (
    "no, leave that one, nine's done", "no leave that one nine's done", "is bo taking over", "so bo's taking over",
    "bo, have you done three", "pass me the fifteen", "what do you reckon, two thou or three", "i'd leave it",
    "it's not free", "is it free", "nearly done", "hang on bo", "that's the wrong one", "skip lunch", "the red one",
    "is the bead on", "did you turn it", "shall we close the build", "two of them are rusty",
    "did it last night did you", "back in a bit", "back to front", "left a bit", "nothing fits", "none of these fit",
    "all but the kettle", "first one's stuck", "half past nine", "ten minutes on the bead", "yes the other one",
    "no two sugars", "done yet", "stop messing about",
)  # fmt: skip
KEPT = {"heard", "unclear", "said"}


def _states(procedure: str) -> Iterator[State]:
    """The build before everything that a careful person says, once for each step and question."""
    bench, seen = Bench(CONVERSATIONS / procedure), set()
    for _ in range(200):
        question = bench.state.talk.question
        where = (bench.at, question.name if question is not None else None)
        if where not in seen and not (question is not None and question.takes_anything and question.about != "name"):
            seen.add(where)
            yield bench.state
        if not bench.work_for(1):
            return


@pytest.mark.parametrize("procedure", ["small.yaml", "witness.yaml", "labels.yaml", "follow-up.yaml"])
def test_talk_moves_nothing(procedure: str) -> None:
    moved = []
    for state in _states(procedure):
        now = state.facts.rows()[-1].now
        for text in TALK:
            _, effects = step(state, Utterance(now=now, text=text))
            written = {effect.entry.kind for effect in effects if isinstance(effect, Write)} - KEPT
            if written:
                question = state.talk.question
                moved.append((text, question.name if question is not None else "", sorted(written)))
    assert moved == []
