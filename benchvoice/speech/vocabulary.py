"""The words that a moment needs to be hearable, for a recogniser's grammar: numbers, units, signs, places, spelling.

Sets of words only; which sentences they form is the parser's business. Words of a command come from
``phrases.vocabulary``, names of places from the procedure.
"""

from collections.abc import Iterable

from benchvoice.quantity.units import kind_of
from benchvoice.speech import shapes
from benchvoice.speech.counting import DIGITS, TEENS, TENS
from benchvoice.speech.durations import UNITS as DURATION_UNITS
from benchvoice.speech.measures import SIDES
from benchvoice.speech.numbers import DENOMINATORS
from benchvoice.speech.places import Axes, place_words
from benchvoice.speech.readings import Context
from benchvoice.speech.say import say_position
from benchvoice.speech.spelling import PHONETIC, spelling_words
from benchvoice.speech.tokens import Words
from benchvoice.speech.units import PART_TABLE, UNIT_TABLE, setting_of

# A unit word that means several units, by the kinds of quantity it may belong to.
_WIDE: dict[str, tuple[str, ...]] = {
    "pound": ("mass", "torque", "pressure", "force"),
    "kilo": ("mass", "torque", "pressure", "force"),
    "kilogram": ("mass", "torque", "pressure", "force"),
    "degree": ("angle", "temperature", "temperature difference"),
    "celsius": ("temperature", "temperature difference"),
    "fahrenheit": ("temperature", "temperature difference"),
    "mil": ("length",),
    "division": (),  # only where there is a dial
    "flat": ("angle",),
    "turn": ("angle",),
    "rev": ("speed",),
}

# Written abbreviations are typed, not spoken.
_TYPED_ONLY = frozenset({"in", "mms", "cm", "m", "ft", "g", "ccs", "ml", "n", "sec", "secs", "s", "mins", "min", "hr",
                         "hrs", "h"})  # fmt: skip


def number_words() -> frozenset[str]:
    """Every word of a number: figures, counts, the point, fractions and decimal parts, signs."""
    counts = {*DIGITS, *TEENS, *TENS, "oh", "nought", "nil", "hundred", "thousand", "double", "triple"}
    joints = {"a", "an", "and", "of", "point", "minus", "plus"}
    return frozenset(counts | joints | _words_of(DENOMINATORS) | _words_of(PART_TABLE))


def unit_words(unit: str | None = None, kind: str | None = None) -> frozenset[str]:
    """The words of every unit of a kind of quantity, of a unit's kind, or of all kinds. UnknownUnit as usual."""
    wanted = kind_of(unit) if unit is not None else kind
    return frozenset(
        word
        for phrase, name in UNIT_TABLE.items()
        if wanted is None or wanted in _kinds(name)
        if phrase[0] not in _TYPED_ONLY
        for word in phrase
    )


def _kinds(name: str) -> tuple[str, ...]:
    return _WIDE[name] if name in _WIDE else (kind_of(name),)


def sign_words() -> frozenset[str]:
    """Words that say on which side of nominal, flush or nought a value lies."""
    return frozenset(SIDES) | {"by", "plus", "minus"} | _words_of((*shapes.FLUSH, *shapes.ON_THE_MARK))


def bound_words() -> frozenset[str]:
    """What feeler leaves do, and the words of bounds: "goes", "won't", "nips", "less than"."""
    said = (*shapes.GOES, *shapes.WONT, *shapes.NIPS, *shapes.BELOW, *shapes.ABOVE, *shapes.OR_LESS, *shapes.OR_MORE)
    return _spoken(_words_of(said))


def correction_words() -> frozenset[str]:
    """Words that take back what was just said."""
    return _words_of(shapes.CORRECTIONS)


def hedge_words() -> frozenset[str]:
    """Words that make a number a guess. They must be hearable, or a guess is taken for a reading."""
    return _words_of(shapes.HEDGES) | {"from", "little", "slightly", "well"}


def reading_words(context: Context) -> frozenset[str]:
    """Every word that a reading of this step may contain."""
    setting = setting_of(context.unit, context.work, context.what, context.per_division)
    words = number_words() | unit_words(kind=setting.kind) | sign_words() | bound_words() | correction_words()
    if setting.dial or setting.kind == "angle":
        words |= {"turn", "turns", "full", "whole", "complete"}
    if setting.dial:
        words |= {"division", "divisions"}
    return words | hedge_words() | {"standard"}


def duration_words() -> frozenset[str]:
    """The words of spoken durations."""
    return number_words() | (frozenset(DURATION_UNITS) - _TYPED_ONLY)


def nato_words() -> frozenset[str]:
    """The phonetic alphabet."""
    return frozenset(PHONETIC.values())


def mark_words() -> frozenset[str]:
    """The words of spelled marks: letters, the phonetic alphabet, figures."""
    return spelling_words() | frozenset((*TEENS, *TENS))


def place_vocabulary(axes: Axes) -> frozenset[str]:
    """The words of a step's places, axis names and the words of lists included."""
    values = {word for options in axes.values() for value in options for word in place_words(say_position(value))}
    names = {word for name in axes for word in place_words(name)}
    return frozenset(values | names | {"number", "and", "to", "all", "but"})


def _words_of(phrases: Iterable[Words]) -> frozenset[str]:
    return frozenset(word for phrase in phrases for word in phrase)


def _spoken(words: frozenset[str]) -> frozenset[str]:
    """Words with the apostrophe that a recogniser's lexicon writes: "wont" is "won't"."""
    spelt = {"wont": "won't", "doesnt": "doesn't", "didnt": "didn't", "cant": "can't"}
    return frozenset(spelt.get(word, word) for word in words)
