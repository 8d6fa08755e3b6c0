"""Words that are a value: which of their senses is meant in the step, and whether it is taken, read back or asked."""

from dataclasses import dataclass, replace

from benchvoice.speech import asking, shapes
from benchvoice.speech.choose import Choice, Window, choose
from benchvoice.speech.measures import measures
from benchvoice.speech.reading import Action, Context, SpokenReading
from benchvoice.speech.sense import Doubt, Sense, as_decimal
from benchvoice.speech.senses import senses
from benchvoice.speech.sounds import partners
from benchvoice.speech.tokens import Words
from benchvoice.speech.units import Setting


@dataclass(frozen=True, slots=True)
class Step:
    """A context in the form that the rules work with.

    ``judged`` is off for the ends of an interval: a feeler leaf is exact, however coarse the words for it.
    """

    context: Context
    setting: Setting
    window: Window
    judged: bool = True


def measured(words: Words, step: Step) -> SpokenReading:
    """Words that are a value, or several."""
    twice = _said_twice(words, step)
    if twice is not None:
        return twice
    found = choice(words, step)
    thousandths = asking.half_heard(words, step.setting)
    if thousandths:
        return _half_heard(words, thousandths, step)
    sounds = partners(words)
    phrases = tuple(" ".join(partner) for partner in sounds)
    one = found.one
    if one is None:
        return replace(_ask(found, step), sounds_like=phrases)
    if one.unit is None:
        return replace(_ask(found, step), reason="what unit?", sounds_like=phrases)
    if step.judged and step.setting.unit and step.window.too_coarse(one):
        return _coarse(one, step)
    if _beside(words, one, step):
        one = one.doubting(Doubt.FROM)
    if sounds and not _ruled_out(sounds, one, step):
        one = one.doubting(Doubt.SOUND)
    settled = _settled(one)
    return settled if settled.action is Action.TAKE else replace(settled, sounds_like=phrases)


def _beside(words: Words, sense: Sense, step: Step) -> bool:
    """Whether a side was said of a size: "two thou over" of a bore leaves open over what."""
    sides = any(measure.side for measure in measures(words))
    return sides and step.window.known and step.setting.unit is not None and not step.window.near(sense)


def choice(words: Words, step: Step) -> Choice:
    """The senses of the words that survive the step."""
    found = [sense for measure in measures(words) for sense in senses(measure, step.setting)]
    return choose(found, step.setting, step.window)


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


def _ruled_out(sounds: list[Words], sense: Sense, step: Step) -> bool:
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


def _ask(found: Choice, step: Step) -> SpokenReading:
    """More than one sense, or none of the right kind."""
    if found.wrong:
        kinds = asking.wrong_kind(found.wrong, step.setting)
        return SpokenReading(
            action=Action.ASK, candidates=asking.candidates(found.wrong, step.setting, True), reason=kinds
        )
    listed = asking.candidates(found.left, step.setting, asking.need_units(found.left, step.setting))
    listed += asking.two_numbers(found.left, step.setting)
    return SpokenReading(action=Action.ASK, candidates=listed, reason=asking.which(found.left, step.setting))


def _coarse(one: Sense, step: Step) -> SpokenReading:
    listed = asking.candidates([one], step.setting)
    if one.figures is not None:
        finer = replace(one, places=one.places + 1)
        listed += asking.candidates([finer], step.setting)
    return SpokenReading(action=Action.ASK, candidates=listed, reason="one more figure")


def _half_heard(words: Words, others: tuple[Words, ...], step: Step) -> SpokenReading:
    """ "Two thousand" in a length step: two thousandths, half heard? The limits may tell."""
    whole = [sense for measure in measures(words) for sense in senses(measure, step.setting) if not sense.scaled]
    small = choice(others[0], step).left
    phrases = tuple(" ".join(other) for other in others)
    listed = asking.candidates([*whole, *small], step.setting)
    inside = [sense for sense in (*whole, *small) if step.window.known and step.window.holds(sense)]
    if len(inside) == 1:
        return replace(_settled(inside[0].doubting(Doubt.SOUND)), sounds_like=phrases)
    return SpokenReading(action=Action.ASK, candidates=listed, reason=f"{phrases[0]}?", sounds_like=phrases)


def _said_twice(words: Words, step: Step) -> SpokenReading | None:
    """ "Twenty twenty thou": a stutter, figures, or two numbers? Limits may tell; else it is asked."""
    tail = shapes.unit_tail(words)
    number = words[: len(words) - len(tail)]
    half = len(number) // 2
    if number[:half] != number[half:]:
        return None
    once, whole = choice((*number[:half], *tail), step), choice(words, step)
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
        action=Action.ASK, candidates=asking.candidates(choices, step.setting), reason="once or twice?"
    )


def _noughts(nought: Sense, step: Step) -> SpokenReading:
    listed = [replace(nought, places=places) for places in range(len(nought.figures or "") + 1)]
    shown = asking.candidates(listed, step.setting)
    return SpokenReading(action=Action.ASK, candidates=shown, reason="nought with how many places?")
