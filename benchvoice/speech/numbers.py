"""Every way in which words are a number.

A grammar for speech must not choose: "ninety five four" is 954, 95.4 and 95.04, and only the step in hand can tell.
So each rule here is a *reader*: a function of the words and a place among them that yields every number which starts
there, with the place after it. The rules carry the names a person would give them (a count, figures, a number with a
point, a fraction); :func:`numbers` collects the readings that take all the words.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from benchvoice.speech.counting import DIGIT_VALUES, TEEN_VALUES, TEN_VALUES, ZERO_WORDS
from benchvoice.speech.tokens import Words, is_figures


class Form(Enum):
    """How a number was said, which is what tells doubtful numbers from plain ones."""

    COUNT = "a count"  # "a hundred and five"
    FIGURES = "figures"  # "one oh five", "two fifty": no point and no "hundred" said
    POINT = "a number with a point"  # "nought point nought five"
    FRACTION = "a fraction"  # "three eighths", "four and a half"


class Supplied(Enum):
    """What a listener has to add to what was said before it is a number."""

    HUNDRED = "hundred"  # "two fifty"
    TENS_AFTER_POINT = "figures after the point"  # "point forty"
    ARTICLE = "how many hundred"  # "hundred and five": the front may be lost


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """One reading of some words as a number.

    ``value`` is exact; ``places`` how many decimals were said; ``step`` the smallest step that the words imply.
    ``groups`` are figures as they were said together ("ninety five", "four": ``("95", "4")``).
    ``part`` is the denominator when the number is a fraction less than one, said alone.
    """

    value: Fraction
    places: int = 0
    step: Fraction = Fraction(1)
    form: Form = Form.COUNT
    groups: tuple[str, ...] = ()
    supplied: frozenset[Supplied] = frozenset()
    denominator: int | None = None

    @property
    def figures(self) -> str:
        """The figures in one string: "oh two five" is "025"."""
        return "".join(self.groups)


_MULTIPLES = {"double": 2, "triple": 3}
DENOMINATORS: dict[tuple[str, ...], int] = {
    ("half",): 2, ("halves",): 2, ("third",): 3, ("thirds",): 3, ("quarter",): 4, ("quarters",): 4,
    ("fourth",): 4, ("fourths",): 4, ("sixth",): 6, ("sixths",): 6, ("eighth",): 8, ("eighths",): 8,
    ("twelfth",): 12, ("twelfths",): 12, ("sixteenth",): 16, ("sixteenths",): 16,
    ("thirty", "second"): 32, ("thirty", "seconds"): 32, ("sixty", "fourth"): 64, ("sixty", "fourths"): 64,
}  # fmt: skip


def numbers(words: Words) -> list[Number]:
    """Every reading of all the words as one number."""
    return [found for found, end in number(words, 0) if end == len(words)]


def number(words: Words, at: int) -> Iterator[tuple[Number, int]]:
    """A number of any form."""
    counted, spelled, written = list(count(words, at)), list(figures(words, at)), list(typed(words, at))
    yield from counted
    yield from spelled
    yield from _with_point(words, at, [*counted, *spelled])
    yield from written
    yield from fraction(words, at)
    yield from _whole_and_fraction(words, [*counted, *spelled, *written])


def _word(words: Words, at: int) -> str:
    return words[at] if at < len(words) else ""


# --- counts: "sixty", "a hundred and twenty five", "twenty one hundred", "one thousand and five" ---------------------


def below_hundred(words: Words, at: int) -> Iterator[tuple[int, int]]:
    """One to ninety nine: "nine", "fifteen", "sixty", "sixty five"."""
    word = _word(words, at)
    if word in DIGIT_VALUES:
        yield DIGIT_VALUES[word], at + 1
    elif word in TEEN_VALUES:
        yield TEEN_VALUES[word], at + 1
    elif word in TEN_VALUES:
        yield TEN_VALUES[word], at + 1
        ones = DIGIT_VALUES.get(_word(words, at + 1))
        if ones is not None:
            yield TEN_VALUES[word] + ones, at + 2


def _rest(words: Words, at: int, below: Callable[[Words, int], Iterator[tuple[int, int]]]) -> Iterator[tuple[int, int]]:
    """What follows "hundred" or "thousand": nothing, or a smaller count with or without "and"."""
    yield 0, at
    yield from below(words, at)
    if _word(words, at) == "and":
        yield from below(words, at + 1)


def _hundreds(words: Words, at: int) -> Iterator[tuple[int, int]]:
    """A count with "hundred": "a hundred", "two hundred and five", "fifteen hundred", and "hundred" alone."""
    fronts = [(1, at + 1)] if _word(words, at) == "a" else list(below_hundred(words, at))
    if _word(words, at) == "hundred":
        fronts.append((1, at))
    for many, end in fronts:
        if _word(words, end) == "hundred":
            for rest, last in _rest(words, end + 1, below_hundred):
                yield 100 * many + rest, last


def _below_thousand(words: Words, at: int) -> Iterator[tuple[int, int]]:
    yield from below_hundred(words, at)
    yield from _hundreds(words, at)


def _thousands(words: Words, at: int) -> Iterator[tuple[int, int]]:
    fronts = [(1, at + 1)] if _word(words, at) == "a" else list(_below_thousand(words, at))
    for many, end in fronts:
        if _word(words, end) == "thousand":
            for rest, last in _rest(words, end + 1, _below_thousand):
                yield 1000 * many + rest, last


def count(words: Words, at: int) -> Iterator[tuple[Number, int]]:
    """A whole number as it is counted. "Fifteen hundred" implies steps of a hundred, "thirty" steps of one."""
    if _word(words, at) in ZERO_WORDS:
        yield Number(value=Fraction(0)), at + 1
    for reader in (below_hundred, _hundreds, _thousands):
        for value, end in reader(words, at):
            last = words[end - 1]
            step = {"hundred": 100, "thousand": 1000}.get(last, 1)
            clipped = frozenset({Supplied.ARTICLE}) if words[at] == "hundred" else frozenset()
            yield Number(value=Fraction(value), step=Fraction(step), supplied=clipped), end


# --- figures: "one nine nine eight", "oh two five", "double oh five", "two fifty", "ninety five four" ----------------


@dataclass(frozen=True, slots=True)
class _Group:
    """Figures said in one breath: "nine" is 9, "double oh" 00, "fifty" 50 (``tens``: said as a count, not spelled)."""

    text: str
    tens: bool = False


def _groups(words: Words, at: int) -> Iterator[tuple[tuple[_Group, ...], int]]:
    """One or more groups of figures."""
    for group, end in _group(words, at):
        yield (group,), end
        for more, last in _groups(words, end):
            yield (group, *more), last


def _group(words: Words, at: int) -> Iterator[tuple[_Group, int]]:
    figure = _figure(_word(words, at))
    if figure is not None:
        yield _Group(figure), at + 1
    elif _word(words, at) in _MULTIPLES:
        figure = _figure(_word(words, at + 1))
        if figure is not None:
            yield _Group(figure * _MULTIPLES[words[at]]), at + 2
    else:
        # "Twenty five" is never 20 and 5: of the two counts that start here the longer one is meant.
        for value, end in list(below_hundred(words, at))[-1:]:
            yield _Group(str(value), tens=True), end


def _figure(word: str) -> str | None:
    if word in ZERO_WORDS:
        return "0"
    return str(DIGIT_VALUES[word]) if word in DIGIT_VALUES else None


def figures(words: Words, at: int) -> Iterator[tuple[Number, int]]:
    """Figures without a point: more than one group, or a doubled figure. Tens among them have lost a "hundred"."""
    for groups, end in _groups(words, at):
        if len(groups) == 1 and (len(groups[0].text) == 1 or groups[0].tens):
            continue  # that is a count
        texts = tuple(group.text for group in groups)
        supplied = frozenset({Supplied.HUNDRED}) if any(group.tens for group in groups) else frozenset()
        yield Number(value=Fraction(int("".join(texts))), form=Form.FIGURES, groups=texts, supplied=supplied), end


# --- a number with a point: "ninety five point four oh", "point double oh four five" ---------------------------------


_NOUGHT = Number(value=Fraction(0))


def _with_point(words: Words, at: int, fronts: list[tuple[Number, int]]) -> Iterator[tuple[Number, int]]:
    """A number with its point said. The figures before it, counted or said one by one, may be missing."""
    for front, end in [(_NOUGHT, at), *fronts]:
        if _word(words, end) != "point":
            continue
        for groups, last in _groups(words, end + 1):
            text = "".join(group.text for group in groups)
            if end == at and not text.strip("0"):
                continue  # "point oh oh" has no end yet
            step = Fraction(1, 10 ** len(text))
            tens = {Supplied.TENS_AFTER_POINT} if any(group.tens for group in groups) else set()
            value = front.value + int(text) * step
            supplied = frozenset(front.supplied | tens)
            yield Number(value=value, places=len(text), step=step, form=Form.POINT, supplied=supplied), last


def typed(words: Words, at: int) -> Iterator[tuple[Number, int]]:
    """Figures as a person types them: "25", "0.0015", ".5"."""
    word = _word(words, at)
    if not is_figures(word) or "/" in word:
        return
    whole, _, decimals = word.partition(".")
    places = len(decimals)
    value = Fraction(Decimal(word))
    form = Form.POINT if places else Form.COUNT
    leading_zero = not places and len(whole) > 1 and whole.startswith("0")
    if leading_zero:
        form = Form.FIGURES
    groups = tuple(whole) if leading_zero else ()
    yield Number(value=value, places=places, step=Fraction(1, 10**places), form=form, groups=groups), at + 1


# --- fractions: "three eighths", "a half", "two and five eighths" ----------------------------------------------------


def fraction(words: Words, at: int) -> Iterator[tuple[Number, int]]:
    """A fraction less than one: "half", "a quarter", "three eighths", "eleven sixty fourths", "3/8"."""
    word = _word(words, at)
    if is_figures(word) and "/" in word:
        top, bottom = (int(part) for part in word.split("/"))
        if 0 < top < bottom:
            yield from _proper(top, bottom, at + 1)
        return
    tops = [(1, at + 1)] if word in ("a", "an") else list(below_hundred(words, at))
    if word in ("half", "quarter"):  # the rest want their number: "thirty seconds" alone is a time
        tops.append((1, at))
    for top, end in tops:
        for name, bottom in DENOMINATORS.items():
            plural = name[-1].endswith("s")
            if words[end : end + len(name)] == name and top < bottom and (top > 1 or not plural):
                yield from _proper(top, bottom, end + len(name))


def _proper(top: int, bottom: int, end: int) -> Iterator[tuple[Number, int]]:
    step = Fraction(1, bottom)
    value = top * step
    yield Number(value=value, places=decimal_places(value), step=step, form=Form.FRACTION, denominator=bottom), end


def terminates(value: Fraction) -> bool:
    """Whether a value has an end when it is written out as decimals: a third has none."""
    return value.denominator == 1 or decimal_places(value) > 0


def decimal_places(value: Fraction) -> int:
    """How many decimals a value has when it is written out; 0 when it never ends."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else 0


def _whole_and_fraction(words: Words, fronts: list[tuple[Number, int]]) -> Iterator[tuple[Number, int]]:
    """A whole number and a fraction: "four and a half", "two and five eighths", "three quarter" after "and"."""
    for front, end in fronts:
        if front.form is Form.POINT or not front.value:
            continue
        start = end + 1 if _word(words, end) == "and" else end
        if start == end and not is_figures(_word(words, end)):
            continue
        for part, last in fraction(words, start):
            yield replace(part, value=front.value + part.value, supplied=front.supplied, denominator=None), last
