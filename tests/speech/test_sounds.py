"""What may be mistaken for what."""

import pytest

from benchvoice.speech.sounds import partners


@pytest.mark.parametrize(
    ("text", "alike"),
    [
        ("fifteen newton metres", ["fifty newton metres"]),
        ("a thousand and fifty", ["a thousand and fifteen"]),
        ("fifteen hundred", ["fifty hundred"]),
        ("nineteen point oh one", ["ninety point oh one"]),
        ("two fifty", ["two fifteen"]),
        ("fifty oh one", ["fifteen oh one"]),
        ("fifteen fifty", ["fifty fifty", "fifteen fifteen"]),
        ("ten thousandths", ["a ten thousandth"]),
        ("ten thousandths of an inch", ["a ten thousandth of an inch"]),
        ("ten thousandth", ["a ten thousandth"]),
        ("ten thousandth of an inch", ["a ten thousandth of an inch"]),
        ("sixty five", []),
        ("twenty thou", []),
        ("twelve thou", []),
        ("fifteen thirty seconds", []),
        ("thirteen sixty fourths", []),
        ("a thirty second", []),
        ("thirty seconds", ["thirteen seconds"]),
        ("fifteen ten thousandths", ["fifty ten thousandths"]),
        ("five ten thousandths", []),
        ("fifteen sixteenths of an inch", []),
        ("a thirty second of an inch", []),
        ("fifteen thirty seconds of an inch", []),
    ],
)
def test_partners(text, alike):
    assert [" ".join(words) for words in partners(tuple(text.split()))] == alike
