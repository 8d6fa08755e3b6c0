"""Pauses inside a number: words that can't be the end of one, and the fraction that comes late.

People read a gauge while they speak: "two point … eight", "four … and a half". Words that can't end a number are
waited for; a lone "and a half" after a reading may belong to it, which the session asks.
"""

from decimal import Decimal

from benchvoice.speech import numbers
from benchvoice.speech.sense import as_decimal
from benchvoice.speech.tokens import words_of

_OPEN = frozenset({"point", "and", "minus", "plus", "double", "triple", "a", "an", "of", "between", "from", "to", "or",
                   "than", "by", "about", "correction"})  # fmt: skip


def unfinished(text: str) -> bool:
    """Whether more must follow: "two point", "a hundred and", "minus", "less than"."""
    words = words_of(text)
    return bool(words) and words[-1] in _OPEN


def late_fraction(text: str) -> Decimal | None:
    """The fraction of a lone "and a half", "and three quarters"; None for anything else."""
    words = words_of(text)
    if words[:1] != ("and",):
        return None
    found = [part.value for part, end in numbers.fraction(words, 1) if end == len(words)]
    return as_decimal(found[0], 0) if len(found) == 1 and numbers.terminates(found[0]) else None
