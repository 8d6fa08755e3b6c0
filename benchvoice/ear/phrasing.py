"""How numbers are put together, shown to vosk by example.

Vosk makes a bigram model of a grammar's entries. A list of single words makes every further word as dear as the
first, so that "three under half" beats "three and a half" by being a word shorter, and of words that sound alike
("two", "to") either may win. Entries that show how the words follow one another cure both. They allow nothing new: an
example is used only where each of its words is an entry of the grammar by itself, and may then be strung with any
other anyway.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable

_FIGURES = "one two three four five six seven eight nine"
_TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen"
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
_ZEROS = "zero oh nought"

CLASSES: dict[str, tuple[str, ...]] = {
    name: tuple(words.split())
    for name, words in {
        "ZERO": _ZEROS,
        "FIGURE": _FIGURES,
        "DIGIT": f"{_ZEROS} {_FIGURES}",
        "TENS": _TENS,
        "COUNT": f"{_FIGURES} {_TEENS} {_TENS}",
        "PART": "half quarter third eighth tenth",
        "PARTS": "quarters thirds eighths sixteenths seconds fourths tenths hundredths thousandths",
        "UNIT": (
            "thou inch inches millimetre millimetres millimeter millimeters micron microns gram grams kilo kilos "
            "kilogram kilograms ounce ounces pound pounds litre litres bar psi degree degrees turn turns flat flats "
            "newton newtons rpm second seconds minute minutes hour hours division divisions mil mils cc"
        ),
        "SIDE": "over under proud below above high low oversize undersize",
        "SIGN": "minus plus",
        "HEDGE": "about nearly just roughly almost",
        "FEELER": "goes nips drags fits",
        "TAKEN_BACK": "correction no sorry",
    }.items()
}
"""Words that can stand for one another in an example."""

EXAMPLES = """
DIGIT point DIGIT
COUNT point DIGIT
point DIGIT DIGIT
point double ZERO DIGIT
DIGIT DIGIT
double DIGIT
triple DIGIT
TENS FIGURE
COUNT hundred
hundred and COUNT
a hundred and COUNT
COUNT thousand
COUNT and a PART
COUNT and three quarters
three quarters UNIT
PART UNIT
PART a UNIT
PART of a UNIT
quarters of a UNIT
half an inch
a UNIT and a PART
UNIT and a PART
COUNT PARTS
and COUNT PARTS
COUNT UNIT
DIGIT UNIT
a UNIT
COUNT newton metres
COUNT newton meters
COUNT foot pounds
COUNT inch pounds
COUNT pound feet
COUNT kilogram metres
COUNT kilo metres
SIGN COUNT
SIGN PART
UNIT SIDE
COUNT SIDE
PART SIDE
DIGIT to DIGIT
between DIGIT and DIGIT
HEDGE COUNT
less than COUNT
more than COUNT
TAKEN_BACK COUNT
UNIT FEELER
COUNT FEELER
FEELER COUNT
COUNT doesn't
UNIT doesn't
COUNT won't go
UNIT won't go
does not go
all but COUNT
number COUNT
COUNT done
DIGIT and DIGIT
"""
"""One a line; a word in capitals stands for any word of its class. Pairs of words are all that a bigram model sees,
so that
no line needs more than two classes."""


def examples(entries: Iterable[str]) -> list[str]:
    """The examples whose words are all single-word entries of a grammar, in the same order every time."""
    single = {entry for entry in entries if " " not in entry}
    found: list[str] = []
    for line in EXAMPLES.split("\n"):
        choices = [[word for word in CLASSES.get(name, (name,)) if word in single] for name in line.split()]
        found.extend(" ".join(words) for words in itertools.product(*choices) if words)
    return found
