"""Unit words: what was said, and every unit that it may mean in the work and step in hand.

Most words mean one unit. "Pounds", "kilos", "degrees", "mil", "tenths" and "turns" mean different things to different
work; what they mean here is :func:`meanings`, which returns them all.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from benchvoice.quantity.units import UNITS, kind_of
from benchvoice.speech.tokens import Words

Work = Literal["inch", "metric"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """What is known of the step when a unit word is heard: its kind of quantity, unit, work and dial."""

    kind: str | None
    unit: str | None
    inch: bool
    per_division: Decimal | None = None
    turn: Fraction | None = None  # how far one turn of the dial goes, in ``unit``
    dial: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """One meaning of a unit word: the unit, how many of it, and whether the trade would find it odd here."""

    unit: str
    factor: Fraction = Fraction(1)
    odd: bool = False


# Word for unit. A name on the right that is not a unit ("pound", "kilo") has several meanings, found below.
_PLAIN: dict[str, str] = {
    "in": "inch inches in",
    "thou": "thou",
    "mm": "millimetre millimetres millimeter millimeters mms",
    "um": "micron microns micrometre micrometres micrometer micrometers",
    "cm": "centimetre centimetres centimeter centimeters cm",
    "m": "metre metres meter meters m",
    "ft": "foot feet ft",
    "g": "gram grams gramme grammes g",
    "oz": "ounce ounces",
    "L": "litre litres liter liters",
    "cc": "cc ccs millilitre millilitres milliliter milliliters ml",
    "N": "newton newtons n",
    "kN": "kilonewton kilonewtons",
    "bar": "bar bars",
    "kPa": "kilopascal kilopascals",
    "MPa": "megapascal megapascals",
    "psi": "psi",
    "rpm": "rpm",
    "s": "second seconds sec secs s",
    "min": "minute minutes min mins",
    "h": "hour hours hr hrs h",
    "day": "day days",
    "percent": "percent",
    "flat": "flat flats",
    "turn": "turn turns",
    "rev": "rev revs revolution revolutions",
    "division": "division divisions",
    "mil": "mil mils",
    "pound": "pound pounds",
    "kilo": "kilo kilos",
    "kilogram": "kilogram kilograms kilogramme kilogrammes",
    "degree": "degree degrees",
    "celsius": "celsius centigrade",
    "fahrenheit": "fahrenheit",
}

_PHRASES: dict[str, str] = {
    "N_m": "newton metre|newton metres|newton meter|newton meters",
    "ft_lb": "foot pound|foot pounds|pound foot|pound feet|pounds feet|pounds foot|foot pounds force",
    "in_lb": "inch pound|inch pounds|pound inch|pound inches|pounds inch|pounds inches",
    "kgf_m": "kilogram metre|kilogram metres|kilogram meter|kilogram meters|kilo metre|kilo metres|kilopond metres|"
    "kilogram force metres|metre kilograms|metre kilos",
    "kgf_cm": "kilogram centimetre|kilogram centimetres|kilogram centimeter|kilogram centimeters|kilo centimetres",
    "psi": "p s i|pounds per square inch|pounds a square inch|pounds to the square inch|pound per square inch",
    "kgf_cm2": "kilo per square centimetre|kilos per square centimetre|kilogram per square centimetre|"
    "kilograms per square centimetre|kilo a square centimetre|kilos a square centimetre",
    "rpm": "r p m|revs per minute|revs a minute|revolutions per minute|turns a minute|turns per minute",
    "cc": "c c|cubic centimetre|cubic centimetres|cubic centimeter|cubic centimeters",
    "celsius": "degree celsius|degrees celsius|degree centigrade|degrees centigrade|degrees c",
    "fahrenheit": "degree fahrenheit|degrees fahrenheit|degrees f",
    "lbf": "pound force|pounds force",
    "kgf": "kilogram force|kilograms force",
    "percent": "per cent",
}

# Decimal parts, by how many decimals they are. In inch work a "tenth" is a tenth of a thou.
_PARTS: dict[str, int] = {
    "tenth": 1, "tenths": 1, "hundredth": 2, "hundredths": 2, "thousandth": 3, "thousandths": 3,
    "ten thousandth": 4, "ten thousandths": 4, "hundred thousandth": 5, "hundred thousandths": 5,
}  # fmt: skip


def _table() -> dict[Words, str]:
    table: dict[Words, str] = {(word,): name for name, words in _PLAIN.items() for word in words.split()}
    table |= {tuple(phrase.split()): name for name, phrases in _PHRASES.items() for phrase in phrases.split("|")}
    return table


UNIT_TABLE: dict[Words, str] = _table()
PART_TABLE: dict[Words, int] = {tuple(name.split()): places for name, places in _PARTS.items()}
_LONGEST = max(map(len, UNIT_TABLE))

# Units that one bench uses side by side without a thought: no reason to read a value back.
EVERYDAY: tuple[frozenset[str], ...] = (
    frozenset({"in", "thou", "tenth"}),
    frozenset({"mm", "um"}),
    frozenset({"deg", "turn"}),
    frozenset({"s", "min", "h"}),
)


def unit_word(words: Words, at: int) -> Iterator[tuple[str, int]]:
    """A unit as it is said, with the place after it: every one that starts here."""
    for length in range(1, _LONGEST + 1):
        name = UNIT_TABLE.get(words[at : at + length])
        if name is not None and at + length <= len(words):
            yield name, at + length


def part_word(words: Words, at: int) -> Iterator[tuple[int, int]]:
    """A decimal part as it is said: "tenths", "ten thousandths"; yields how many decimals it is."""
    for length in (1, 2):
        places = PART_TABLE.get(words[at : at + length])
        if places is not None and at + length <= len(words):
            yield places, at + length


def is_inch(unit: str) -> bool:
    """Whether a unit of length is of inch work."""
    return unit in _INCH_UNITS


def says_unit(words: Words, at: int, setting: Setting) -> bool:
    """Whether a unit or part of the step's kind of quantity is said here; "in" is a preposition to everybody."""
    if any(True for _ in part_word(words, at)):
        return True
    named = [name for name, _ in unit_word(words, at) if words[at : at + 1] != ("in",)]
    return any(
        setting.kind is None or kind_of(meaning.unit) == setting.kind
        for name in named
        for meaning in meanings(name, setting)
    )


