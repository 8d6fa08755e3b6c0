"""Utterances matched to commands: a table of patterns, each matching the whole utterance or nothing.

A pattern is words, with three marks: ``[step]`` may be left out, ``(again|once more)`` is one of several, and
``<reading>`` is a slot that takes one word or more. A slot is ``<kind>`` or ``<name:kind>``; what a kind accepts is a
function from words to a value, or None to refuse. ``words`` and ``reading`` take anything (a reading is judged later,
in its step), ``count`` a whole number, ``duration`` seconds, ``mark`` a spelled mark; others, such as places and
names, are given with the call. Marks nest: ``[i] forgot [the|a] <what:words>`` is one pattern.

Of several patterns that fit, the one with most words of its own wins, then the one that stands first.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache

from benchvoice.speech.durations import parse_duration
from benchvoice.speech.numbers import Form, numbers
from benchvoice.speech.spelling import spelt
from benchvoice.speech.tokens import words_of

Accept = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class _Word:
    text: str


@dataclass(frozen=True, slots=True)
class _Slot:
    name: str
    kind: str


@dataclass(frozen=True, slots=True)
class _Choice:
    """One of several sequences; an optional part has the empty sequence among them."""

    options: tuple["_Sequence", ...]


_Sequence = tuple["_Word | _Slot | _Choice", ...]


@dataclass(frozen=True, slots=True)
class Phrase:
    """A command's name and one pattern of words for it. ValueError for a pattern that can't be read."""

    name: str
    pattern: str

    def __post_init__(self) -> None:
        _compiled(self.pattern)


@dataclass(frozen=True, slots=True)
class Match:
    """The command that an utterance is, with the values of its slots by name."""

    name: str
    values: Mapping[str, object] = field(default_factory=dict)
    pattern: str = ""


def phrases(name: str, *patterns: str) -> tuple[Phrase, ...]:
    """Several patterns of one command; the first is the form that a help lists."""
    return tuple(Phrase(name, pattern) for pattern in patterns)


# --- patterns --------------------------------------------------------------------------------------------------------

_TOKEN = re.compile(r"<([a-z_]+)(?::([a-z_]+))?>|[\[\]()|]|[^\s\[\]()|<>]+")


@cache
def _compiled(pattern: str) -> _Sequence:
    tokens = [found.group(0) for found in _TOKEN.finditer(pattern)]
    if "".join(tokens) != re.sub(r"\s", "", pattern):
        raise ValueError(f"pattern {pattern!r}: '<' and '>' belong to a slot such as <reading> or <what:words>")
    options, end = _options(tokens, 0, pattern)
    if end != len(tokens):
        raise ValueError(f"pattern {pattern!r}: {tokens[end]!r} closes nothing")
    return options[0] if len(options) == 1 else (_Choice(options),)


def _options(tokens: Sequence[str], at: int, pattern: str) -> tuple[tuple[_Sequence, ...], int]:
    """Sequences parted by "|", up to a closing mark."""
    options: list[_Sequence] = []
    items: list[_Word | _Slot | _Choice] = []
    while at < len(tokens) and tokens[at] not in "])":
        token = tokens[at]
        at += 1
        if token == "|":
            options.append(tuple(items))
            items = []
        elif token in "[(":
            inner, at = _options(tokens, at, pattern)
            if at >= len(tokens) or tokens[at] != {"[": "]", "(": ")"}[token]:
                raise ValueError(f"pattern {pattern!r}: {token!r} is not closed")
            at += 1
            items.append(_Choice((*inner, ()) if token == "[" else inner))
        elif token.startswith("<"):
            name, _, kind = token[1:-1].partition(":")
            items.append(_Slot(name, kind or name))
        else:
            items.extend(_Word(word) for word in plain_words(token))
    return (*options, tuple(items)), at


def plain_words(text: str) -> tuple[str, ...]:
    """The words of an utterance as they are compared: lower case, without apostrophes and stops, figures as typed."""
    bare = (re.sub("['\u2019]", "", word).strip(".,!?;:\"()") for word in text.lower().split())
    return tuple(word for word in bare if word)


# --- matching --------------------------------------------------------------------------------------------------------


def match(patterns: Iterable[Phrase], text: str, slots: Mapping[str, Accept] | None = None) -> Match | None:
    """The command that the whole utterance is, or None. ``slots`` accepts further kinds, or others of the same name."""
    words = plain_words(text)
    kinds = {**_KINDS, **(slots or {})}
    best: tuple[int, Match] | None = None
    for phrase in patterns:
        for own, values in _fits(_compiled(phrase.pattern), words, 0, kinds):
            if best is None or own > best[0]:
                best = own, Match(phrase.name, values, phrase.pattern)
    return None if best is None else best[1]


def _fits(
    items: _Sequence, words: tuple[str, ...], at: int, kinds: Mapping[str, Accept]
) -> Iterator[tuple[int, dict[str, object]]]:
    """Every way in which the items take all the words from here: how many are the pattern's own, and the slots."""
    if not items:
        if at == len(words):
            yield 0, {}
        return
    first, rest = items[0], items[1:]
    if isinstance(first, _Word):
        if words[at : at + 1] == (first.text,):
            for own, values in _fits(rest, words, at + 1, kinds):
                yield own + 1, values
    elif isinstance(first, _Choice):
        for option in first.options:
            yield from _fits((*option, *rest), words, at, kinds)
    else:
        accept = kinds.get(first.kind)
        if accept is None:
            raise ValueError(f"no slot of kind {first.kind!r}: give what it accepts")
        for end in range(len(words), at, -1):
            value = accept(" ".join(words[at:end]))
            if value is not None:
                for own, values in _fits(rest, words, end, kinds):
                    yield own, {first.name: value, **values}


