"""Words that sound alike are told apart by the words beside them."""

import pytest

from benchvoice.speech.homophones import settle_homophones


@pytest.mark.parametrize(
    ("heard", "meant"),
    [
        ("zero point for", "zero point four"),
        ("hotel for one seven", "hotel four one seven"),
        ("for thou", "four thou"),
        ("point to", "point two"),
        ("to", "two"),
        ("all for done", "all four done"),
        ("zero point fourth thou", "zero point four thou"),
        ("point eight sixth four", "point eight six four"),
        ("nine zero eighth six", "nine zero eight six"),
        ("nine zero eighth six four", "nine zero eight six four"),
        ("three eighths", "three eighths"),
        ("point to five", "point two five"),
        ("number to five done", "number two five done"),
        ("number to to five done", "number two to five done"),
        ("hotel for seven", "hotel four seven"),
        ("all for", "all four"),
        ("got for done", "got four done"),
        ("got for of six", "got four of six"),
        ("go back to number for", "go back to number four"),
        ("number for done", "number four done"),
        ("one to ten done", "one to ten done"),
        ("left for later", "left for later"),
        ("leave it for later", "leave it for later"),
        ("stopping for the day", "stopping for the day"),
        ("for the day", "for the day"),
        ("for the day now", "for the day now"),
        ("go back to main clearance", "go back to main clearance"),
    ],
)
def test_neighbours_decide(heard: str, meant: str) -> None:
    assert " ".join(settle_homophones(tuple(heard.split()))) == meant
