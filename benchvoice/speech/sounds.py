"""What sounds like what: "fifteen" and "fifty", one word at a time.

The partners of an utterance are the same words with one -teen or -ty exchanged for the other. Only bare words count:
"sixty five" can't be heard as "sixteen five", and nobody says fifty thirty-seconds.
"""

from benchvoice.speech.counting import DIGIT_VALUES, SOUNDS_LIKE, TEN_VALUES
from benchvoice.speech.numbers import DENOMINATORS
from benchvoice.speech.tokens import Words


def partners(words: Words) -> list[Words]:
    """Every utterance that these words may be mistaken for."""
    found = [
        (*words[:at], SOUNDS_LIKE[word], *words[at + 1 :])
        for at, word in enumerate(words)
        if word in SOUNDS_LIKE and _bare(words, at)
    ]
    if words[:2] in (("ten", "thousandths"), ("ten", "thousandth")):
        found.append(("a", "ten", "thousandth", *words[2:]))
    return found


def _bare(words: Words, at: int) -> bool:
    """Whether the word stands alone: no figure completes it, and it is no part or numerator of a binary fraction."""
    word, follows = words[at], words[at + 1 : at + 2]
    if word in TEN_VALUES and follows and follows[0] in DIGIT_VALUES:
        return False
    if words[at : at + 2] in DENOMINATORS and at > 0:
        return False
    return follows not in DENOMINATORS and words[at + 1 : at + 3] not in DENOMINATORS
