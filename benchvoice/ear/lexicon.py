"""Pronunciation lexicons: a word and its sounds a line, several lines for several pronunciations.

    half HH AE F
    half HH AA F

Sounds are CMUdict's 39, without stress marks. Lines that begin with `;` are comments. Words are lower case.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

Pronunciation = tuple[str, ...]
Lexicon = dict[str, tuple[Pronunciation, ...]]

OTHER = "[unk]"
"""Stands in grammars and results for speech or noise that is none of the words."""


def merged(*lexicons: Mapping[str, Iterable[Pronunciation]]) -> Lexicon:
    """All words and pronunciations of several lexicons, in order, none twice."""
    gathered: dict[str, dict[Pronunciation, None]] = {}
    for lexicon in lexicons:
        for word, pronunciations in lexicon.items():
            gathered.setdefault(word, {}).update(dict.fromkeys(pronunciations))
    return {word: tuple(pronunciations) for word, pronunciations in gathered.items()}


def parse(text: str) -> Lexicon:
    """The lexicon that a text holds. Lines without sounds are left out."""
    entries = [line.split() for line in text.splitlines() if not line.lstrip().startswith(";")]
    return merged(*({word: [tuple(sounds)]} for word, *sounds in filter(None, entries) if sounds))


def read(path: Path) -> Lexicon:
    """The lexicon in a file. OSError and UnicodeDecodeError pass through."""
    return parse(path.read_text(encoding="utf-8"))


def unparse(lexicon: Mapping[str, Iterable[Pronunciation]]) -> str:
    return "".join(
        f"{word} {' '.join(sounds)}\n" for word, pronunciations in lexicon.items() for sounds in pronunciations
    )
