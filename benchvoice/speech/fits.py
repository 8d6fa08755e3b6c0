"""Names of fits, as they are said: "twenty five H seven g six" is a size of 25 mm, a hole H7 and a shaft g6.

Speech has no capitals: of two zones the first is the hole's. One zone alone may be either, unless "hole" or "shaft"
is said after it.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from benchvoice.speech.numbers import count, number, terminates
from benchvoice.speech.spelling import LETTERS
from benchvoice.speech.tokens import Words

_MILLIMETRE = {"millimetre", "millimetres", "millimeter", "millimeters", "mm"}
_SIDES: dict[str, Literal["hole", "shaft"]] = {"hole": "hole", "bore": "hole", "shaft": "shaft"}
_FINEST = 18
"""Grades are IT0 to IT18 (ISO 286-1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenFit:
    """A size in mm and one or two tolerance zones in small letters ("h7"); whose one zone is, where that was said."""

    size: Decimal
    zones: tuple[str, ...]
    side: Literal["hole", "shaft"] | None = None

    def name(self, side: Literal["hole", "shaft"]) -> str:
        """The zone of a hole or a shaft as it is written: H7, g6."""
        zone = self.zones[0] if side == "hole" or len(self.zones) == 1 else self.zones[1]
        return zone.upper() if side == "hole" else zone


def spoken_fit(text: str) -> SpokenFit | None:
    """The fit that the whole text names; None where it names none. The size comes first, then the zones."""
    words = tuple(_pieces(text))
    if words[:1] in (("a",), ("an",), ("the",)):
        words = words[1:]
    side = _SIDES.get(words[-1]) if words else None
    if side is not None:
        words = words[:-1]
    first = next((at for at, word in enumerate(words) if word in LETTERS), None)
    if first is None:
        return None
    size = _size(tuple(word for word in words[:first] if word not in _MILLIMETRE))
    zones = _zones(words[first:])
    if size is None or zones is None or not 1 <= len(zones) <= 2 or (side is not None and len(zones) == 2):
        return None
    return SpokenFit(size=size, zones=zones, side=side)


def _pieces(text: str) -> Iterator[str]:
    """Words; what is typed ("25 H7/g6") falls into figures and letters."""
    for word in text.lower().replace("-", " ").replace("/", " ").split():
        if word.isalpha():
            yield word
        else:
            yield from re.findall(r"[0-9]+(?:\.[0-9]+)?|[a-z]", word)


def _size(words: Words) -> Decimal | None:
    """The one number that the words are; one that ends as a decimal."""
    found = {each.value for each, end in number(words, 0) if end == len(words)}
    if len(found) != 1:
        return None
    value = found.pop()
    return Decimal(value.numerator) / Decimal(value.denominator) if value > 0 and terminates(value) else None


def _zones(words: Words) -> tuple[str, ...] | None:
    zones = []
    at = 0
    while at < len(words):
        letters = ""
        while at < len(words) and len(letters) < 2 and (letter := LETTERS.get(words[at])):
            letters += letter.lower()
            at += 1
        grades = [(int(each.value), end) for each, end in count(words, at)]
        if at < len(words) and words[at].isdigit():
            grades = [(int(words[at]), at + 1)]
        grades = [grade for grade in grades if grade[0] <= _FINEST]
        if not letters or not grades:
            return None
        value, at = max(grades, key=lambda grade: grade[1])
        zones.append(f"{letters}{value}")
    return tuple(zones)
