"""Spoken durations: "two and a half minutes", "an hour and a quarter", "one minute thirty", in seconds.

A duration is parts, longest first: a number or an article with a unit of time, or a fraction of one. A fraction after
a unit is of that unit ("an hour and a half"); a bare number at the end counts the next smaller unit ("one minute
thirty"). Words with two meanings are no duration: nothing is guessed.
"""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from benchvoice.speech import numbers
from benchvoice.speech.numbers import Form
from benchvoice.speech.sense import as_decimal
from benchvoice.speech.tokens import Words, words_of

# Seconds in each unit of time, by its words.
UNITS: dict[str, int] = {
    **dict.fromkeys(("second", "seconds", "sec", "secs", "s"), 1),
    **dict.fromkeys(("minute", "minutes", "min", "mins"), 60),
    **dict.fromkeys(("hour", "hours", "hr", "hrs", "h"), 3600),
    **dict.fromkeys(("day", "days"), 86400),
    **dict.fromkeys(("week", "weeks"), 604800),
}
_SMALLER = {604800: 86400, 86400: 3600, 3600: 60, 60: 1}

_Part = tuple[Fraction, int, int]  # seconds, size of the smallest unit named, place after


def parse_duration(text: str) -> Decimal | None:
    """The seconds of a spoken or typed duration; None when the words are none, or have two meanings."""
    words = words_of(text)
    found = {total for total, _, end in _duration(words, 0, 10**9) if end == len(words)}
    if len(found) != 1:
        return None
    total = found.pop()
    return as_decimal(total, 0) if numbers.terminates(total) else None


def _duration(words: Words, at: int, below: int) -> Iterator[_Part]:
    """A part with a unit smaller than ``below``, and the parts that may follow it."""
    for total, size, end in _part(words, at):
        if size >= below:
            continue
        yield total, size, end
        after = end + 1 if words[end : end + 1] == ("and",) else end
        for more, smaller, last in _duration(words, after, size):
            yield total + more, smaller, last
        if size in _SMALLER:
            for number, last in numbers.count(words, end):
                if number.value * _SMALLER[size] < size:
                    yield total + number.value * _SMALLER[size], _SMALLER[size], last


def _part(words: Words, at: int) -> Iterator[_Part]:
    """One amount of one unit: "ten minutes", "an hour and a half", "quarter of an hour"."""
    for amount, end in _amount(words, at):
        size = UNITS.get(words[end]) if end < len(words) else None
        if size is None:
            continue
        yield amount * size, size, end + 1
        if amount.denominator == 1 and words[end + 1 : end + 2] == ("and",):
            for part, last in numbers.fraction(words, end + 2):
                if last >= len(words) or words[last] not in ("a", "an"):  # half a minute
                    yield (amount + part.value) * size, size, last


def _amount(words: Words, at: int) -> Iterator[tuple[Fraction, int]]:
    """How many of the unit that follows: an article, a number, or a fraction with or without "of an"."""
    if words[at : at + 1] in (("a",), ("an",)):
        yield Fraction(1), at + 1
    elif at == 0 and words[:1] in (("hour",), ("minute",)):
        yield Fraction(1), at  # "hour and a half"
    for number, end in numbers.number(words, at):
        if number.form is Form.FIGURES:
            continue
        yield number.value, end
        if number.denominator is not None:
            after = end + 1 if words[end : end + 1] == ("of",) else end
            if words[after : after + 1] in (("a",), ("an",)):
                yield number.value, after + 1
