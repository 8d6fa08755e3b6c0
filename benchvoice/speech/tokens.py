"""Text as heard or typed, made into plain words: the only module that looks at characters.

A recogniser gives lower-case words without hyphens. A person who types may also write figures and symbols, "2.25
thou", "25 N·m", "1 1/2 in", "-0.002": symbols become the words they stand for, figures stay one word each ("2.25",
"3/8"). Apostrophes are dropped, so "doesn't" and "doesnt" are one word.
"""

import re

Words = tuple[str, ...]

_SYMBOLS: tuple[tuple[str, str], ...] = (
    ("[\u2212\u2013\u2014]", "-"),
    ("['\u2019`]", ""),
    ("½", " 1/2 "),
    ("¼", " 1/4 "),
    ("¾", " 3/4 "),
    ("[µμ]m\\b", " microns "),
    ("°\\s*c\\b", " degrees celsius "),
    ("°\\s*f\\b", " degrees fahrenheit "),
    ("°", " degrees "),
    ('(?<=\\d)\\s*["″]', " inches "),
    ("±", " plus or minus "),
    ("%", " percent "),
    # Inside figures a comma may be a decimal point or part a thousand: it becomes a word that no number contains.
    ("(?<=\\d),(?=\\d)", " comma "),
)

# Units as they are written. Longer spellings stand before the shorter ones that they contain.
_WRITTEN: tuple[tuple[str, str], ...] = (
    ("kgf?[\\s.·*_-]*cm", "kilogram centimetres"),
    ("kgf?[\\s.·*_-]*m", "kilogram metres"),
    ("n[\\s.·*_-]*m", "newton metres"),
    ("(?:ft|foot)[\\s.·*_-]*lbf?s?|lbf?[\\s.·*_-]*(?:ft|foot)", "foot pounds"),
    ("in[\\s.·*_-]*lbf?s?|lbf?[\\s.·*_-]*in", "inch pounds"),
    ("lbs?", "pounds"),
    ("kgf", "kilograms force"),
    ("mm", "millimetres"),
    ("um", "microns"),
    ("psi", "psi"),
    ("kpa", "kilopascals"),
    ("mpa", "megapascals"),
    ("degc", "degrees celsius"),
    ("degf", "degrees fahrenheit"),
    ("deg", "degrees"),
    ("kg", "kilograms"),
    ("oz", "ounces"),
)

_SPELLINGS: dict[str, str] = {
    "decimal": "point",
    "dot": "point",
    "treble": "triple",
    "negative": "minus",
    "positive": "plus",
    "thous": "thou",
    "thow": "thou",
    "dont": "doesnt",
    "cannot": "cant",
}

_WRITTEN_UNIT = tuple((re.compile(f"(?<![a-z])(?:{pattern})(?![a-z])"), f" {words} ") for pattern, words in _WRITTEN)
_SYMBOL = tuple((re.compile(pattern), words) for pattern, words in _SYMBOLS)
_FIGURES = "\\d+/\\d+|\\d*\\.\\d+|\\d+"
# Any other sign parts words and says nothing, but letters of other scripts stay, so that they are not overheard.
_WORD = re.compile(f"{_FIGURES}|[^\\W\\d_]+")
_IS_FIGURES = re.compile(f"(?:{_FIGURES})\\Z")
# A dash joins words ("twenty-three"), separates typed numbers ("4-5") or is a sign ("-5").
_DASH_BETWEEN_FIGURES = re.compile("(?<=\\d)\\s*-\\s*(?=[\\d.])")
_MIXED_WITH_DASH = re.compile("(?<=\\d)-(?=\\d+/\\d)")
_DASH_BEFORE_FIGURES = re.compile("-\\s*(?=[\\d.])")
_PLUS_BEFORE_FIGURES = re.compile("\\+\\s*(?=[\\d.])")


def words_of(text: str) -> Words:
    """The words of an utterance: lower case, symbols and written units as words, figures as typed."""
    plain = text.lower()
    for pattern, replacement in _SYMBOL:
        plain = pattern.sub(replacement, plain)
    plain = _MIXED_WITH_DASH.sub(" ", plain)
    plain = _DASH_BETWEEN_FIGURES.sub(" to ", plain)
    plain = _DASH_BEFORE_FIGURES.sub(" minus ", plain)
    plain = _PLUS_BEFORE_FIGURES.sub(" plus ", plain)
    for pattern, replacement in _WRITTEN_UNIT:
        plain = pattern.sub(replacement, plain)
    return tuple(_SPELLINGS.get(word, word) for word in _WORD.findall(plain))


def is_figures(word: str) -> bool:
    """Whether a word is typed figures: "25", "2.25", ".5" or "3/8"."""
    return _IS_FIGURES.match(word) is not None
