"""The table of commands: words that the ear has, and utterances that are no command."""

from itertools import chain

import pytest

from benchvoice.ear.words import missing
from benchvoice.session.commands import COMMANDS, find
from benchvoice.session.reckoned import MATERIALS, UNIT_PHRASES


def test_the_ear_has_every_word_of_every_command() -> None:
    words = {
        word
        for command in COMMANDS
        for phrase in (*command.says, *command.leads, *MATERIALS, *chain(*UNIT_PHRASES.values()))
        for word in phrase.split()
    }
    assert missing(words) == []


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
        "what's the weather", "what is he doing", "take the bolt", "what's that in the corner", "twenty five h seven",
        "what lash shim for twelve", "what's that at twenty for cheese", "four b", "two point eight", "one more of it",
    ],
)  # fmt: skip
def test_talk_is_no_command(words: str) -> None:
    assert find(COMMANDS, words) is None


def test_questions_move_nothing() -> None:
    asking = ("what's that in", "what shims for", "what leaves for", "limits of a fit", "what's that at twenty")
    assert not any(command.changes for command in COMMANDS if command.name in asking)
