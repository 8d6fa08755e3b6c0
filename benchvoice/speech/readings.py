"""A reading, as it is read off the gauge: from words to a value, or to the reason why there is none yet.

:func:`parse_reading` takes what was heard or typed and the step in hand, and says what to do with it:

* **take**: the words have one meaning; the session echoes it;
* **read back**: one meaning is likely, but a point, a hundred or a unit had to be supplied, the unit isn't the step's,
  or the words sound like others: say it figure by figure, store it only after "yes";
* **ask again**: hedged, a range, two meanings, too coarse for the limits, or other words round a number;
* **bound**: an end of an interval ("less than two thou", "two goes, three won't"): no value;
* **not a value**: no reading at all: a command, or talk.

The reading keeps the unit that was said and the decimals that were said. Confidence is not considered here.
"""

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

from benchvoice.speech import asking, shapes
from benchvoice.speech.choose import Window, as_limit
from benchvoice.speech.measures import measures
from benchvoice.speech.reading import Action, Context, SpokenReading
from benchvoice.speech.shapes import Bound, End
from benchvoice.speech.tokens import Words, words_of
from benchvoice.speech.units import says_unit, setting_of
from benchvoice.speech.values import Step, choice, measured

__all__ = ["Action", "Context", "SpokenReading", "parse_reading"]

# No reading has more words, corrected or not; what is longer is talk, and would only cost time.
MOST_WORDS = 24


def parse_reading(text: str, context: Context) -> SpokenReading:
    """What was said, in the step in hand. UnknownUnit when the context's unit is not on the list; never guesses."""
    setting = setting_of(context.unit, context.work, context.what, context.per_division)
    window = Window(as_limit(context.low), as_limit(context.high), context.unit, as_limit(context.resolution))
    return _utterance(_without_name(words_of(text), context), Step(context, setting, window))


def _without_name(words: Words, context: Context) -> Words:
    """Without the name of what is measured, before or after the number: "two tenths oval", "end float six thou"."""
    named = set(words_of(context.what or ""))
    if named & {"round", "ovality"}:
        named |= {"oval"}
    name = {word for word in named if not shapes.all_number_words((word,))} - set(asking.KEPT)
    if not name & set(words):
        return words
    around = name | {"the", "of"}
    start, end = 0, len(words)
    while start < end and words[start] in around:
        start += 1
    while end > start and words[end - 1] in around:
        end -= 1
    return words[start:end]


# --- shapes ----------------------------------------------------------------------------------------------------------


def _utterance(words: Words, step: Step) -> SpokenReading:
    """One utterance, by its shape: corrected, hedged, bound, plain, a range, or a number with other words round it."""
    special = _named_value(words, step)
    if special is not None:
        return special
    if not _speaks_of_values(words, step):
        return SpokenReading(action=Action.NOT_A_VALUE, reason="that is no reading")
    if words in (("oh",), ("o",)):
        return SpokenReading(action=Action.ASK, candidates=("0",), reason="nought?")
    if len(words) > MOST_WORDS:
        return SpokenReading(action=Action.ASK, reason="just the number, please")
    cut = shapes.corrected(words)
    if cut is not None:
        return _corrected(*cut, words, step)
    ends = shapes.bounds(words)
    bound = _bound(ends, step) if ends else None
    if bound is not None:
        return bound
    if measures(words):
        return measured(words, step)
    plain_words = shapes.unhedged(words)
    return _unclear(words, step) if plain_words is None else _hedged(plain_words, step)


def _speaks_of_values(words: Words, step: Step) -> bool:
    """Whether there is any number in the words, a piece of one, or a unit of the step; else they are talk."""
    if shapes.has_number(words) or shapes.has_number(shapes.unhedged(words) or ()) or choice(words, step).left:
        return True
    amount = any(says_unit(words, at + 1, step.setting) for at, word in enumerate(words) if word in ("a", "an"))
    alone = shapes.all_number_words(words) and says_unit(words, 0, step.setting)
    return amount or alone or (shapes.all_number_words(words) and bool(shapes.PIECES & set(words)))


def _named_value(words: Words, step: Step) -> SpokenReading | None:
    """Words that are nought by themselves: "standard" of an oversize, "bang on" of a deviation, "flush" of a height."""
    setting, context = step.setting, step.context
    unit = context.unit or ("in" if setting.inch else "mm")
    nought = SpokenReading(action=Action.TAKE, value=Decimal(0), unit=unit, low=Decimal(0), high=Decimal(0), decimals=0)
    if words in shapes.STANDARD:
        return nought if asking.asks_for(context.what, asking.OFFSETS) else None
    if words in shapes.FLUSH and setting.kind in (None, "length"):
        below = step.window.low is not None and step.window.low < 0
        if below or asking.asks_for(context.what, asking.HEIGHTS):
            return nought
        return replace(nought, action=Action.READ_BACK, reason="flush") if context.unit else None
    if words in shapes.ON_THE_MARK:
        low = step.window.low
        if asking.asks_for(context.what, asking.DEVIATIONS) or (low is not None and low < 0):
            return nought
        return SpokenReading(action=Action.ASK, reason="on what? say the figure")
    return None