def everyday(unit: str, other: str) -> bool:
    """Whether two units are used side by side at one bench: thou and inches, microns and millimetres."""
    return unit == other or any(unit in family and other in family for family in EVERYDAY)


def meanings(name: str, setting: Setting) -> list[Meaning]:
    """Every unit that a unit word may mean here. None of them has to be of the step's kind."""
    if name in _BY_KIND:
        return [Meaning(unit=unit) for unit in _BY_KIND[name](setting)]
    if name == "flat":
        return [Meaning(unit="deg", factor=Fraction(60))]
    if name == "turn" and setting.turn is not None and setting.unit is not None:
        return [Meaning(unit=setting.unit, factor=setting.turn)]
    if name == "division":
        if setting.per_division is None or setting.unit is None:
            return []
        return [Meaning(unit=setting.unit, factor=Fraction(setting.per_division))]
    return [Meaning(unit=name)]


_Chooser = Callable[[Setting], tuple[str, ...]]


def _pound(setting: Setting) -> tuple[str, ...]:
    by_kind = {"torque": ("ft_lb", "in_lb"), "pressure": ("psi",), "force": ("lbf",)}
    if setting.kind is None:
        return ("lb", "ft_lb", "in_lb", "psi")
    return by_kind.get(setting.kind, ("lb",))


def _kilo(setting: Setting) -> tuple[str, ...]:
    return ("kg", "kgf_m", "kgf_cm") if setting.kind is None else _kilogram(setting)


def _kilogram(setting: Setting) -> tuple[str, ...]:
    by_kind = {"torque": ("kgf_m", "kgf_cm"), "pressure": ("kgf_cm2",), "force": ("kgf",)}
    return by_kind.get(setting.kind or "", ("kg",))


