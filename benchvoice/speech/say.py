"""Values, times, places and lists as words for a voice, in one fixed way each, so that they can't be misheard.

The point is always said, figures after it one by one, and nought is always "zero": "one point zero five". Halves and
quarters are said as such where the trade does ("two and a half thou"), but only when the decimals that were kept are
those of the fraction: 2.50 keeps its last zero and is "two point five zero". What is said here parses back to the
same value (``readings.parse_reading``), which a property test holds.

Everything is lower case without full stops: a sentence is the caller's matter, how a word sounds is the voice's.
"""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.speech.counting import count_words, digit_words

# Singular and plural of every unit that is spoken. "p s i" is three letters, for voices read "psi" as a word.
UNIT_WORDS: dict[str, tuple[str, str]] = {
    "in": ("inch", "inches"),
    "thou": ("thou", "thou"),
    "tenth": ("tenth of a thou", "tenths of a thou"),
    "ft": ("foot", "feet"),
    "um": ("micron", "microns"),
    "mm": ("millimetre", "millimetres"),
    "cm": ("centimetre", "centimetres"),
    "m": ("metre", "metres"),
    "cc": ("c c", "c c"),
    "L": ("litre", "litres"),
    "g": ("gram", "grams"),
    "kg": ("kilogram", "kilograms"),
    "oz": ("ounce", "ounces"),
    "lb": ("pound", "pounds"),
    "N": ("newton", "newtons"),
    "kN": ("kilonewton", "kilonewtons"),
    "lbf": ("pound force", "pounds force"),
    "kgf": ("kilogram force", "kilograms force"),
    "N_m": ("newton metre", "newton metres"),
    "ft_lb": ("foot pound", "foot pounds"),
    "in_lb": ("inch pound", "inch pounds"),
    "kgf_m": ("kilogram metre", "kilogram metres"),
    "kgf_cm": ("kilogram centimetre", "kilogram centimetres"),
    "kPa": ("kilopascal", "kilopascals"),
    "MPa": ("megapascal", "megapascals"),
    "bar": ("bar", "bar"),
    "psi": ("p s i", "p s i"),
    "kgf_cm2": ("kilo per square centimetre", "kilos per square centimetre"),
    "deg": ("degree", "degrees"),
    "turn": ("turn", "turns"),
    "degC": ("degree celsius", "degrees celsius"),
    "degF": ("degree fahrenheit", "degrees fahrenheit"),
    "delta_degC": ("degree celsius", "degrees celsius"),
    "delta_degF": ("degree fahrenheit", "degrees fahrenheit"),
    "rpm": ("r p m", "r p m"),
    "s": ("second", "seconds"),
    "min": ("minute", "minutes"),
    "h": ("hour", "hours"),
    "day": ("day", "days"),
    "percent": ("per cent", "per cent"),
    "1": ("", ""),
}

# Units whose halves and quarters are said as fractions rather than as decimals.
FRACTION_UNITS: frozenset[str] = frozenset({"thou", "tenth", "turn", "min", "h"})

_FRACTIONS: dict[str, str] = {"5": "a half", "25": "a quarter", "75": "three quarters"}


def say_number(value: Decimal | int, fractions: bool = False) -> str:
    """A number in words: "minus two point zero five", or with fractions "two and a half"."""
    exact = Decimal(value)
    if exact.is_signed() and exact:
        return f"minus {say_number(-exact, fractions)}"
    whole, _, decimals = format(exact.copy_abs(), "f").partition(".")
    if not decimals:
        return count_words(int(whole))
    if fractions and decimals in _FRACTIONS:
        name = _FRACTIONS[decimals]
        return f"{count_words(int(whole))} and {name}" if int(whole) else name
    return f"{count_words(int(whole))} point {digit_words(decimals)}"


def say_unit(unit: str, value: Decimal | int | None = None) -> str:
    """The unit's words, singular for a plain one. InputError for a unit that has no words."""
    if unit not in UNIT_WORDS:
        raise InputError(f"the unit {unit!r} can't be spoken: use one of {', '.join(UNIT_WORDS)}")
    one, many = UNIT_WORDS[unit]
    return one if value is not None and str(abs(Decimal(value))) == "1" else many


def say_quantity(value: Decimal | int, unit: str, fractions: bool | None = None) -> str:
    """A value with its unit: "one point eight bar", "two and a half thou", "half a thou", "a quarter of a turn".

    ``fractions`` left out means: as the trade does with this unit. Ten tenths or more are said in thou.
    """
    exact = Decimal(value)
    if unit == "tenth" and abs(exact) >= 10:
        return say_quantity(exact.scaleb(-1), "thou", fractions)
    if exact.is_signed() and exact:
        return f"minus {say_quantity(-exact, unit, fractions)}"
    as_fractions = unit in FRACTION_UNITS if fractions is None else fractions
    words = say_number(exact, as_fractions)
    one = say_unit(unit, 1)
    if one and words in _FRACTIONS.values():
        article = "an" if one.startswith(("i", "o", "ho")) else "a"
        return f"half {article} {one}" if words == "a half" else f"{words} of {article} {one}"
    return f"{words} {say_unit(unit, exact)}".strip()


# Decimals to which a computed value is said; what was read is said as it was read.
_SAID_PLACES: dict[str, int] = {"in": 5, "thou": 2, "tenth": 1, "um": 1, "g": 1, "deg": 1, "degC": 1, "delta_degC": 1}
_OTHERWISE = 3


