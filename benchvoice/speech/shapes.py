"""The shapes that an utterance of a reading takes: plain, corrected, hedged, a range, a bound, or talk.

Only the words are looked at here. A shape is found by the words that the trade uses for it, each in a table below;
what the numbers inside it mean is decided elsewhere.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from benchvoice.speech.counting import DIGIT_VALUES, TEEN_VALUES, TEN_VALUES, ZERO_WORDS
from benchvoice.speech.measures import measures
from benchvoice.speech.numbers import Number
from benchvoice.speech.tokens import Words, is_figures
from benchvoice.speech.units import PART_TABLE, UNIT_TABLE


def _phrases(text: str) -> tuple[Words, ...]:
    """Phrases parted by commas, longest first, so that a short one can't shadow a longer one."""
    found = {tuple(phrase.split()) for phrase in text.split(",")}
    return tuple(sorted(found, key=lambda phrase: (-len(phrase), phrase)))


CORRECTIONS = _phrases(
    "no, correction, sorry, i mean, i meant, make that, scratch that, strike that, cancel that, disregard, rather,"
    "or rather, wrong, wait, no wait, no sorry, sorry no, actually, no actually, no make that, oops"
)
# "No" is not a correction where it belongs to a bound.
_NOT_CORRECTING = frozenset({"go", "goes", "more", "less", "bigger", "smaller", "over", "under"})

HEDGES = _phrases(
    "about, around, roughly, approximately, approx, nearly, almost, maybe, perhaps, possibly, probably, i think,"
    "i guess, i reckon, id say, i would say, say, call it, make it, or so, or thereabouts, thereabouts, ish,"
    "give or take, near enough, near as, as near as, close to, something like, looks like, could be, might be,"
    "should be, not quite, getting on for, and a bit, and a touch, and a shade, and a hair, and change, odd,"
    "a couple of, couple of, a few, more or less, in the region of, seems like, feels like, somewhere near,"
    "somewhere around, somewhere about, somewhere, a good, a bare, a fat, a scant, a strong, a full, good, bare, fat,"
    "scant, plus or minus, just, barely, only just, guess, estimate, as good as, it might be, between about, roughly"
)
_A_LITTLE = _phrases(
    "just, a bit, a little, slightly, a shade, a touch, a hair, a tad, a fraction, a whisker, a smidge, a gnats, well,"
    "way, only just, barely, marginally, a bit of, bit, touch, shade, tad, much, a lot, just a bit, just a touch"
)
_BEYOND = _phrases("over, under, above, below, more than, less than, more, less, shy of, short of, off, past")

BELOW = _phrases(
    "less than, under, below, smaller than, no more than, not more than, at most, up to, not over, no bigger than,"
    "not above, lower than, fewer than, no greater than, within"
)
ABOVE = _phrases(
    "more than, over, above, greater than, bigger than, at least, no less than, not less than, not under, larger than,"
    "not below, higher than, in excess of"
)
OR_LESS = _phrases("or less, or under, or below, maximum, max, at most, at the most, or smaller")
OR_MORE = _phrases("or more, or over, or above, minimum, at least, at the least, or bigger, plus")

GOES = _phrases(
    "goes, goes in, goes through, will go, will go in, go, go in, passes, fits, went, went in, enters, slides in,"
    "is in, is loose, is free, goes easily, goes freely, goes easy"
)
WONT = _phrases(
    "wont, wont go, wont go in, wont fit, wont pass, wont enter, will not, will not go, will not fit, doesnt,"
    "doesnt go, doesnt fit, doesnt go in, does not, does not go, does not fit, does not go in, no go, not, didnt,"
    "didnt go, did not, did not go, cant, stops, is too big, is too thick, too big, too thick, no"
)
NIPS = _phrases(
    "nips, nip, just nips, just goes, nips up, is tight, tight, drags, grips, goes tight, goes with a drag,"
    "is a tight fit, just drags, pinches"
)

# Words that alone are a value: nought as a deviation, nought as a height, and the name of the standard size.
ON_THE_MARK = _phrases("bang on, spot on, dead on, dead right, on the nose, right on, on size, dead nuts, on the mark")
FLUSH = _phrases("flush, dead flush, level, dead level")
STANDARD = _phrases("standard, standard size, std")

_NUMBER_WORDS = (
    frozenset(DIGIT_VALUES) | frozenset(TEEN_VALUES) | frozenset(TEN_VALUES) | {"hundred", "thousand"}
    | (ZERO_WORDS - {"oh", "o"})
    | {"half", "quarter", "quarters", "eighth", "eighths", "sixteenth", "sixteenths", "tenth", "tenths"}
    | {"hundredth", "hundredths", "thousandth", "thousandths"}
)  # fmt: skip
# What can only be a piece of a number.
PIECES = frozenset({"point", "minus", "plus", "double", "triple"})
_VAGUE = frozenset({"couple", "few", "several"})
_WEAK_WORDS = frozenset({"oh", "o", "point", "a", "an", "and", "of", "the", "minus", "plus", "double", "triple",
                         "third", "thirds", "second", "seconds", "fourth", "fourths", "halves", "to"})  # fmt: skip
_UNIT_WORDS = frozenset(word for phrase in (*UNIT_TABLE, *PART_TABLE) for word in phrase)


def has_number(words: Words) -> bool:
    """Whether any word is surely part of a number."""
    return any(word in _NUMBER_WORDS or word in _VAGUE or is_figures(word) for word in words)


def all_number_words(words: Words) -> bool:
    """Whether nothing but words of numbers, units and signs was said."""
    known = _NUMBER_WORDS | _WEAK_WORDS | _UNIT_WORDS
    return bool(words) and all(word in known or is_figures(word) for word in words)


