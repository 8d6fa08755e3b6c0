"""The table of commands: words that the ear has, and utterances that are no command."""

from itertools import chain
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.ear.words import missing
from benchvoice.session import evenness, lubrication, warmth
from benchvoice.session.commands import COMMANDS, find
from benchvoice.session.commands.choosing import CHOOSING
from benchvoice.session.commands.reckoning import RECKONING
from benchvoice.session.commands.stock import STOCK
from benchvoice.session.commands.values import VALUES
from benchvoice.session.core import step
from benchvoice.session.effects import Say, Write
from benchvoice.session.events import Utterance
from benchvoice.session.reckoned import MATERIALS, UNIT_PHRASES
from benchvoice.session.sayable import sayable
from benchvoice.session.state import State
from benchvoice.testing.bench import Bench
from benchvoice.tighten.lubricant import condition_of


def test_the_ear_has_every_word_of_every_command() -> None:
    words = {
        word
        for command in COMMANDS
        for phrase in (*command.says, *command.leads, *MATERIALS, *chain(*UNIT_PHRASES.values()))
        for word in phrase.split()
    }
    assert missing(words) == []


def test_the_ear_has_every_word_that_is_asked_for_of_threads_and_warmth() -> None:
    of_threads = (*lubrication.CONDITIONS, *lubrication.CHANGED, *lubrication.ALL_THE_SAME)
    phrases = (*of_threads, *warmth.NEVER, *warmth.AT_LEAST, *warmth.VAGUE, *warmth.DAYS, *evenness.AGAIN)
    assert missing({word for phrase in phrases for word in phrase.split()}) == []
    assert all(condition_of(each) for each in lubrication.CONDITIONS[:7])


def test_times_and_temperatures_can_be_heard_where_they_are_asked() -> None:
    bench = Bench(Path(__file__).parents[1] / "conversations" / "warmth.yaml")
    bench.say("ann")
    assert {"cold", "hot", "it ran"} <= set(sayable(bench.state))
    assert "hours" not in sayable(bench.state)
    bench.say("cold")
    assert {"hours", "half", "ago", "it has not run"} <= set(sayable(bench.state))
    bench.work_to("seat")
    assert {"celsius", "twenty"} <= set(sayable(bench.state))
    assert "it ran" not in sayable(bench.state)


def test_letters_are_listened_for_where_a_mark_is_read_and_not_beside_yes_or_no() -> None:
    bench = Bench(Path(__file__).parents[1] / "conversations" / "small.yaml")
    bench.work_to("stamp")
    assert {"s", "two", "sierra"} <= set(sayable(bench.state))
    bench.mumble("two zero")
    assert {"yes", "no"} <= set(sayable(bench.state))
    assert "s" not in sayable(bench.state)


def test_a_remark_may_be_of_any_word_in_the_procedure() -> None:
    bench = Bench(Path(__file__).parents[1] / "conversations" / "small.yaml")
    bench.work_to("stamp")
    assert "lips" not in sayable(bench.state)
    bench.work_to("looks")
    assert {"lips", "seal", "the"} <= set(sayable(bench.state))


def test_names_and_forms_are_told_apart() -> None:
    names = [command.name for command in COMMANDS]
    assert len(set(names)) == len(names)
    said = [phrase for command in COMMANDS for phrase in command.says]
    assert len(set(said)) == len(said)