def _degree(setting: Setting) -> tuple[str, ...]:
    warm = "degF" if setting.inch else "degC"
    if setting.kind in ("temperature", "temperature difference"):
        return (setting.unit or warm,)
    return ("deg", warm) if setting.kind is None else ("deg",)


def _scale(letter: str) -> _Chooser:
    def choose(setting: Setting) -> tuple[str, ...]:
        return (f"delta_deg{letter}" if setting.kind == "temperature difference" else f"deg{letter}",)

    return choose


def _rev(setting: Setting) -> tuple[str, ...]:
    return ("rpm",) if setting.kind == "speed" else ("turn",)


def _mil(setting: Setting) -> tuple[str, ...]:
    return ("thou", "mm")


_BY_KIND: dict[str, _Chooser] = {
    "pound": _pound,
    "kilo": _kilo,
    "kilogram": _kilogram,
    "degree": _degree,
    "celsius": _scale("C"),
    "fahrenheit": _scale("F"),
    "rev": _rev,
    "mil": _mil,
}


def part_meanings(places: int, setting: Setting) -> list[Meaning]:
    """What "tenths", "hundredths" and so on mean when no unit follows: of a thou, a millimetre, or the step's unit."""
    part = Fraction(1, 10**places)
    if setting.kind not in (None, "length"):
        return [Meaning(unit=setting.unit, factor=part, odd=True)] if setting.unit else []
    if not setting.inch:
        return [Meaning(unit="mm", factor=part)]
    if places == 2:
        return [Meaning(unit="in", factor=part, odd=True)]
    if places == 3:
        return [Meaning(unit="thou")]
    # "Tenths" are ten-thousandths of an inch, short or in full.
    return [Meaning(unit="tenth", factor=Fraction(1, 10) if places == 5 else Fraction(1))]


def part_of(places: int, name: str, setting: Setting) -> list[Meaning]:
    """ "Tenths of a thou", "hundredths of a millimetre"."""
    part = Fraction(1, 10**places)
    return [Meaning(unit=meaning.unit, factor=meaning.factor * part) for meaning in meanings(name, setting)]


# What a step asks for, by the words of its ``what``, when it gives no unit.
_KIND_WORDS: dict[str, str] = {
    "torque": "torque", "pressure": "pressure", "mass": "mass", "weight": "mass", "angle": "angle",
    "temperature": "temperature", "oversize": "length", "undersize": "length", "clearance": "length",
    "length": "length", "height": "length", "ratio": "ratio", "time": "time", "duration": "time", "speed": "speed",
    "force": "force", "volume": "volume",
}  # fmt: skip

_INCH_UNITS = frozenset({"in", "thou", "tenth", "ft"})


def setting_of(unit: str | None, work: Work, what: str | None, per_division: Decimal | None) -> Setting:
    """What a step's unit, work and words say about the units that will be heard. UnknownUnit for an unknown unit."""
    said = (what or "").replace(",", " ").split()
    kind = kind_of(unit) if unit else next((_KIND_WORDS[word] for word in said if word in _KIND_WORDS), None)
    inch = unit in _INCH_UNITS if kind == "length" and unit else work == "inch"
    dial = per_division is not None or "dial" in said
    turn = _turn_of_dial(said, per_division) if dial and kind == "length" else None
    return Setting(kind=kind, unit=unit, inch=inch, per_division=per_division, turn=turn, dial=dial)


def _turn_of_dial(said: list[str], per_division: Decimal | None) -> Fraction | None:
    """How far a dial's hand goes in one turn: as its ``what`` says ("1 mm a turn"), else a hundred divisions."""
    for i, word in enumerate(said[:-3]):
        if said[i + 2 : i + 4] == ["a", "turn"] and said[i + 1] in UNITS and word.replace(".", "", 1).isdigit():
            return Fraction(word)
    return Fraction(per_division) * 100 if per_division is not None else None
