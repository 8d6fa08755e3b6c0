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

from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

from benchvoice.speech import asking, shapes
from benchvoice.speech.choose import Choice, Window, as_limit, choose
from benchvoice.speech.measures import measures
from benchvoice.speech.sense import Doubt, Sense, as_decimal
from benchvoice.speech.senses import senses
from benchvoice.speech.shapes import Bound, End
from benchvoice.speech.sounds import partners
from benchvoice.speech.tokens import Words, words_of
from benchvoice.speech.units import Setting, Work, setting_of


class Action(StrEnum):
    """What to do with what was heard."""

    TAKE = "take"
    READ_BACK = "read back"
    ASK = "ask again"
    BOUND = "bound"
    NOT_A_VALUE = "not a value"


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The step in hand: its unit, working system, limits, what is measured, and what the instrument can tell apart.

    ``per_division`` is the value of one division of a dial, ``resolution`` the smallest step the instrument shows,
    both in ``unit``. ``what`` is free text; words such as torque, oversize, dial, height or ratio in it are heeded.
    """

    unit: str | None = None
    work: Work = "metric"
    low: Decimal | None = None
    high: Decimal | None = None
    what: str | None = None
    per_division: Decimal | None = None
    resolution: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpokenReading:
    """What was understood.

    ``value``, ``low`` and ``high`` are in ``unit``, which is the unit said, or the step's when none was
    (``heard_unit`` is None then). A plain reading lies in the interval ``low`` = ``high`` = ``value``; a bound has one
    end or two. ``resolution`` is the smallest step that the words imply, ``decimals`` how many decimals were said,
    ``digits`` the figures when they were said without a point. ``candidates`` are the values it may have been,
    ``sounds_like`` the phrases that it may be mistaken for, and ``reason`` says in a few words, fit to be spoken,
    why it isn't simply taken.
    """

    action: Action
    value: Decimal | None = None
    unit: str | None = None
    heard_unit: str | None = None
    low: Decimal | None = None
    high: Decimal | None = None
    resolution: Decimal | None = None
    decimals: int | None = None
    candidates: tuple[str, ...] = ()
    reason: str = ""
    digits: str | None = None
    sounds_like: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Step:
    """A context in the form that the rules work with."""

    context: Context
    setting: Setting
    window: Window


def parse_reading(text: str, context: Context) -> SpokenReading:
    """What was said, in the step in hand. UnknownUnit when the context's unit is not on the list; never guesses."""
    setting = setting_of(context.unit, context.work, context.what, context.per_division)
    window = Window(as_limit(context.low), as_limit(context.high), context.unit, as_limit(context.resolution))
    return _utterance(_without_name(words_of(text), context), _Step(context, setting, window))


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


def _utterance(words: Words, step: _Step) -> SpokenReading:
    """One utterance, by its shape: corrected, hedged, bound, plain, a range, or a number with other words round it."""
    special = _named_value(words, step)
    if special is not None:
        return special
    if not shapes.has_number(words) and not shapes.all_number_words(words):
        return SpokenReading(action=Action.NOT_A_VALUE, reason="that is no reading")
    cut = shapes.corrected(words)
    if cut is not None:
        return _corrected(*cut, words, step)
    plain_words = shapes.unhedged(words)
    if plain_words is not None and not measures(words):
        return _hedged(plain_words, step)
    ends = shapes.bounds(words)
    if ends:
        bound = _bound(ends, step)
        if bound is not None:
            return bound
    found = measures(words)
    if found:
        return _measured(words, step)
    return _unclear(words, step)


def _named_value(words: Words, step: _Step) -> SpokenReading | None:
    """Words that are nought by themselves: "standard" of an oversize, "bang on" of a deviation, "flush" of a height."""
    setting, context = step.setting, step.context
    unit = context.unit or ("in" if setting.inch else "mm")
    nought = SpokenReading(
        action=Action.TAKE, value=Decimal(0), unit=unit, low=Decimal(0), high=Decimal(0), decimals=0
    )
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


def _corrected(before: Words, after: Words, words: Words, step: _Step) -> SpokenReading:
    """"Four no five thou": the last number counts, read back, and the unit said before still holds."""
    if not after:
        return SpokenReading(action=Action.ASK, reason="taken back; say it again")
    if before and not shapes.all_number_words(before):
        return _unclear(words, step)
    _, shared = shapes.sharing_unit(before, after) if before else (before, after)
    reading = _utterance(shared, step)
    if reading.action is Action.TAKE:
        return replace(reading, action=Action.READ_BACK, reason="corrected")
    return reading