def anything(text: str) -> str:
    """Accepts any words as they are."""
    return text


def whole_number(text: str) -> int | None:
    """Accepts a whole number in words or figures: "ten", "2"."""
    found = {int(number.value) for number in numbers(words_of(text)) if number.form is Form.COUNT and not number.places}
    return found.pop() if len(found) == 1 else None


def one_of(names: Iterable[str]) -> Accept:
    """Accepts one of the given names, as it is spelled there."""
    known = {" ".join(plain_words(name)): name for name in names}
    return lambda text: known.get(text)


_KINDS: Mapping[str, Accept] = {
    "words": anything,
    "reading": anything,
    "count": whole_number,
    "duration": parse_duration,
    "mark": spelt,
}


# --- what a recogniser must know -------------------------------------------------------------------------------------


def vocabulary(patterns: Iterable[Phrase]) -> set[str]:
    """Every word of the patterns' own."""
    return {word for phrase in patterns for word in _own_words(_compiled(phrase.pattern))}


def _own_words(items: _Sequence) -> Iterator[str]:
    for item in items:
        if isinstance(item, _Word):
            yield item.text
        elif isinstance(item, _Choice):
            for option in item.options:
                yield from _own_words(option)


def sentences(patterns: Iterable[Phrase], most: int = 64) -> list[str]:
    """The sentences that the patterns stand for, slots as "<kind>", at most so many of each pattern."""
    found: dict[str, None] = {}
    for phrase in patterns:
        for count, words in enumerate(_expanded(_compiled(phrase.pattern))):
            if count >= most:
                break
            found[" ".join(words)] = None
    return list(found)


def _expanded(items: _Sequence) -> Iterator[tuple[str, ...]]:
    if not items:
        yield ()
        return
    first, rest = items[0], items[1:]
    if isinstance(first, _Choice):
        for option in first.options:
            yield from _expanded((*option, *rest))
        return
    word = first.text if isinstance(first, _Word) else f"<{first.kind}>"
    for tail in _expanded(rest):
        yield (word, *tail)


@lru_cache(maxsize=512)
def listed_form(pattern: str) -> str:
    """The shortest way to say a pattern in full, as a help lists it: optional words left out."""
    return min((" ".join(words) for words in _expanded(_compiled(pattern))), key=lambda words: len(words.split()))
