"""How a doubt is put into words: candidates as text, and the reason in a few words fit to be spoken."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.units import kind_of
from benchvoice.speech.choose import converted, displayed
from benchvoice.speech.measures import SIDES
from benchvoice.speech.say import say_list, say_number, say_quantity
from benchvoice.speech.sense import Doubt, Sense
from benchvoice.speech.tokens import Words
from benchvoice.speech.units import Setting, everyday

# Words of a step's ``what`` that tell which words are nought by themselves.
OFFSETS = frozenset({"oversize", "undersize", "size"})
HEIGHTS = frozenset({"height", "proud", "below", "deck", "protrusion", "depth", "flush", "step"})
DEVIATIONS = HEIGHTS | OFFSETS | frozenset(
    {"deviation", "dial", "error", "runout", "run", "out", "difference", "offset", "mark", "zero", "check", "oval",
     "taper", "movement"}
)  # fmt: skip

# Words that stay part of a reading even when they are in the name of what is measured: they carry its sign.
KEPT = (*SIDES, "flush", "standard", "point", "plus", "minus", "turn", "turns")


def asks_for(what: str | None, words: Iterable[str]) -> bool:
    """Whether a step's ``what`` names one of these things."""
    return bool(set((what or "").lower().replace("-", " ").replace(",", " ").split()) & set(words))


def candidates(senses: Iterable[Sense], setting: Setting, with_unit: bool = False) -> tuple[str, ...]:
    """The values it may have been, each once, in the unit it would be written in."""
    listed = []
    for sense in senses:
        display = displayed(sense, setting)
        text = format(display.decimal, "f")
        listed.append(f"{text} {display.unit}" if with_unit and display.unit not in (None, "1") else text)
    return tuple(dict.fromkeys(listed))


def shown(value: Decimal, unit: str, setting: Setting) -> str:
    """One value as a candidate, with its unit when that is not the step's own."""
    places = max(0, -int(value.as_tuple().exponent))
    step = Fraction(1, 10**places)
    sense = Sense(value=Fraction(value), places=places, step=step, grain=step, unit=unit)
    own = setting.unit is not None and everyday(unit, setting.unit)
    return candidates([sense], setting, not own)[0]


def need_units(senses: Sequence[Sense], setting: Setting) -> bool:
    """Whether candidates differ by their unit rather than by their figures."""
    if len({displayed(sense, setting).unit for sense in senses}) > 1 or setting.unit is None:
        return True
    return any(doubt in sense.doubts for sense in senses for doubt in (Doubt.UNIT, Doubt.LONE_FRACTION))


def two_numbers(senses: Sequence[Sense], setting: Setting) -> tuple[str, ...]:
    """ "One twenty five", with nothing to go by, may also be a one and a twenty five."""
    for sense in senses:
        groups = sense.groups
        if setting.unit is None and len(groups) == 2 and len(groups[1]) == 2 and groups[1][1] != "0":
            return (" ".join(groups),)
    return ()


def half_heard(words: Words, setting: Setting) -> tuple[Words, ...]:
    """What "two thousand" may have been in a length step: two thousandths, two thou; "hundred" in metric likewise."""
    if setting.kind == "length" and words[-1:] == ("thousand",):
        return (*words[:-1], "thousandths"), (*words[:-1], "thou")
    if setting.unit == "mm" and words[-1:] == ("hundred",):
        return ((*words[:-1], "hundredths"),)
    return ()


_KIND_NAMES = {"angle": "an angle"}


def wrong_kind(senses: Sequence[Sense], setting: Setting) -> str:
    """ "That is a torque, this is a length"."""
    got = kind_of(str(senses[0].unit))
    return f"that is {_article(got)}, this is {_article(str(setting.kind))}"


def _article(kind: str) -> str:
    return _KIND_NAMES.get(kind, f"a {kind}")


_SPOKEN: dict[Doubt, str] = {
    Doubt.SOUND: "it sounds like another number",
    Doubt.OTHER_UNIT: "another unit than the step's",
    Doubt.ODD_UNIT: "an odd unit here",
    Doubt.UNIT: "no unit said",
    Doubt.POINT: "no point said",
    Doubt.HUNDRED: "no hundred said",
    Doubt.FIGURES: "said figure by figure",
    Doubt.AFTER_POINT: "figures after the point",
    Doubt.ARTICLE: "the front may be missing",
    Doubt.LONE_FRACTION: "a fraction of what",
    Doubt.DIVISIONS: "in divisions",
    Doubt.TEN_THOUSANDTHS: "it sounds like a ten thousandth",
    Doubt.NEGATIVE: "less than nothing",
    Doubt.FROM: "from where?",
    Doubt.CORRECTED: "corrected",
    Doubt.REPEATED: "said twice",
    Doubt.FRONT: "the front figures are missing",
    Doubt.SPARE: "it could be another size",
}


def spoken_doubts(doubts: frozenset[Doubt]) -> str:
    """The doubts in a few words, the gravest first; empty when there are none."""
    return ", ".join(dict.fromkeys(words for doubt, words in _SPOKEN.items() if doubt in doubts))


def which(senses: Sequence[Sense], setting: Setting) -> str:
    """The question that tells the senses apart: "pounds of what?", or the candidates spoken."""
    if not senses:
        return "I can't make a number of that"
    if any(Doubt.FRONT in sense.doubts for sense in senses):
        return "all the figures, please"
    if any(Doubt.LONE_FRACTION in sense.doubts for sense in senses):
        return f"{say_number(senses[0].decimal, fractions=True).removeprefix('a ')} of what?"
    if {sense.unit for sense in senses} >= {"ft_lb", "in_lb"}:
        return "pounds of what?"
    if {sense.unit for sense in senses} >= {"kgf_m", "kgf_cm"}:
        return "kilos of what?"
    with_unit = need_units(senses, setting)
    spoken = [_spoken(sense, setting, with_unit) for sense in senses[:3]]
    return f"{say_list(list(dict.fromkeys(spoken)), 'or')}?"


def _spoken(sense: Sense, setting: Setting, with_unit: bool) -> str:
    display = displayed(sense, setting)
    if not with_unit or display.unit is None:
        return say_number(display.decimal)
    if display.unit == "in" and abs(display.value) < 1:
        display = converted(display, "thou")  # nobody says zero point zero zero five inches
    return say_quantity(display.decimal, str(display.unit))