@pytest.mark.parametrize(
    ("words", "name", "rest"),
    [
        ("what's that in thou", "what's that in", "thou"),
        ("what is that in foot pounds", "what's that in", "foot pounds"),
        ("what's twelve thou in millimetres", "what's that in", "twelve thou in millimetres"),
        ("what's next", "what's next", ""),
        ("what's in the tray", "what's in the tray", ""),
        ("what shims for twelve", "what shims for", "twelve"),
        ("what shims four one point three", "what shims for", "one point three"),
        ("add to the tray one of point one five", "add to the tray", "one of point one five"),
        ("take the second one", "take it", "second one"),
        ("twenty five h seven g six", "limits of a fit", "twenty five h seven g six"),
        ("what's that at twenty for steel at thirty", "what's that at twenty", "for steel at thirty"),
        ("what do i set with the crowfoot at ninety degrees", "what do i set with the crowfoot", "at ninety degrees"),
        ("and with the crowfoot at ninety degrees", "what do i set with the crowfoot", "at ninety degrees"),
        ("what should i set it to", "what do i set", ""),
        ("how do i make up eighteen", "what makes up", "eighteen"),
        ("what feelers do i need for eighteen thou", "what leaves for", "eighteen thou"),
        ("what shims do i need for twelve", "what shims for", "twelve"),
        ("what shims do i need", "what shims do i need", ""),
        ("how many thou is that", "what's that in", "thou is that"),
        ("how many thou in a tenth of a millimetre", "what's that in", "thou in a tenth of a millimetre"),
        ("twelve thou in millimetres", "what's that in", "twelve thou in millimetres"),
        ("and in millimetres", "what's that in", "millimetres"),
        ("what's that in metric", "what's that in", "metric"),
        ("convert that to imperial", "what's that in", "that to imperial"),
        ("convert twelve thou into millimetres", "what's that in", "twelve thou into millimetres"),
        ("what feeler blades for eighteen", "what leaves for", "eighteen"),
        ("what's the mean", "what's the mean", "mean"),
        ("what is the interference", "what's the mean", "interference"),
        ("what's the interference of thirty h seven p six", "limits of a fit", "thirty h seven p six"),
        ("what's twenty five h seven g six", "limits of a fit", "twenty five h seven g six"),
        ("what are the limits for a thirty k six shaft", "limits of a fit", "a thirty k six shaft"),
        ("what do i need", "what do i need", ""),
        ("which rod goes with which piston", "which goes with which", "which rod goes with which piston"),
        ("what preload is that", "what's the clamp load", ""),
        ("what lash shim for twelve with two eighty fitted", "what lash shim for", "twelve with two eighty fitted"),
    ],
)
def test_questions_are_found(words: str, name: str, rest: str) -> None:
    found = find(COMMANDS, words)
    assert found is not None
    assert (found.command.name, found.rest) == (name, rest)


@pytest.mark.parametrize(
    "words",
    [
        "what's the meaning", "convert the boat", "one to ten",
        "what's the weather", "what is he doing", "take the bolt", "what's that in the corner", "twenty five h seven",
        "what lash shim for twelve", "what's that at twenty for cheese", "four b", "two point eight", "one more of it",
        "twelve in thou", "two and a half in inches", "that one in the tray", "how do i make tea", "how many bolts",
        "in a minute", "and in the corner", "what's a thirty", "with the hammer", "what makes you say so",
    ],
)  # fmt: skip
def test_talk_is_no_command(words: str) -> None:
    assert find(COMMANDS, words) is None


def test_questions_move_nothing() -> None:
    asking = ("what's that in", "what shims for", "what leaves for", "limits of a fit", "what's that at twenty")
    assert not any(command.changes for command in COMMANDS if command.name in asking)


QUESTIONS = tuple(
    lead
    for command in (*STOCK, *RECKONING, *VALUES, *CHOOSING)
    if not command.changes
    for lead in (*command.says, *command.leads)
)
TAILS = tuple(
    " ".join(
        (
            "zero one two twelve fifteen eighty one thirty point one five half a hundredths thou millimetre",
            "millimetres inch newton metres foot pounds bar with fitted for four steel at thirty degrees h seven",
            "g six k hole shaft washers shims left right number two in and goes minus nought of the per square",
            "centimetre kilos mil tenths cubic",
        )
    ).split()
)
PROCEDURES = Path(__file__).parents[2] / "procedures"


PLACES = ("reduction-gear end_play", "launch-bottom-end ring_gaps", "launch-valve-lash lash_nine")


@pytest.fixture(scope="module", params=PLACES)
def place(request: pytest.FixtureRequest) -> State:
    """In the middle of a build, with readings and packs."""
    name, step = request.param.split()
    bench = Bench(PROCEDURES / f"{name}.yaml")
    bench.work_to(step)
    bench.work_for(2)
    return bench.state


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_any_question_is_answered_and_changes_nothing(place: State, data: st.DataObject) -> None:
    """Whatever follows an opening: nothing raises, nothing is written but what was heard and said."""
    words = [data.draw(st.sampled_from(QUESTIONS)), *data.draw(st.lists(st.sampled_from(TAILS), max_size=7))]
    text = " ".join(words)
    now = place.facts.rows()[-1].now
    after, effects = step(place, Utterance(now=now, text=text))
    written = {effect.entry.kind for effect in effects if isinstance(effect, Write)}
    assert written <= {"heard", "said", "unclear"} or find(COMMANDS, text) is None
    assert after.facts.void == place.facts.void
    assert any(isinstance(effect, Say) for effect in effects)
