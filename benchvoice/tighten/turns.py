"""Angles of tightening: how far a turn advances, what an angle clamps, and angles as they are said.

Single-start threads: one turn advances one pitch. The advance goes into stretching the bolt and squeezing the joint;
a joint whose stiffness isn't given counts as rigid. Elastic only: a bolt turned past yield clamps less than this.
"""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number


class TurnError(InputError):
    """An angle that can't be reckoned or isn't understood."""


FLATS: Mapping[str, int] = MappingProxyType({"hexagon": 6, "square": 4, "bihexagon": 12, "twelve point": 12})
"""Flats, or points, of a head: turning by one is a full turn over so many."""


def advance(turns: Number, pitch: Number) -> Fraction:
    """How far a nut moves along its bolt."""
    return Fraction(turns) * Fraction(pitch)


def _softness(bolt: Number, joint: Number | None) -> Fraction:
    if bolt <= 0 or (joint is not None and joint <= 0):
        raise TurnError("the stiffness of bolt and joint is more than nothing; leave the joint out if it is rigid")
    return 1 / Fraction(bolt) + (0 if joint is None else 1 / Fraction(joint))


def angle_for(load: Number, pitch: Number, bolt: Number, joint: Number | None = None) -> Fraction:
    """Degrees from snug to a load above snug: 360 F (1/kb + 1/kj) / P."""
    if pitch <= 0:
        raise TurnError("a pitch is more than nothing; correct it")
    return 360 * Fraction(load) * _softness(bolt, joint) / Fraction(pitch)


def load_after(degrees: Number, pitch: Number, bolt: Number, joint: Number | None = None, snug: Number = 0) -> Fraction:
    """The load after an angle from a snug load: snug + angle/360 x P / (1/kb + 1/kj)."""
    return Fraction(snug) + advance(Fraction(degrees) / 360, pitch) / _softness(bolt, joint)


def flats(count: Number, head: str = "hexagon") -> Fraction:
    """Degrees of a number of flats."""
    if head not in FLATS:
        raise TurnError(f"'{head}' is not a head; say one of {', '.join(FLATS)}")
    return Fraction(count) * 360 / FLATS[head]


_COUNTS: Mapping[str, int] = MappingProxyType(
    {
        "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
        "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
    }
)  # fmt: skip
_PARTS: Mapping[str, int] = MappingProxyType(
    {"half": 2, "third": 3, "quarter": 4, "fifth": 5, "sixth": 6, "eighth": 8, "twelfth": 12}
)


def said_angle(words: str, head: str = "hexagon") -> Fraction:
    """Degrees of an angle said in turns or flats: "a flat and a half", "three quarters of a turn", "two turns".

    Degrees themselves are numbers and are read as readings are. TurnError for anything else.
    """
    said = [word for word in words.lower().replace("-", " ").split() if word not in ("of", "full", "whole")]
    unit = next((word for word in said if word in ("flat", "flats", "turn", "turns")), "")
    before, _, after = (part.split() for part in " ".join(said).partition(unit or "?"))
    # "a flat and a half" says its part after the unit; "two and a half turns" before it.
    astray = bool(after) and after[0] != "and"
    amount = None if astray or not unit else _amount([*before, *after])
    if amount is None:
        raise TurnError(f"'{words}' is not an angle in turns or flats; say a quarter turn, or two flats")
    return flats(amount, head) if unit.startswith("flat") else amount * 360


def _amount(words: list[str]) -> Fraction | None:
    """A count, a part, or a count and a part: "two", "three quarters a", "one and a half"; None for anything else."""
    if "and" in words:
        i = words.index("and")
        whole, part = _COUNTS.get(" ".join(words[:i])), _part(words[i + 1 :])
        return None if whole is None or part is None else whole + part
    count = _COUNTS.get(" ".join(words))
    return _part(words) if count is None else Fraction(count)


def _part(words: list[str]) -> Fraction | None:
    """A part of one: "half", "a half", "three quarters", with or without the "a" of "half a turn"."""
    said = words[:-1] if words[-1:] == ["a"] else words
    if len(said) == 1:
        said = ["one", *said]
    if len(said) != 2 or said[0] not in _COUNTS:
        return None
    under = _PARTS.get(said[1].removesuffix("s"))
    return None if under is None or _COUNTS[said[0]] >= under else Fraction(_COUNTS[said[0]], under)
