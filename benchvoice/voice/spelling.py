"""What the assistant writes, turned into what the voice must be given to say it right.

espeak-ng reads "25 N·m" as "en em", "thou" as the old pronoun, "3/8" as "three slash eight", "No. 4" as a refusal and
a new sentence, and "0.002-0.004" as two numbers with nothing between. `for_voice` writes such things out. It works in
passes, each a few patterns, ordered so that a later pass sees what the earlier ones made.

Its result holds only letters, digits and the marks . , ; : ? ! ' - where they are a pause or belong to a number or a
word, and it is a fixed point: spelling it again changes nothing.
"""

import re
import unicodedata
from collections.abc import Callable

from benchvoice.voice.pronunciations import INITIALISMS, pronounce
from benchvoice.voice.unitwords import expand_units

_CHARACTERS = str.maketrans(
    {
        "⁄": "/", "−": "-", "‐": "-", "‑": "-", "‒": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "″": '"', "′": "'",
        "⋅": "·", "∙": "·", "µ": "μ", "˚": "°", "º": "°",
        "²": " squared", "³": " cubed", "Ø": "O", "ø": "o", "⌀": " diameter ", "∅": " diameter ",
        "…": ". ", "\n": ". ", "—": ", ", "№": " number ", "æ": "ae", "Æ": "Ae", "œ": "oe", "Œ": "Oe", "ß": "ss",
        "ł": "l", "Ł": "L",
    }
)  # fmt: skip
"""One spelling for each character, before compatibility decomposition could spoil it (mm² would become mm2)."""

_SYMBOLS = str.maketrans(
    {
        "±": " plus or minus ", "+": " plus ", "≤": " at most ", "≥": " at least ", "≠": " not equal to ",
        "≈": " about ", "~": " about ", "<": " less than ", ">": " more than ", "=": " equals ", "÷": " divided by ",
        "×": " times ", "√": " root of ", "∞": " infinity ", "→": " to ", "←": " from ", "↑": " up ", "↓": " down ",
        "&": " and ", "@": " at ", "%": " per cent ", "£": " pounds ", "€": " euros ", "$": " dollars ",
        "#": " number ", "(": ", ", ")": ", ", "[": ", ", "]": ", ", "{": ", ", "}": ", ", "|": ", ", "•": ", ",
        "–": ", ", "_": " ", "/": " or ",
    }
)  # fmt: skip
"""What a symbol is said as when it has not become part of something larger."""

_DENOMINATORS = {
    "2": "half", "3": "third", "4": "quarter", "5": "fifth", "6": "sixth", "8": "eighth", "10": "tenth",
    "12": "twelfth", "16": "sixteenth", "32": "thirty-second", "64": "sixty-fourth",
}  # fmt: skip

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip

_ROUNDS = 10

_Pass = tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]]


def _passes(*rules: tuple[str, str | Callable[[re.Match[str]], str]]) -> tuple[_Pass, ...]:
    return tuple((re.compile(pattern), said) for pattern, said in rules)


def _apply(passes: tuple[_Pass, ...], text: str) -> str:
    for pattern, said in passes:
        text = pattern.sub(said, text)
    return text


def for_voice(text: str) -> str:
    """Text as written for people → text that the voice says as it is meant; empty where nothing can be said.

    One round does for what people write. In rubbish, dropping a character can bring two others together that mean
    something, so it goes on until nothing changes.
    """
    for _ in range(_ROUNDS):
        spelt = _spell(text)
        if spelt == text:
            break
        text = spelt
    return text


def _spell(text: str) -> str:
    text = _characters(text)
    text = _apply(_ABBREVIATIONS, text)
    text = _apply(_NUMBERS, text)
    text = _apply(_BOUNDS, expand_units(text)).translate(_SYMBOLS)
    text = _apply(_CAPITALS, text)
    text = _letters_only(text)
    return _apply(_PAUSES, pronounce(text)).strip()


def _characters(text: str) -> str:
    """One form for each character, no accents, and vulgar fractions parted from the number before (2½ → 2 1/2)."""
    parted = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", text)
    parted = re.sub(r"[Øø](?![A-Za-z])", " diameter ", parted).translate(_CHARACTERS)
    decomposed = unicodedata.normalize("NFKD", parted).translate(_CHARACTERS)
    plain = "".join(character for character in decomposed if not unicodedata.combining(character))
    return re.sub(r"[\s\x00-\x1f]+", " ", plain)


def _letters_only(text: str) -> str:
    """Name the Greek letters, drop every other character that the English voice has no sound for."""
    return re.sub(r"[^A-Za-z0-9 .,;:?!'-]", _name, text)


def _name(match: re.Match[str]) -> str:
    name = unicodedata.name(match[0], "")
    greek = re.fullmatch(r"GREEK (?:SMALL|CAPITAL) LETTER (\w+)", name)
    return f" {greek[1].lower()} " if greek else " "


