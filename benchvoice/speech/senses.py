"""What a measured value, as it was said, can mean in the step in hand: every sense, with what had to be understood.

An explicit unit always wins and is kept; "tenths" are tenths of a thou in inch work and of a millimetre in metric; a
number without a unit is the matter of ``bare``. Nothing is decided here.
"""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from benchvoice.quantity.units import convert, kind_of
from benchvoice.speech.bare import bare, placed
from benchvoice.speech.measures import Measure, Term
from benchvoice.speech.numbers import Form, decimal_places, terminates
from benchvoice.speech.sense import Doubt, Sense, plain, times
from benchvoice.speech.units import Meaning, Setting, everyday, is_inch, meanings, part_meanings, part_of


def senses(measure: Measure, setting: Setting) -> list[Sense]:
    """Every meaning of a value as it was said."""
    if measure.ratio:
        found = [replace(plain(measure.terms[0].number, "1"), heard="1")]
    elif len(measure.terms) == 1:
        found = list(_single(measure.terms[0], measure, setting))
    else:
        found = list(_compound(measure.terms[0], measure.terms[1], setting))
    if measure.side is not None:
        found = [sense for sense in found if sense.unit is None or kind_of(sense.unit) in _HAS_SIDES]
        found = [sense.doubting(Doubt.FROM) if setting.kind == "temperature" else sense for sense in found]
    return [_negative(sense) for sense in found] if measure.sign < 0 else found


# Sixty newton metres can't be proud, nor over: over what?
_HAS_SIDES = frozenset({"length", "temperature"})


_NEVER_NEGATIVE = frozenset({"torque", "mass", "speed", "time", "volume", "force"})


def _negative(sense: Sense) -> Sense:
    below = replace(sense, value=-sense.value)
    odd = sense.unit is not None and kind_of(sense.unit) in _NEVER_NEGATIVE
    return below.doubting(Doubt.NEGATIVE) if odd else below


def _single(term: Term, measure: Measure, setting: Setting) -> Iterator[Sense]:
    if term.bare:
        yield from bare(term.number, measure, setting)
        return
    for sense in _counted(term, setting):
        yield from _explicit(sense, term, setting)


def _counted(term: Term, setting: Setting) -> Iterator[Sense]:
    """The number in every meaning of the unit that was said with it."""
    if term.part is None:
        found = meanings(str(term.unit), setting)
    elif term.unit is None:
        found = part_meanings(term.part, setting)
    else:
        found = part_of(term.part, term.unit, setting)
    for meaning in found:
        if meaning.unit == "turn" and not terminates(term.number.value):
            meaning = Meaning(unit="deg", factor=Fraction(360))  # a third of a turn is 120 degrees
        if terminates(term.number.value * meaning.factor):
            yield times(plain(term.number, meaning.unit), meaning, meaning.unit)


def _explicit(sense: Sense, term: Term, setting: Setting) -> Iterator[Sense]:
    """A unit was said: it is kept; whether it is the step's own decides if it is read back."""
    unit = str(sense.unit)
    on_dial = term.unit == "turn" and setting.turn is not None
    if on_dial or term.unit == "division":
        yield sense.doubting(Doubt.DIVISIONS) if on_dial else sense
        return
    if setting.unit is not None:
        foreign = not everyday(unit, setting.unit)
    else:
        foreign = kind_of(unit) == "length" and is_inch(unit) is not setting.inch
    if foreign:
        sense = sense.doubting(Doubt.OTHER_UNIT)
    if term.part is not None and term.unit is None and setting.kind is None:
        sense = sense.doubting(Doubt.UNIT)
    if term.part == 3 and term.number.value == 10 and term.number.form is Form.COUNT:
        sense = sense.doubting(Doubt.TEN_THOUSANDTHS)
    if sense.figures is None:
        yield sense
    elif term.part is not None:
        yield sense.doubting(Doubt.FIGURES)  # "one two five thousandths": the part has placed the point
    else:
        yield from placed(sense, unit, setting)


def _compound(first: Term, second: Term, setting: Setting) -> Iterator[Sense]:
    """ "One thou five tenths", "one and five thousandths", "two turns and forty three"."""
    for front in _front(first, second, setting):
        for back in _back(second, setting, front):
            if kind_of(str(front.unit)) != kind_of(str(back.unit)):
                continue
            both = _added(front, back)
            if both is not None:
                named = first if not first.bare else second
                yield from [both] if named.unit is None and first.bare else _explicit(both, named, setting)


def _added(front: Sense, back: Sense) -> Sense | None:
    """Two amounts as one, in the first one's unit where that ends as a decimal, else in the second's."""
    larger, smaller = str(front.unit), str(back.unit)
    if convert(back.step, smaller, larger) >= front.step:
        return None  # "two thou five inches" is not one value
    unit = larger if terminates(convert(1, smaller, larger)) else smaller
    value = convert(front.value, larger, unit) + convert(back.value, smaller, unit)
    step = convert(back.step, smaller, unit)
    return replace(
        front,
        value=value,
        step=step,
        grain=convert(back.grain, smaller, unit),
        places=max(decimal_places(value), decimal_places(step)),
        unit=unit,
        doubts=front.doubts | back.doubts,
        groups=(),
    )


def _front(first: Term, second: Term, setting: Setting) -> Iterator[Sense]:
    if not first.bare:
        yield from _counted(first, setting)
        return
    if second.unit is not None:
        whole = [meaning.unit for meaning in meanings(second.unit, setting)]
    else:
        whole = _wholes(second.part, setting)
    yield from (replace(plain(first.number, unit), heard=unit) for unit in whole)


def _wholes(part: int | None, setting: Setting) -> list[str]:
    """What the whole counts when a part without a unit follows: "one and five thousandths" is an inch and five thou.

    Tenths are parts of a thou, but an inch step leaves open which of the two "two and three tenths" begins with.
    """
    if setting.kind not in (None, "length"):
        return [setting.unit] if setting.unit is not None else []
    if not setting.inch:
        return ["mm"]
    if part == 1:
        return ["thou"] if setting.unit == "thou" else ["in", "thou"]
    return ["in"]


def _back(second: Term, setting: Setting, front: Sense) -> Iterator[Sense]:
    if not second.bare:
        yield from _counted(second, setting)
        return
    if setting.turn is not None and setting.per_division is not None:
        division = Meaning(unit=str(setting.unit), factor=Fraction(setting.per_division))
        yield times(plain(second.number, setting.unit), division, None).doubting(Doubt.DIVISIONS)
    smaller = {"min": "s", "h": "min"}.get(str(front.unit))
    if smaller is not None:
        yield plain(second.number, smaller)
