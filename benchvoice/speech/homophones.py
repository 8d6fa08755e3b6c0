"""Numbers that sound like other words: the ear can't tell "four" from "for", so the words beside it decide."""

from benchvoice.speech.vocabulary import number_words

_SAME = {"for": "four", "fore": "four", "to": "two", "too": "two", "won": "one", "ate": "eight"}
_ORDINALS = {"fourth": "four", "fifth": "five", "sixth": "six", "seventh": "seven", "eighth": "eight", "tenth": "ten"}
_FOR_THE_DAY = ("for", "the", "day")
_LEADS_TO_WORDS = frozenset({"back", "go", "due", "next", "nothing", "drag"})


def settle_homophones(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words with "for", "to", "won" … as numbers, where they stand beside figures or alone.

    "Zero point for" is zero point four; "left for later", "go back to" and "one to ten" stay as they are.
    """
    figures = number_words() | {"number"}
    settled = list(words)
    for at, word in enumerate(words):
        before = settled[at - 1] if at else None
        after = words[at + 1] if at + 1 < len(words) else None
        if word in _ORDINALS and (before == "point" or after in figures):
            settled[at] = _ORDINALS[word]  # no fraction follows a point, and no figure follows a fraction
        if word not in _SAME or words[at : at + 3] == _FOR_THE_DAY:
            continue
        between = before in figures - {"point", "number"} and after in figures
        if word == "to" and (before in _LEADS_TO_WORDS or between):
            continue
        if before is None or before in figures | {"all"} or after in figures | {"done"}:
            settled[at] = _SAME[word]
    return tuple(settled)
