"""Places as they are spoken: "bore two top across", "number three", "four b", "all but seven".

A step's places are values along named axes, such as ``{"bore": ["one", "two"], "depth": ["top", "bottom"]}``; a place
is one value of each, in the order of the axes. Number words and figures are the same; a position such as 1L or 4B is
said "one left" or "four b". Values may be said in any order as long as each fits one axis only.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from benchvoice.speech.numbers import count
from benchvoice.speech.say import say_list
from benchvoice.speech.spelling import PHONETIC

Axes = Mapping[str, Sequence[str]]

_DASH_BETWEEN_FIGURES = re.compile(r"(?<=\d)\s*[-\u2013]\s*(?=\d)")
_SIDES = {"l": "left", "r": "right"}
_FILLERS = frozenset({"the", "on", "at", "of", "in", "number", "no", "and", "position", "place"})


@dataclass(frozen=True, slots=True)
class FoundPlace:
    """A place, one value for each axis; or None with the reason in a few words, fit to be spoken."""

    place: tuple[str, ...] | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class FoundPlaces:
    """Positions in the order they were said; or None with the reason."""

    places: tuple[str, ...] | None
    reason: str = ""


def place_words(text: str) -> tuple[str, ...]:
    """The words of a place, figures as words of their own: "1L" is "1", "l"."""
    spaced = "".join(
        f" {character}" if i and character.isalpha() and text[i - 1].isdecimal() else character
        for i, character in enumerate(text)
    )
    ranges = _DASH_BETWEEN_FIGURES.sub(" to ", spaced.lower())
    plain = ranges.replace("_", " ").replace("-", " ").replace("'", "")
    return tuple(word for word in (part.strip(".,;:!?") for part in plain.split()) if word)


# --- one value -------------------------------------------------------------------------------------------------------


def _forms(value: str) -> frozenset[tuple[str, ...]]:
    """Every way to say one value, numbers as figures: "1L" is (1 l), (1 left), (1 lima)."""
    words = _with_figures(place_words(value))
    options = []
    for word in words:
        said = {word}
        if len(word) == 1 and word.isalpha():
            said |= {PHONETIC[word.upper()]} | ({_SIDES[word]} if word in _SIDES else set())
        options.append(sorted(said))
    return frozenset(product(*options))


def _with_figures(words: tuple[str, ...]) -> tuple[str, ...]:
    """Number words as figures: "twenty one left" is (21, left)."""
    found: list[str] = []
    at = 0
    while at < len(words):
        number = max(_counted(words, at), key=lambda pair: pair[1], default=None)
        found.append(words[at] if number is None else number[0])
        at = at + 1 if number is None else number[1]
    return tuple(found)


def _counted(words: tuple[str, ...], at: int) -> Iterator[tuple[str, int]]:
    if words[at].isdecimal():
        yield str(int(words[at])), at + 1
    elif words[at] != "o":  # the letter; a nought is "oh"
        for number, end in count(words, at):
            yield str(number.value), end


@dataclass(frozen=True, slots=True)
class _Values:
    """The values of one axis with the words for them."""

    name: tuple[str, ...]
    forms: Mapping[tuple[str, ...], str]

    def at(self, words: tuple[str, ...], start: int) -> Iterator[tuple[str, int]]:
        """Each value that is said from here on, with the place after it, the longest form first."""
        for length in range(len(words) - start, 0, -1):
            value = self.forms.get(words[start : start + length])
            if value is not None:
                yield value, start + length


def _values(name: str, values: Sequence[str]) -> _Values:
    forms: dict[tuple[str, ...], str] = {}
    for value in values:
        for form in _forms(value):
            forms.setdefault(form, value)
    return _Values(place_words(name), forms)


# --- one place -------------------------------------------------------------------------------------------------------


def find_place(
    text: str,
    axes: Axes,
    current: Sequence[str] | None = None,
    names: Sequence[str] = (),
) -> FoundPlace:
    """The place that the words name.

    Axes that are not mentioned are taken from ``current``, the place in hand ("middle, across"), or filled in when
    they have one value only. ``names`` are further words for what the places are of, such as "bolt" or "cap".
    """
    known = [_values(name, values) for name, values in axes.items()]
    further = {word for name in names for word in place_words(name)}
    words = _with_figures(place_words(text))
    nothing: _Partial = (None,) * len(known)
    found = [place for place in _places(words, 0, known, further, nothing) if place != nothing]
    if not found:
        return FoundPlace(None, f"I don't know the place {text.strip()}" if text.strip() else "no place said")
    filled = list(dict.fromkeys(_filled(place, axes, current) for place in found))
    complete = [place for place in filled if None not in place]
    if len(complete) == 1:
        return FoundPlace(tuple(str(value) for value in complete[0]))
    if complete:
        return FoundPlace(None, f"{say_list([' '.join(map(str, place)) for place in complete], 'or')}?")
    missing = next(name for name, value in zip(axes, filled[0], strict=True) if value is None)
    return FoundPlace(None, f"which {missing.replace('_', ' ')}?")


_Partial = tuple[str | None, ...]


def _filled(place: _Partial, axes: Axes, current: Sequence[str] | None) -> _Partial:
    single = [values[0] if len(values) == 1 else None for values in axes.values()]
    before = list(current) if current is not None and len(current) == len(place) else [None] * len(place)
    return tuple(
        value if value is not None else only if only is not None else old
        for value, only, old in zip(place, single, before, strict=True)
    )


def _places(
    words: tuple[str, ...], at: int, axes: Sequence[_Values], further: set[str], place: _Partial
) -> Iterator[_Partial]:
    """Every way in which all the words from here name values of axes that have none yet."""
    if at == len(words):
        yield place
        return
    if words[at] in _FILLERS or words[at] in further:
        yield from _places(words, at + 1, axes, further, place)
    for i, axis in enumerate(axes):
        if place[i] is not None:
            continue
        for start in _value_starts(words, at, axis, further):
            for value, end in axis.at(words, start):
                yield from _places(words, end, axes, further, (*place[:i], value, *place[i + 1 :]))


def _value_starts(words: tuple[str, ...], at: int, axis: _Values, further: set[str]) -> Iterator[int]:
    """Where an axis's value may stand: here, or after its name, with or without "number" or a noun between."""
    yield at
    if words[at : at + len(axis.name)] == axis.name:
        start = at + len(axis.name)
        yield start
        if start < len(words) and (words[start] in _FILLERS or words[start] in further):
            yield start + 1


