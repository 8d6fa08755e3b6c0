"""Whole numbers, figures and denominators as English words: the one table that hearing and speaking share."""

from collections.abc import Mapping
from types import MappingProxyType

ZERO = "zero"

DIGITS: tuple[str, ...] = (ZERO, "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
TEENS: tuple[str, ...] = (
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
TENS: tuple[str, ...] = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")

DIGIT_VALUES: Mapping[str, int] = MappingProxyType({word: value for value, word in enumerate(DIGITS) if value})
TEEN_VALUES: Mapping[str, int] = MappingProxyType({word: value for value, word in enumerate(TEENS, 10)})
TEN_VALUES: Mapping[str, int] = MappingProxyType({word: 10 * value for value, word in enumerate(TENS, 2)})

ZERO_WORDS: frozenset[str] = frozenset({ZERO, "oh", "o", "nought", "naught", "nil", "aught"})

# "Thirteen" and "thirty" differ by one unstressed ending, in a workshop often by nothing at all.
SOUNDS_LIKE: Mapping[str, str] = MappingProxyType(
    dict(zip(TEENS[3:], TENS[1:], strict=True)) | dict(zip(TENS[1:], TEENS[3:], strict=True))
)

_SCALES = ((1_000_000_000, "billion"), (1_000_000, "million"), (1_000, "thousand"), (100, "hundred"))


def count_words(count: int) -> str:
    """A whole number in words, British fashion: 125 is "one hundred and twenty five"."""
    if count < 0:
        return f"minus {count_words(-count)}"
    if count < 10:
        return DIGITS[count]
    if count < 20:
        return TEENS[count - 10]
    if count < 100:
        tens, ones = divmod(count, 10)
        return TENS[tens - 2] + (f" {DIGITS[ones]}" if ones else "")
    size, name = next((size, name) for size, name in _SCALES if count >= size)
    many, rest = divmod(count, size)
    words = f"{count_words(many)} {name}"
    if not rest:
        return words
    return f"{words} and {count_words(rest)}" if rest < 100 else f"{words} {count_words(rest)}"


def digit_words(figures: str) -> str:
    """Figures one by one: "205" is "two zero five"."""
    return " ".join(DIGITS[int(figure)] for figure in figures)