def _corrected(before: Words, after: Words, words: Words, step: Step) -> SpokenReading:
    """ "Four no five thou": the last number counts, read back, and the unit said before still holds."""
    if not after:
        return SpokenReading(action=Action.ASK, reason="taken back; say it again")
    if before and not shapes.all_number_words(before):
        return _unclear(words, step)
    shared = shapes.sharing_unit([before, after])[1]
    reading = _utterance(shared, step)
    if reading.action is Action.TAKE:
        return replace(reading, action=Action.READ_BACK, reason="corrected")
    return reading


def _hedged(words: Words, step: Step) -> SpokenReading:
    inner = _utterance(words, step)
    why = "say what it reads, not about"
    return SpokenReading(
        action=Action.ASK, candidates=_values(inner, step), reason=why, other_words=inner.other_words
    )


def _values(reading: SpokenReading, step: Step) -> tuple[str, ...]:
    """A reading's value, or its candidates, as candidates for a question."""
    if reading.value is None or reading.unit is None:
        return reading.candidates
    return (asking.shown(reading.value, reading.unit, step.setting),)


def _bound(ends: list[Bound], step: Step) -> SpokenReading | None:
    """An interval's ends: each must be a value by itself, and in order. None when the words aren't numbers."""
    texts = shapes.sharing_unit([end.words for end in ends])
    leaves = replace(step, judged=False)
    readings = [_utterance(text, leaves) if measures(text) else None for text in texts]
    found = [reading for reading in readings if reading is not None]
    if len(found) < len(ends):
        return None
    unclear = next((reading for reading in found if reading.value is None), None)
    if unclear is not None:
        return replace(unclear, action=Action.ASK)
    return _interval([(end.end, reading) for end, reading in zip(ends, found, strict=True)], step)


def _interval(ends: list[tuple[End, SpokenReading]], step: Step) -> SpokenReading:
    """The interval between the ends. A leaf that nips has gone in and is close: it bounds from either side."""
    by_end = dict(ends)
    low, high, nip = by_end.get(End.LOW), by_end.get(End.HIGH), by_end.get(End.NIP)
    if nip is not None:
        low, high = (low, nip) if low is not None and high is None else (nip, high)
    first = low or high
    if first is None or len(by_end) < len(ends) or not _rising([low, high]) or not _rising([by_end.get(End.LOW), nip]):
        listed = tuple(dict.fromkeys(value for _, reading in ends for value in _values(reading, step)))
        return SpokenReading(action=Action.ASK, candidates=listed, reason="those don't fit together")
    return replace(
        first,
        action=Action.BOUND,
        low=low.value if low else None,
        high=high.value if high else None,
        reason="",
        sounds_like=(),
    )


def _rising(readings: list[SpokenReading | None]) -> bool:
    """Whether the values that are there rise, in one unit."""
    there = [(reading.value, reading.unit) for reading in readings if reading is not None and reading.value is not None]
    return all(one[0] < other[0] and one[1] == other[1] for one, other in pairwise(there))


# --- what is no value ------------------------------------------------------------------------------------------------


def _unclear(words: Words, step: Step) -> SpokenReading:
    """Number words that are no value: a range, an unfinished number, or a number with other words round it."""
    for first, second in shapes.ranges(words):
        low, high = shapes.sharing_unit([first, second])
        if measures(low) and measures(high):
            both = (_utterance(low, step), _utterance(high, step))
            listed = tuple(value for reading in both for value in _values(reading, step))
            return SpokenReading(action=Action.ASK, candidates=listed, reason="which of the two?")
    spans = _spans(words)
    listed = tuple(dict.fromkeys(value for span in spans for value in _values(_utterance(span, step), step)))
    if shapes.all_number_words(words):
        if words.count("point") > 1:
            return SpokenReading(action=Action.ASK, reason="two points")
        return SpokenReading(action=Action.ASK, candidates=listed, reason="I can't make a number of that")
    return SpokenReading(action=Action.ASK, candidates=listed, reason="just the number, please", other_words=True)


def _spans(words: Words) -> list[Words]:
    """The longest runs of words that are values by themselves."""
    found: list[Words] = []
    at = 0
    while at < len(words):
        spans = (words[at:end] for end in range(len(words), at, -1))
        longest = next((span for span in spans if shapes.has_number(span) and measures(span)), ())
        if longest:
            found.append(longest)
            at += len(longest)
        else:
            at += 1
    return found
