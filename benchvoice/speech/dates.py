"""Spoken dates, as labels show them: "march twenty twenty seven", "end of march twenty seven", "oh three twenty seven".

A label's date is the last good day. A month without a day is good to its end (common practice, no source). Figures
alone can mean several dates ("eleven twelve twenty seven"): such a date is not guessed, the month must be said by its
name.
"""

import re
from calendar import monthrange
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from benchvoice.speech.counting import count_words
from benchvoice.speech.spelling import spelt

MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
_ORDINALS = (
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "eleventh",
    "twelfth", "thirteenth", "fourteenth", "fifteenth", "sixteenth", "seventeenth", "eighteenth", "nineteenth",
    "twentieth", "twenty first", "twenty second", "twenty third", "twenty fourth", "twenty fifth", "twenty sixth",
    "twenty seventh", "twenty eighth", "twenty ninth", "thirtieth", "thirty first",
)  # fmt: skip
_FILLERS = frozenset({"the", "of", "use", "by", "before", "expires", "best", "it", "says", "in"})
_YEARS = range(2000, 2100)
_FIGURES = ("MY", "M4", "YM", "4M", "DMY", "MDY", "YMD", "DM4", "MD4", "4MD")
"""Orders in which figures may stand: day, month, year of two figures (Y) or four (4)."""


@dataclass(frozen=True, slots=True)
class SpokenDate:
    """The last good day of a date, and whether only its month was said."""

    day: date
    whole_month: bool


def parse_date(text: str) -> tuple[SpokenDate, ...]:
    """Every date that the words can mean: one where they are clear, none where they are no date, several in doubt."""
    words = _plain(text)
    month = next((word for word in words if word in MONTHS), None)
    found = _by_figures(words) if month is None else _by_name(words, month)
    return tuple(dict.fromkeys(found))


def _plain(text: str) -> list[str]:
    words = text.lower().replace(",", " ").replace("-", " ").split()
    kept = [word for word in words if word not in _FILLERS]
    end = kept[:1] == ["end"]
    return kept[1:] if end else kept


def _by_name(words: list[str], month: str) -> Iterator[SpokenDate]:
    """A month by its name, with a day before or after it, and the year last."""
    at = words.index(month)
    before, after = words[:at], words[at + 1 :]
    number = MONTHS.index(month) + 1
    if before:
        day, year = _day(before), _year(" ".join(after))
        if day is not None and year is not None:
            yield from _dated(year, number, day)
        return
    for cut in (2, 1):  # an ordinal after the month: march thirty first, twenty twenty seven
        name = " ".join(after[:cut])
        if name in _ORDINALS:
            year = _year(" ".join(after[cut:]))
            if year is not None:
                yield from _dated(year, number, _ORDINALS.index(name) + 1)
            return
    year = _year(" ".join(after))
    if year is not None:
        yield from _dated(year, number, None)
        return
    figures = _figures(" ".join(after))
    if figures is not None and len(figures) in (5, 6) and figures[-4:-2] == "20":
        yield from _dated(int(figures[-4:]), number, int(figures[:-4]))


def _day(words: list[str]) -> int | None:
    name = " ".join(words)
    if name in _ORDINALS:
        return _ORDINALS.index(name) + 1
    figures = _figures(name)
    return int(figures) if figures is not None and len(figures) <= 2 else None


def _year(text: str) -> int | None:
    """Twenty twenty seven, two thousand and twenty seven, or twenty seven of this century."""
    figures = _figures(text)
    if figures is None:
        return None
    if len(figures) == 4:
        return int(figures)
    return 2000 + int(figures) if len(figures) == 2 else None


def _figures(text: str) -> str | None:
    """The figures that words spell one by one or as counts; None where anything else is among them."""
    mark = spelt(re.sub(r"(\d)(?:st|nd|rd|th)\b", r"\1", text))
    if mark is None:
        return None
    figures = re.sub(r"[-./ ]", "", mark)
    return figures if figures.isascii() and figures.isdecimal() else None


def _by_figures(words: list[str]) -> Iterator[SpokenDate]:
    """Month and year, or day, month and year, in figures alone, in every order in which they make a date."""
    figures = _figures(" ".join(words))
    if figures is None:
        return
    if len(figures) in (3, 5, 7):
        figures = "0" + figures  # three twenty seven is 03 27
    sizes = {"D": 2, "M": 2, "Y": 2, "4": 4}
    for order in _FIGURES:
        if sum(sizes[part] for part in order) != len(figures):
            continue
        read: dict[str, int] = {}
        at = 0
        for part in order:
            read[part] = int(figures[at : at + sizes[part]])
            at += sizes[part]
        year = read["4"] if "4" in read else 2000 + read["Y"]
        yield from _dated(year, read["M"], read.get("D"))


def _dated(year: int, month: int, day: int | None) -> Iterator[SpokenDate]:
    if year not in _YEARS or not 1 <= month <= 12:
        return
    last = monthrange(year, month)[1]
    if day is None:
        yield SpokenDate(date(year, month, last), True)
    elif 1 <= day <= last:
        yield SpokenDate(date(year, month, day), False)


def say_date(day: date, *, whole_month: bool = False) -> str:
    """A date in words: end of march twenty twenty seven; the fifth of may twenty twenty eight."""
    century, years = divmod(day.year, 100)
    year = f"{count_words(century)} {count_words(years) if years > 9 else 'oh ' + count_words(years)}"
    if years == 0:
        year = count_words(day.year)
    if whole_month:
        return f"end of {MONTHS[day.month - 1]} {year}"
    return f"the {_ORDINALS[day.day - 1]} of {MONTHS[day.month - 1]} {year}"


def date_words() -> frozenset[str]:
    """Every word of a spoken date that is no number: months, ordinals, "end of"."""
    return frozenset(MONTHS) | {word for name in _ORDINALS for word in name.split()} | {"end", "of", "the"}