def _fraction(match: re.Match[str]) -> str:
    """3/8 → 3 eighths; 1 3/8 → 1 and 3 eighths; a thread's 3/8-16 → 3 eighths, 16; odd ones → 220 over 280."""
    whole, top, bottom = match["whole"], match["top"], match["bottom"]
    name = _DENOMINATORS.get(bottom)
    if name is None or not 0 < int(top) < int(bottom):
        said = f"{top} over {bottom}"
        return f"{whole}, {said}" if whole else said
    said = f"{top} {name}s" if int(top) > 1 else f"{'an' if name == 'eighth' else 'a'} {name}"
    pitch = ", " + match["pitch"] if match["pitch"] else ""
    return (f"{whole} and {said}" if whole else said) + pitch


def _date(match: re.Match[str]) -> str:
    year, month, day = (int(part) for part in match.groups())
    return f"{day} {_MONTHS[month - 1]} {year}" if 1 <= month <= 12 else match[0].replace("-", " ")


def _series(match: re.Match[str]) -> str:
    """1-3-4-2 → 1, 3, 4, 2: three or more whole numbers are an order, not a range."""
    return ", ".join(match[0].split("-"))


def _capitals(match: re.Match[str]) -> str:
    """TDC, ID → letter by letter; TOP, UP → words."""
    word = match[0]
    if word in INITIALISMS or not re.search("[AEIOUY]", word):
        return " ".join(word)
    return word.lower()


def _strongest(match: re.Match[str]) -> str:
    """One pause out of several in a row, the weightiest: the voice stumbles over two marks together."""
    return next(mark for mark in "?!.;,:" if mark in match[0]) + " "


_ABBREVIATIONS = _passes(
    (r"\b[Nn]os?\. ?(?=\d)", "number "),
    (r"\b[Ff]ig\. ?(?=\d)", "figure "),
    (r"\be\.g\.", "for example"),
    (r"\bi\.e\.", "that is"),
    (r"\betc\.(?=$| [A-Z])", "and so on."),
    (r"\betc\.", "and so on"),
    (r"\b[Aa]pprox\b\.?", "about"),
    (r"\b[Dd]ia\b\.?", "diameter"),
    (r"\b[Ii]ncl\b\.?", "including"),
    (r"\b[Rr]ef\.", "reference"),
    (r"\b[Qq]ty\b\.?", "quantity"),
    (r"\bw/o\b", "without"),
    (r"\band/or\b", "or"),
    (r"\bRH\b", "right hand"),
    (r"\bLH\b", "left hand"),
    (r"(?<=\d) ?A/?F\b", " across flats"),
    (r"\ba\.m\.", "A M"),
    (r"\bp\.m\.", "P M"),
)

_FRACTION = r"(?<![\d/.])(?:(?P<whole>\d+)[ -])?(?P<top>\d+)/(?P<bottom>\d+)(?:-(?P<pitch>\d+))?(?![\d/])"

_NUMBERS = _passes(
    (r"\b(\d{4})-(\d\d)-(\d\d)\b", _date),
    (r"(?<=\d),(?=\d{3}(?!\d))", ""),  # a thousands comma
    (r"(?<=\d),(?=\d)", ", "),
    (_FRACTION, _fraction),
    (r"(?<![\w.-])\d+(?:-\d+){2,}(?![\w.-])", _series),
    (r"(?<![\w.])(\d*\.?\d+(?: ?[A-Za-z°·μ\"]{1,5})?) ?(?:\.\.+|–|-) ?(?=\.?\d)", r"\1 to "),
    (r"(?<=\d)(?:[xX×]| [xX×] )(?=\.?\d)", " by "),
    (r"(?<![\w.])- ?(?=\.?\d)", " minus "),
    (r"(?<![\w.])\.(?=\d)", "0."),
    (r"(?<=\d)\.(?=\d+\.\d)", " point "),  # 2.5.3 is no number: said part by part
    (r"(?<=\w)-(?=\d)", " "),
    (r"(?<=\d):(?=\d(?!\d))|(?<=\d):(?=\d{3})|(?<=\d{3}):(?=\d)|(?<=:\d\d):(?=\d)", " to "),  # a ratio, no time
)

_BOUNDS = _passes(
    (r"\b[Mm]in\b\.?", "minimum"),
    (r"\b[Mm]ax\b\.?", "maximum"),
)
"""After the units: "8 min" was minutes."""

_CAPITALS = _passes(
    (r"\b[A-Z]{2,}\b", _capitals),
    (r"(?<=[A-Za-z0-9,;:] )A\b(?!')", "eh"),  # a letter's name: alone it would be said as the article
)

_PAUSES = _passes(
    (r":(?!\d)|(?<!\d):", ", "),
    (r"(?<=[A-Za-z])\.(?=[A-Za-z])", " dot "),
    (r"(?<=[A-Za-z])\.(?=\d)|(?<=\d)\.(?=[A-Za-z])", ". "),
    (r"(?<![A-Za-z0-9])[-']|[-'](?![A-Za-z])", " "),  # neither inside a word
    (r"\s+", " "),
    (r" ?(?:[,;?!]|\.(?!\d))(?: ?(?:[,;?!]|\.(?!\d)))* ?", _strongest),
    (r"^[ .,;?!]+", ""),
)
