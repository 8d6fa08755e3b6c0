"""Every way in which words are a measured value: numbers with units, parts, fractions and signs.

The readers work as those of ``numbers``: each yields all readings with the place after them. A :class:`Measure` is
still only what was said; what it means in the step in hand is the matter of ``senses``.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from benchvoice.speech import numbers
from benchvoice.speech.numbers import Form, Number
from benchvoice.speech.tokens import Words
from benchvoice.speech.units import part_word, unit_word


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """A number and what it counts: a unit word, a decimal part (``part`` decimals), a part of a unit, or nothing."""

    number: Number
    unit: str | None = None
    part: int | None = None

    @property
    def bare(self) -> bool:
        return self.unit is None and self.part is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A value as it was said: its terms, largest first, its sign, and whether it is a ratio to one.

    ``side`` is the word that gave the sign when it was one of position ("over", "proud"), for it tells a height or an
    oversize from a plain number.
    """

    terms: tuple[Term, ...]
    sign: int = 1
    signed: bool = False
    side: str | None = None
    ratio: bool = False


_ARTICLES = ("a", "an", "one")

# Words of position that say on which side of flush, nominal or standard a value lies.
SIDES: dict[str, int] = {
    "over": 1, "oversize": 1, "proud": 1, "above": 1, "high": 1,
    "under": -1, "undersize": -1, "below": -1, "low": -1, "shy": -1,
}  # fmt: skip


_WHOLE = (("full",), ("whole",), ("complete",))

# What a value may be said to be over or under without saying anything new.
_AGAINST = (("standard",), ("size",), ("nominal",), ("flush",))


@lru_cache(maxsize=2048)  # one utterance asks the same of its pieces many times over, and hangs on nothing else
def measures(words: Words) -> tuple[Measure, ...]:
    """Every reading of all the words as one measured value, the plainest first, without repeats."""
    found = (measure for measure, end in measure_at(words, 0) if end == len(words))
    return tuple(sorted(dict.fromkeys(found), key=lambda measure: (len(measure.terms), measure.terms[-1].part or 0)))


def measure_at(words: Words, at: int) -> Iterator[tuple[Measure, int]]:
    """A value with its sign: "minus two tenths", "plus five", "twenty thou over", "proud by sixteen"."""
    sign, start, side = _leading_sign(words, at)
    for measure, end in _unsigned(words, start):
        if start > at:
            yield replace(measure, sign=sign, signed=True, side=side), end
            continue
        yield measure, end
        word = words[end] if end < len(words) else ""
        if word in SIDES:
            after = end + 2 if words[end + 1 : end + 2] in _AGAINST else end + 1
            yield replace(measure, sign=SIDES[word], signed=True, side=word), after


def _leading_sign(words: Words, at: int) -> tuple[int, int, str | None]:
    head = words[at : at + 2]
    if head[:1] in (("minus",), ("plus",)):
        return (-1 if head[0] == "minus" else 1), at + 1, None
    if len(head) == 2 and head[0] in SIDES and head[1] == "by":
        return SIDES[head[0]], at + 2, head[0]
    return 1, at, None


def _unsigned(words: Words, at: int) -> Iterator[tuple[Measure, int]]:
    for first, end in term(words, at):
        yield Measure(terms=(first,)), end
        if words[end : end + 2] == ("to", "one"):
            yield Measure(terms=(first,), ratio=True), end + 2
        for second, last in _second_term(words, end, first):
            yield Measure(terms=(first, second)), last


def _second_term(words: Words, at: int, first: Term) -> Iterator[tuple[Term, int]]:
    """What may follow a first term: "one thou | five tenths", "one | and five thousandths", "two turns | and forty"."""
    joined = words[at : at + 1] == ("and",)
    start = at + 1 if joined else at
    for second, end in term(words, start):
        if second.bare:
            # "two turns and forty three" on a dial, "one minute thirty"
            if first.unit in ("turn", "min", "h") and second.number.form is not Form.FRACTION:
                yield second, end
        elif first.bare:
            # "one and five thousandths": without "and" the figures would run together
            if joined and second.part is not None and second.number.form is Form.COUNT:
                yield second, end
        elif first.unit != second.unit or first.part != second.part:
            yield second, end


def term(words: Words, at: int) -> Iterator[tuple[Term, int]]:
    """One number with what it counts, in every form the trade uses."""
    yield from _article_and_unit(words, at)
    for found, end in numbers.number(words, at):
        yield Term(number=found), end
        yield from _counted(words, end, found)


def _article_and_unit(words: Words, at: int) -> Iterator[tuple[Term, int]]:
    """ "A thou", "an inch and a half", "a tenth of a millimetre"."""
    if words[at : at + 1] not in (("a",), ("an",)):
        return
    one = Number(value=Fraction(1))
    for found, end in _named(words, at + 1, one):
        yield found, end
        yield from _and_fraction(words, end, found)


def _counted(words: Words, at: int, found: Number) -> Iterator[tuple[Term, int]]:
    for counted, end in _named(words, at, found):
        yield counted, end
        yield from _and_fraction(words, end, counted)
    decimals = found.form is Form.POINT and found.value < 1 and words[at : at + 1] == ("of",)
    if decimals or found.denominator is not None:
        # "half a thou", "a quarter of a thou", "three quarters of a turn", "point five of a thou"
        start = at + 1 if words[at : at + 1] == ("of",) else at
        if words[start : start + 1] in (("a",), ("an",), ("the",)):
            yield from _named(words, start + 1, found)
        elif start > at:
            yield from _named(words, start, found)


def _and_fraction(words: Words, at: int, counted: Term) -> Iterator[tuple[Term, int]]:
    """ "A thou | and a half", "two inches | and five eighths": the fraction is of the same unit."""
    front = counted.number
    if words[at : at + 1] != ("and",) or front.value.denominator != 1:
        return
    for part, end in numbers.fraction(words, at + 1):
        whole = replace(part, value=front.value + part.value, supplied=front.supplied, denominator=None)
        yield replace(counted, number=whole), end


def _named(words: Words, at: int, found: Number) -> Iterator[tuple[Term, int]]:
    """The number with a unit, a decimal part, or a part of a unit after it."""
    if words[at : at + 1] in _WHOLE and words[at + 1 : at + 2] in (("turn",), ("turns",)):
        at += 1
    for name, end in unit_word(words, at):
        yield Term(number=found, unit=name), end
    for places, end in part_word(words, at):
        if places == 3 and _runs_into_ten(words, at, found):
            continue
        yield Term(number=found, part=places), end
        for start in _of(words, end):
            for name, last in unit_word(words, start):
                yield Term(number=found, part=places, unit=name), last


def _of(words: Words, at: int) -> Iterator[int]:
    """Where the unit stands in "of a thou", "of an inch", "of millimetres", or straight after the part."""
    if words[at : at + 1] == ("of",):
        yield at + 2 if words[at + 1 : at + 2] in (("a",), ("an",)) else at + 1
    else:
        yield at


def _runs_into_ten(words: Words, at: int, found: Number) -> bool:
    """In "five ten thousandths" the ten belongs to the part: five and ten are not figures of thousandths."""
    return found.form is Form.FIGURES and words[at - 1] == "ten"