def _hedged(words: Words, step: _Step) -> SpokenReading:
    inner = _utterance(words, step)
    return SpokenReading(action=Action.ASK, candidates=_values(inner, step), reason="say what it reads, not about")


def _values(reading: SpokenReading, step: _Step) -> tuple[str, ...]:
    """A reading's value, or its candidates, as candidates for a question."""
    if reading.value is None or reading.unit is None:
        return reading.candidates
    return (asking.shown(reading.value, reading.unit, step.setting),)


def _bound(ends: list[Bound], step: _Step) -> SpokenReading | None:
    """An interval's ends: each must be a value by itself, and in order. None when the words aren't numbers."""
    if len(ends) > 2:
        return None
    texts = [end.words for end in ends]
    if len(texts) == 2:
        texts = list(shapes.sharing_unit(*texts))
    readings = [_utterance(text, step) if measures(text) else None for text in texts]
    found = [reading for reading in readings if reading is not None]
    if len(found) < len(ends):
        return None
    unclear = next((reading for reading in found if reading.value is None), None)
    if unclear is not None:
        return replace(unclear, action=Action.ASK, reason=unclear.reason or "say that again")
    return _interval([(end.end, reading) for end, reading in zip(ends, found, strict=True)], step)


def _interval(ends: list[tuple[End, SpokenReading]], step: _Step) -> SpokenReading:
    low = high = nip = None
    for end, reading in ends:
        if end is End.LOW:
            low = reading
        elif end is End.HIGH:
            high = reading
        else:
            nip = reading
    if nip is not None:  # a leaf that nips has gone in, and is close
        low, high = (low, nip) if low is not None else (nip, high)
    first = low or high
    assert first is not None, "an interval has an end"
    bound = replace(
        first,
        action=Action.BOUND,
        low=low.value if low else None,
        high=high.value if high else None,
        reason="",
        sounds_like=(),
    )
    if low is not None and high is not None:
        same = low.unit == high.unit
        if len(ends) == 2 and (not same or low.value is None or high.value is None or low.value >= high.value):
            return SpokenReading(
                action=Action.ASK,
                candidates=(*_values(low, step), *_values(high, step)),
                reason="those two don't fit together",
            )
    return bound


# --- values ----------------------------------------------------------------------------------------------------------


def _measured(words: Words, step: _Step) -> SpokenReading:
    """Words that are a value, or several."""
    twice = _said_twice(words, step)
    if twice is not None:
        return twice
    found = _choice(words, step)
    thousandths = asking.half_heard(words, step.setting)
    if thousandths:
        return _half_heard(words, thousandths, step)
    sounds = partners(words)
    phrases = tuple(" ".join(partner) for partner in sounds)
    one = found.one
    if one is None:
        return replace(_ask(found, words, step), sounds_like=phrases)
    if one.unit is None:
        return replace(_ask(found, words, step), reason="what unit?", sounds_like=phrases)
    if step.window.known and step.setting.unit and step.window.too_coarse(one):
        return _coarse(found, one, step)
    if sounds and not _ruled_out(sounds, one, step):
        one = one.doubting(Doubt.SOUND)
    settled = _settled(one)
    return settled if settled.action is Action.TAKE else replace(settled, sounds_like=phrases)


def _choice(words: Words, step: _Step) -> Choice:
    """The senses of the words that survive the step."""
    found = [sense for measure in measures(words) for sense in senses(measure, step.setting)]
    return choose(found, step.setting, step.window) if found else Choice()


def _settled(sense: Sense) -> SpokenReading:
    """One sense: taken as it is, or read back for its doubts."""
    doubts = asking.spoken_doubts(sense.doubts)
    value = sense.decimal
    return SpokenReading(
        action=Action.READ_BACK if doubts else Action.TAKE,
        value=value,
        unit=sense.unit,
        heard_unit=sense.heard,
        low=value,
        high=value,
        resolution=as_decimal(sense.step, 0),
        decimals=sense.places,
        reason=doubts,
        digits=sense.figures,
    )


