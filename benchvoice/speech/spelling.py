"""Marks read off a part: letters and figures one by one, in words, and back for reading aloud.

Letters are said as letters or by the phonetic alphabet, figures one by one or as a count ("twenty" on a shell is 20).
"Oh" is a nought and "oscar" the letter, for a stamp has far more noughts. A mark is kept in capitals without spaces.
"""

from collections.abc import Iterator

from benchvoice.speech.counting import DIGITS, ZERO_WORDS
from benchvoice.speech.numbers import count
from benchvoice.speech.tokens import Words

PHONETIC: dict[str, str] = {
    "A": "alfa", "B": "bravo", "C": "charlie", "D": "delta", "E": "echo", "F": "foxtrot", "G": "golf", "H": "hotel",
    "I": "india", "J": "juliett", "K": "kilo", "L": "lima", "M": "mike", "N": "november", "O": "oscar", "P": "papa",
    "Q": "quebec", "R": "romeo", "S": "sierra", "T": "tango", "U": "uniform", "V": "victor", "W": "whiskey",
    "X": "xray", "Y": "yankee", "Z": "zulu",
}  # fmt: skip

_VARIANTS = {"alpha": "A", "juliet": "J", "whisky": "W", "zed": "Z", "zee": "Z"}
LETTERS: dict[str, str] = (
    {word: letter for letter, word in PHONETIC.items()} | _VARIANTS | {letter.lower(): letter for letter in PHONETIC}
)
SIGNS: dict[str, str] = {
    "dash": "-", "hyphen": "-", "minus": "-", "point": ".", "dot": ".", "slash": "/", "stroke": "/", "plus": "+",
}  # fmt: skip
_SPOKEN_SIGNS: dict[str, str] = {"-": "dash", ".": "point", "/": "slash", "+": "plus"}
_TIMES = {"double": 2, "triple": 3, "treble": 3}


def spelt(text: str) -> str | None:
    """The mark that was spelled: "tango four" is "T4", "double oh seven" "007", "two zero" "20"; None if it is none.

    What is typed as a mark ("T4", "20-a") is taken as it is, in capitals.
    """
    words = _marks(text)
    if not words:
        return None
    mark = ""
    at = 0
    while at < len(words):
        found = _longest(words, at)
        if found is None:
            return None
        sign, at = found
        mark += sign
    return mark


def _marks(text: str) -> Words:
    """The words and typed groups of a mark: "x ray" is one letter, a group such as "t4" falls into its characters."""
    plain = text.lower().replace("x ray", "xray").replace("x-ray", "xray").replace(",", " ")
    return tuple(part for word in plain.split() for part in _pieces(word.strip(".")))


def _pieces(word: str) -> Iterator[str]:
    if word.isascii() and word.isalpha():
        yield word
    else:
        yield from word


def _longest(words: Words, at: int) -> tuple[str, int] | None:
    """The longest piece of a mark that starts here: a count takes as many words as it can. None where none starts."""
    word = words[at]
    if word in _TIMES:
        once = _longest(words, at + 1) if at + 1 < len(words) else None
        return (once[0] * _TIMES[word], once[1]) if once is not None and len(once[0]) == 1 else None
    if word in LETTERS and word != "a":
        return LETTERS[word], at + 1
    if word in SIGNS or word in _SPOKEN_SIGNS:
        return SIGNS.get(word, word), at + 1
    if word.isdecimal():
        return word, at + 1
    found = max(count(words, at), key=lambda pair: pair[1], default=None)
    if found is None:
        return ("A", at + 1) if word == "a" else None
    return str(found[0].value), found[1]


def say_mark(mark: str, phonetic: bool = True) -> str:
    """A mark read aloud, one character after the other: "T4" is "tango four", "20" is "two zero"."""
    return " ".join(_said(character, phonetic) for character in mark.upper() if not character.isspace())


def _said(character: str, phonetic: bool) -> str:
    if character.isdecimal() and character.isascii():
        return DIGITS[int(character)]
    if character in PHONETIC:
        return PHONETIC[character] if phonetic else character.lower()
    return _SPOKEN_SIGNS.get(character, character)


def same_mark(one: str, other: str) -> bool:
    """Whether two marks are equal but for case, spaces, dashes and full stops, which a stamp shows or leaves out."""
    return _bare(one) == _bare(other)


def _bare(mark: str) -> str:
    return "".join(character for character in mark.upper() if character.isalnum())


def spelling_words() -> frozenset[str]:
    """Every word that may occur in a spelled mark."""
    return frozenset(LETTERS) | frozenset(DIGITS) | ZERO_WORDS | frozenset(SIGNS) | frozenset(_TIMES)