# --- several positions -----------------------------------------------------------------------------------------------

_ALL = frozenset({"all", "every", "everything"})
_BUT = frozenset({"but", "except", "bar", "without"})
_TO = frozenset({"to", "through"})
_LIST_FILLERS = frozenset({"and", "number", "numbers", "the", "also", "position", "positions", "for"})


def find_places(text: str, positions: Sequence[str], names: Sequence[str] = ()) -> FoundPlaces:
    """The positions that the words name: "one to seven", "all but seven", "one, two and five", "all".

    A range runs along ``positions``, also backwards ("ten to one"). Anything unknown makes it None.
    """
    words = _with_figures(place_words(text))
    values = _values("", positions)
    further = {word for name in names for word in place_words(name)} | _LIST_FILLERS
    if words and words[0] in _ALL:
        rest = tuple(word for word in words[1:] if word not in further and word not in ("of", "them"))
        if not rest:
            return FoundPlaces(tuple(positions))
        if rest[0] not in _BUT:
            return FoundPlaces(None, "all but which?")
        left_out = _listed(rest[1:], values, positions, further)
        if left_out is None:
            return FoundPlaces(None, "all but which?")
        return FoundPlaces(tuple(position for position in positions if position not in left_out))
    found = _listed(words, values, positions, further)
    if found is None:
        return FoundPlaces(None, f"I don't know the place {text.strip()}" if words else "no place said")
    return FoundPlaces(tuple(dict.fromkeys(found)))


def _listed(
    words: tuple[str, ...], values: _Values, positions: Sequence[str], further: set[str] | frozenset[str]
) -> list[str] | None:
    """Positions and ranges, one after the other; None when a word is neither, or there is none."""
    found: list[str] = []
    at, open_range = 0, False
    while at < len(words):
        value = next(values.at(words, at), None)
        if value is not None:
            position, at = value
            found.extend(_between(positions, found[-1], position) if open_range else [position])
            open_range = False
        elif words[at] in _TO and found and not open_range:
            open_range, at = True, at + 1
        elif words[at] in further:
            at += 1
        else:
            return None
    return None if open_range or not found else found


def _between(positions: Sequence[str], first: str, last: str) -> list[str]:
    """The positions after the first up to the last, forwards or backwards."""
    start, end = positions.index(first), positions.index(last)
    step = 1 if end >= start else -1
    return [positions[i] for i in range(start + step, end + step, step)]