def find(words: Words, phrases: Iterable[Words]) -> Iterator[tuple[int, int]]:
    """Where any of the phrases stands among the words, as (from, to); the longest first at each place."""
    for at in range(len(words)):
        for phrase in phrases:
            if words[at : at + len(phrase)] == phrase:
                yield at, at + len(phrase)


# --- corrections -----------------------------------------------------------------------------------------------------


def corrected(words: Words) -> tuple[Words, Words] | None:
    """What was said before and after the last correcting word: "four no five thou" is (four, five thou)."""
    if any(True for _ in find(words, _GOING)):
        return None
    last: tuple[int, int] | None = None
    for at, end in find(words, CORRECTIONS):
        follows = words[end] if end < len(words) else ""
        if words[at] == "no" and follows in _NOT_CORRECTING:
            continue
        if last is None or at >= last[1]:
            last = (at, end)
    if last is None:
        return None
    first = next(at for at, _ in find(words, CORRECTIONS))
    return words[:first], words[last[1] :]


_GOING = tuple(phrase for phrase in (*GOES, *NIPS) if phrase not in (("go",), ("tight",)))


# --- hedges ----------------------------------------------------------------------------------------------------------


def unhedged(words: Words) -> Words | None:
    """The words without those that make a number a guess; None when there are none: "about four thou" is "four thou".

    "Just over two thou" is a guess, where "two thou over" and "over two thou" are not.
    """
    kept: list[str] = []
    at, hedged = 0, False
    while at < len(words):
        length = _hedge_length(words, at)
        if length:
            hedged = True
            at += length
            continue
        word = words[at]
        stem = word.removesuffix("ish")
        if stem != word and (stem in _NUMBER_WORDS or stem in _UNIT_WORDS):
            hedged, word = True, stem
        kept.append(word)
        at += 1
    return tuple(kept) if hedged else None


def _hedge_length(words: Words, at: int) -> int:
    for little in _A_LITTLE:
        end = at + len(little)
        if words[at:end] == little:
            for beyond in _BEYOND:
                if words[end : end + len(beyond)] == beyond:
                    return len(little) + len(beyond)
    for phrase in HEDGES:
        if words[at : at + len(phrase)] == phrase:
            return len(phrase)
    return 0


# --- ranges ----------------------------------------------------------------------------------------------------------


def ranges(words: Words) -> Iterator[tuple[Words, Words]]:
    """The two ends of a range, every way it can be cut: "four to five thou", "between four and five"; one may be ()."""
    inner, joins = words, {"to", "or", "through"}
    if words[:1] == ("between",):
        inner, joins = words[1:], {"and", "to"}
    elif words[:1] == ("from",):
        inner = words[1:]
    for at, word in enumerate(inner):
        if word in joins:
            yield inner[:at], inner[at + 1 :]


# --- bounds ----------------------------------------------------------------------------------------------------------


class End(Enum):
    """Which end of an interval a number gives."""

    LOW = "at least"
    HIGH = "at most"
    NIP = "nips"


@dataclass(frozen=True, slots=True)
class Bound:
    """A number's words, and the end of the interval that it gives."""

    end: End
    words: Words


def bounds(words: Words) -> list[Bound]:
    """The ends of an interval that was said: "less than two thou", "two goes three won't", "eight nips"."""
    for phrases, end in ((BELOW, End.HIGH), (ABOVE, End.LOW)):
        for phrase in phrases:
            if words[: len(phrase)] == phrase and words[len(phrase) : len(phrase) + 1] != ("by",):
                return [Bound(end, words[len(phrase) :])]
    for phrases, end in ((OR_LESS, End.HIGH), (OR_MORE, End.LOW)):
        for phrase in phrases:
            if len(words) > len(phrase) and words[-len(phrase) :] == phrase:
                return [Bound(end, words[: -len(phrase)])]
    return _feeler(words)


_MARKS: tuple[tuple[Words, End], ...] = tuple(
    sorted(
        [(p, End.LOW) for p in GOES] + [(p, End.HIGH) for p in WONT] + [(p, End.NIP) for p in NIPS],
        key=lambda mark: -len(mark[0]),
    )
)
_JOINS = frozenset({"and", "but", "then"})


def _feeler(words: Words) -> list[Bound]:
    """Feeler leaves: each number with what its leaf does, in either order of "goes" and "won't"."""
    found: list[Bound] = []
    rest = words
    while rest:
        if rest[0] in _JOINS and found:
            rest = rest[1:]
            continue
        if found and rest[0] == "not":  # "two goes but not three"
            return [*found, Bound(End.HIGH, rest[1:])]
        mark = next(
            ((at, phrase, end) for at in range(1, len(rest)) for phrase, end in _MARKS
             if rest[at : at + len(phrase)] == phrase), None,
        )  # fmt: skip
        if mark is None:
            return []
        at, phrase, end = mark
        found.append(Bound(end, rest[:at]))
        rest = rest[at + len(phrase) :]
    return found


# --- units that are said once ----------------------------------------------------------------------------------------


_TWO = Number(value=Fraction(2))


def unit_tail(words: Words) -> Words:
    """The words of the unit at the end: "a hundred and five thousandths of an inch" gives the last four. () if none."""
    for start in range(1, len(words)):
        tail = words[start:]
        for found in measures(("two", *tail)):
            only = found.terms[0]
            if len(found.terms) == 1 and not only.bare and not found.signed and only.number == _TWO:
                return tail
    return ()


def sharing_unit(numbers: list[Words]) -> list[Words]:
    """Numbers of which one carries the unit of all: "two thou goes three does not"."""
    tails = {tail for number in numbers if (tail := unit_tail(number))}
    if len(tails) != 1:
        return numbers
    tail = tails.pop()
    return [number if unit_tail(number) else (*number, *tail) for number in numbers]