def to_say(value: Decimal, unit: str) -> Decimal:
    """A computed value as it is said: a third of a thou is "zero point three three"; one that ends sooner as it is."""
    places = _SAID_PLACES.get(unit, _OTHERWISE)
    exponent = value.as_tuple().exponent
    if isinstance(exponent, int) and -exponent <= places:
        return value
    return _plain(round(value, places).normalize())


def say_digits(value: Decimal | int | str) -> str:
    """A value figure by figure for reading back: "one point nine nine eight", "point zero zero four five", "one five".

    A mark or a string of figures is read the same way, leading zeros kept.
    """
    text = value if isinstance(value, str) else format(Decimal(value), "f")
    sign = "minus " if text.startswith("-") else ""
    whole, _, decimals = text.lstrip("+-").partition(".")
    words = [] if decimals and not whole.strip("0") else [digit_words(whole)]
    if decimals:
        words += ["point", digit_words(decimals)]
    return sign + " ".join(words)


def say_read_back(value: Decimal | int, unit: str) -> str:
    """What is said before a value is stored on a "yes": figure by figure, and an inch value again in thou.

    0.0045 in is "point zero zero four five, four and a half thou"; 15 N_m is "one five newton metres".
    """
    exact = Decimal(value)
    if unit == "in" and exact and abs(exact) < 1:
        in_thou = (exact * 1000).normalize()
        return f"{say_digits(exact)}, {say_quantity(_plain(in_thou), 'thou')}"
    words = say_unit(unit, exact)
    return f"{say_digits(exact)} {words}".strip()


def _plain(value: Decimal) -> Decimal:
    """Without an exponent: 2E+1 becomes 20."""
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value


def say_limits(
    low: Decimal | None, high: Decimal | None, unit: str | None = None, fractions: bool | None = None
) -> str:
    """Limits: "one and a half to three", "three at most", "two at least"; with the unit when one is given."""
    as_fractions = (unit in FRACTION_UNITS if unit else True) if fractions is None else fractions

    def word(value: Decimal) -> str:
        return say_number(_shortest(value), as_fractions)

    tail = f" {say_unit(unit)}" if unit and say_unit(unit) else ""
    if low is not None and high is not None:
        return f"{word(low)}{tail}" if low == high else f"{word(low)} to {word(high)}{tail}"
    if high is not None:
        return f"{word(high)}{tail} at most"
    if low is not None:
        return f"{word(low)}{tail} at least"
    return "no limits"


def _shortest(value: Decimal) -> Decimal:
    """Limits are said without the zeros that a table needs: 3.0 is "three"."""
    return _plain(value.normalize())


def say_duration(seconds: Decimal | Fraction | int) -> str:
    """A time in words: "eight minutes", "two and a half minutes", "one hour and twenty minutes", "ninety seconds".

    Fractions of a second are dropped: a window that is spoken of never looks longer than it is.
    """
    whole = int(seconds)
    if whole < 0:
        return f"minus {say_duration(-whole)}"
    if whole < 120 and whole % 60:
        return f"{count_words(whole)} {_many('second', whole)}"
    minutes, rest = divmod(whole, 60)
    if whole < 3600 and rest == 30:
        return f"{count_words(minutes)} and a half minutes"
    hours, minutes = divmod(minutes, 60)
    parts = [
        f"{count_words(count)} {_many(name, count)}"
        for count, name in ((hours, "hour"), (minutes, "minute"), (rest, "second"))
        if count
    ]
    return say_list(parts, joined=" and ") if parts else "zero seconds"


def _many(word: str, count: int) -> str:
    return word if count == 1 else f"{word}s"


def say_place(place: Sequence[str], axes: Sequence[str] = (), before: Sequence[str] | None = None) -> str:
    """A place by its values along the axes: ("three",) on axis "main" is "main three"; "bore one, top, across".

    An axis is named where its value is a number or a position such as 1L, which say nothing alone. With ``before``,
    the place that was spoken last, only what changed is said, from the first changed axis on: "middle, across".
    """
    start = 0
    if before is not None and len(before) == len(place):
        start = next((i for i, (new, old) in enumerate(zip(place, before, strict=True)) if new != old), 0)
    named = [
        f"{axes[i]} {say_position(value)}" if i < len(axes) and _needs_axis(value) else say_position(value)
        for i, value in enumerate(place)
    ]
    return ", ".join(named[start:])


def _needs_axis(value: str) -> bool:
    first = say_position(value).split(" ")[0]
    return first in _NUMBER_STARTS


def say_position(name: str) -> str:
    """A position's name in words: "1L" is "one left", "4B" is "four b", "12" is "twelve", "top" stays "top"."""
    figures = name[: len(name) - len(name.lstrip("0123456789"))]
    rest = name[len(figures) :].strip()
    if not figures:
        return name.replace("_", " ")
    sides = {"L": "left", "R": "right"}
    words = count_words(int(figures))
    return f"{words} {sides.get(rest, rest.lower())}".strip()


_NUMBER_STARTS: frozenset[str] = frozenset(count_words(n).split(" ")[0] for n in range(1, 100))


def say_count(done: int, of: int | None = None) -> str:
    """How many: "seven", or "seven of ten"."""
    return count_words(done) if of is None else f"{count_words(done)} of {count_words(of)}"


def say_list(items: Sequence[str], last: str = "and", joined: str | None = None) -> str:
    """Items in one breath: "one, two and five"; ``joined`` puts the same words between all of them."""
    if joined is not None or len(items) < 2:
        return (joined or "").join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