def _ruled_out(sounds: list[Words], sense: Sense, step: _Step) -> bool:
    """Whether the limits hold the value and none of those it sounds like."""
    if not step.window.known or not step.setting.unit or not step.window.holds(sense):
        return False
    return not any(
        step.window.holds(other)
        for words in sounds
        for measure in measures(words)
        for other in senses(measure, step.setting)
        if other.unit is not None and choose([other], step.setting, Window()).left and not other.scaled
    )


def _ask(found: Choice, words: Words, step: _Step) -> SpokenReading:
    """More than one sense, or none of the right kind."""
    if found.wrong:
        kinds = asking.wrong_kind(found.wrong, step.setting)
        return SpokenReading(
            action=Action.ASK, candidates=asking.candidates(found.wrong, step.setting, True), reason=kinds
        )
    listed = asking.candidates(found.left, step.setting, asking.need_units(found.left, step.setting))
    listed += asking.two_numbers(found.left, step.setting)
    return SpokenReading(action=Action.ASK, candidates=listed, reason=asking.which(found.left, step.setting))


def _coarse(found: Choice, one: Sense, step: _Step) -> SpokenReading:
    listed = asking.candidates([one], step.setting, False)
    if one.figures is not None:
        finer = replace(one, places=one.places + 1)
        listed += asking.candidates([finer], step.setting, False)
    return SpokenReading(action=Action.ASK, candidates=listed, reason="one more figure")


def _half_heard(words: Words, others: tuple[Words, ...], step: _Step) -> SpokenReading:
    """"Two thousand" in a length step: two thousandths, half heard? The limits may tell."""
    whole = [sense for measure in measures(words) for sense in senses(measure, step.setting) if not sense.scaled]
    small = _choice(others[0], step).left
    phrases = tuple(" ".join(other) for other in others)
    listed = asking.candidates([*whole, *small], step.setting, False)
    inside = [sense for sense in (*whole, *small) if step.window.known and step.window.holds(sense)]
    if len(inside) == 1:
        return replace(_settled(inside[0].doubting(Doubt.SOUND)), sounds_like=phrases)
    return SpokenReading(action=Action.ASK, candidates=listed, reason=f"{phrases[0]}?", sounds_like=phrases)


def _said_twice(words: Words, step: _Step) -> SpokenReading | None:
    """"Twenty twenty thou": a stutter, figures, or two numbers? Limits may tell; else it is asked."""
    tail = shapes.unit_tail(words)
    number = words[: len(words) - len(tail)] if tail else words
    half = len(number) // 2
    if not half or len(number) % 2 or number[:half] != number[half:]:
        return None
    once, whole = _choice((*number[:half], *tail), step), _choice(words, step)
    if once.one is None or whole.one is None or once.one.unit is None:
        return None
    if not once.one.value:
        return _noughts(whole.one, step)
    added = replace(once.one, value=once.one.value * 2)
    choices = [once.one, whole.one, added]
    if step.window.known:
        inside = [sense for sense in choices if step.window.holds(sense)]
        if len(inside) == 1:
            return _settled(inside[0].doubting(Doubt.REPEATED))
    return SpokenReading(
        action=Action.ASK, candidates=asking.candidates(choices, step.setting, False), reason="once or twice?"
    )


def _noughts(nought: Sense, step: _Step) -> SpokenReading:
    figures = nought.figures or "00"
    listed = [replace(nought, places=places) for places in range(len(figures) + 1)]
    shown = asking.candidates(listed, step.setting, False)
    return SpokenReading(action=Action.ASK, candidates=shown, reason="nought with how many places?")


# --- what is no value ------------------------------------------------------------------------------------------------


def _unclear(words: Words, step: _Step) -> SpokenReading:
    """Number words that are no value: a range, an unfinished number, or a number with other words round it."""
    for first, second in shapes.ranges(words):
        low, high = shapes.sharing_unit(first, second)
        if measures(low) and measures(high):
            both = (_utterance(low, step), _utterance(high, step))
            listed = tuple(value for reading in both for value in _values(reading, step))
            return SpokenReading(action=Action.ASK, candidates=listed, reason="which of the two?")
    listed = tuple(
        value for span in _spans(words) for value in _values(_utterance(span, step), step)
    )
    if shapes.all_number_words(words):
        if words.count("point") > 1:
            return SpokenReading(action=Action.ASK, reason="two points")
        return SpokenReading(action=Action.ASK, candidates=listed, reason="I can't make a number of that")
    return SpokenReading(action=Action.ASK, candidates=listed, reason="just the number, please")


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
