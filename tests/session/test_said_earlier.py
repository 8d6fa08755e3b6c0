"""What says that something was done at another time, and talk that only sounds like it."""

import pytest

from benchvoice.ear.words import missing
from benchvoice.session.said_earlier import WHEN, said_earlier


@pytest.mark.parametrize(
    "text",
    [
        "i did stage one last night", "i already did stage one", "stage one was done last night",
        "stage one's done already", "bo did stage one yesterday", "we torqued them all last night",
        "i've torqued stage one", "all four done yesterday", "they're all done from last night", "did it last night",
        "i did the head bolts on tuesday", "already done", "was already done last week", "done that already",
        "i measured it last night, point one five", "it was point one five last night", "it was witnessed last night",
        "i put the bead on last night", "the bead was put on ten minutes ago", "bo's already torqued it",
        "i checked it an hour ago", "done yesterday",
    ],
)  # fmt: skip
def test_said_of_another_time(text: str) -> None:
    assert said_earlier(text)


@pytest.mark.parametrize(
    "text",
    [
        "did you see the match last night", "is it done already", "we did not do c yet did we", "have you done c",
        "it was cold last night", "i was here last night", "was it done yesterday", "it wasn't done last night",
        "done", "all four done", "who did it last night", "i'll do it before lunch", "has bo done it already",
        "two point eight", "see you last night", "a done", "already", "before", "did the post come yesterday",
    ],
)  # fmt: skip
def test_talk_says_nothing_of_another_time(text: str) -> None:
    assert not said_earlier(text)


def test_the_ear_has_every_time() -> None:
    assert missing({word for phrase in WHEN for word in phrase.split()}) == []
