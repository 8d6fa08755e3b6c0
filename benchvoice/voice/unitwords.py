"""Units as they are written, and as they are said: "25 N·m" → "25 newton metres", "30 psi" → "30 P S I".

A spelling that can only be a unit is expanded wherever it stands. One that is also a word or a letter ("in", "m",
"min") is expanded only after a number, and "in", the commonest of all, only where it can't be the preposition
("4 in the block" stays; "6 in, 4 over all" and "2.5 in bore" are inches). A capital L is no litre: "1L" is a place.
"""

import functools
import re
from dataclasses import dataclass

_TIMES = r"[ ]?[·*._-]?[ ]?"  # what may stand between the two units of a product
_DECIMAL = r"\d+\.\d+"
_CARDINAL = (
    "zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen"
    "|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|thousand"
)
_FRACTION = "half|halves|thirds?|quarters?|fifths?|sixths?|eighths?|tenths?|twelfths?|sixteenths?|seconds|fourths?"
_NUMBER = rf"(?:\d+(?:\.\d+)?|\b(?:{_CARDINAL}|{_FRACTION})\b)"
_NOUN_PHRASE = (
    r"(?:the|a|an|its|it|this|that|these|those|each|any|all|both|place|order|turn|limits|line|by|no|your|and)\b"
)
_MEASURED = r"(?= (?:long|wide|deep|high|radius|diameter|apart|of|from|or|to|at|over|under|off)\b)"


@dataclass(frozen=True, slots=True)
class _Unit:
    """How a unit is written (a pattern), and said of one and of many.

    anywhere: the spelling can't be anything else; otherwise it must follow a number (as in `number`) and must not be
    followed by `not_before`.
    """

    written: str
    one: str
    many: str
    anywhere: bool = True
    number: str = _NUMBER
    not_before: str = ""

    def pattern(self) -> re.Pattern[str]:
        """Matches the unit, with the number before it as group "number"."""
        number = rf"(?P<number>{self.number})[ -]?"
        lead = rf"(?:{number}|(?<![A-Za-z0-9]))" if self.anywhere else number
        return re.compile(rf"{lead}(?:{self.written})(?![A-Za-z0-9])(?! {self.not_before or '(?!)'})")


_UNITS = (
    _Unit(rf"kgf?{_TIMES}m", "kilogram force metre", "kilogram force metres"),
    _Unit(rf"kgf?{_TIMES}cm", "kilogram force centimetre", "kilogram force centimetres"),
    _Unit(r"N/mm(?:2| squared)", "newton per square millimetre", "newtons per square millimetre"),
    _Unit(rf"N{_TIMES}mm", "newton millimetre", "newton millimetres"),
    _Unit(rf"N{_TIMES}m", "newton metre", "newton metres"),
    _Unit(rf"(?:ft{_TIMES}lbf?|lbf?{_TIMES}ft)s?", "foot pound", "foot pounds"),
    _Unit(r"in[·*._-]lbf?s?|lbf?[·*._-]in", "inch pound", "inch pounds"),
    _Unit(r"in lbf?s?|lbf? in", "inch pound", "inch pounds", anywhere=False, not_before=_NOUN_PHRASE),
    _Unit(r"mm", "millimetre", "millimetres"),
    _Unit(r"cm", "centimetre", "centimetres"),
    _Unit(r"(?:μm|um)", "micron", "microns"),
    _Unit(r"kg", "kilogram", "kilograms"),
    _Unit(r"mg", "milligram", "milligrams"),
    _Unit(r"lbf", "pound force", "pounds force"),
    _Unit(r"kgf", "kilogram force", "kilograms force"),
    _Unit(r"lbs?", "pound", "pounds"),
    _Unit(r"oz", "ounce", "ounces"),
    _Unit(r"psi", "P S I", "P S I"),
    _Unit(r"kPa", "kilopascal", "kilopascals"),
    _Unit(r"MPa", "megapascal", "megapascals"),
    _Unit(r"kN", "kilonewton", "kilonewtons"),
    _Unit(r"(?:delta_deg|deg|° ?)C", "degree Celsius", "degrees Celsius"),
    _Unit(r"(?:delta_deg|deg|° ?)F", "degree Fahrenheit", "degrees Fahrenheit"),
    _Unit(r"°", "degree", "degrees"),
    _Unit(r"rpm", "R P M", "R P M"),
    _Unit(r"cc", "C C", "C C"),
    _Unit(r"m[lL]", "millilitre", "millilitres"),
    _Unit(r"Hz", "hertz", "hertz"),
    _Unit(r"deg", "degree", "degrees", anywhere=False),
    _Unit(r'"', "inch", "inches", anywhere=False),
    _Unit(r"'", "foot", "feet", anywhere=False),
    _Unit(rf"in\.?{_MEASURED}", "inch", "inches", anywhere=False),
    _Unit(r"in", "inch", "inches", anywhere=False, number=_DECIMAL, not_before=_NOUN_PHRASE),
    _Unit(r"in", "inch", "inches", anywhere=False, not_before=r"\w"),
    _Unit(r"ft", "foot", "feet", anywhere=False),
    _Unit(r"m", "metre", "metres", anywhere=False),
    _Unit(r"g", "gram", "grams", anywhere=False),
    _Unit(r"N", "newton", "newtons", anywhere=False),
    _Unit(r"V", "volt", "volts", anywhere=False),
    _Unit(r"l", "litre", "litres", anywhere=False),
    _Unit(r"mins?", "minute", "minutes", anywhere=False),
    _Unit(r"(?:secs?|s)", "second", "seconds", anywhere=False),
    _Unit(r"(?:hrs?|h)", "hour", "hours", anywhere=False),
)
# The order matters: the first that fits is taken, so a product comes before its parts.

_PATTERNS = tuple((unit.pattern(), unit) for unit in _UNITS)


def expand_units(text: str) -> str:
    """Write every unit out in words."""
    for pattern, unit in _PATTERNS:
        text = pattern.sub(functools.partial(_said, unit), text)
    return text


def _said(unit: _Unit, match: re.Match[str]) -> str:
    """The number, if there was one, and the unit after it."""
    number = match["number"]
    if number is None:
        return unit.many
    return f"{number} {unit.one if _is_single(number, match.string[: match.start('number')]) else unit.many}"


def _is_single(number: str, before: str) -> bool:
    """Whether one says "inch" and not "inches": after a bare one and after a bare fraction (three eighths inch)."""
    if number in ("1", "one"):
        return not re.search(r"(?:point|ty|hundred|hundred and|thousand|thousand and|\d[.,]?)[ -]?$", before)
    return bool(re.fullmatch(_FRACTION, number)) and not re.search(r"\band (?:\w+ )?$", before)
