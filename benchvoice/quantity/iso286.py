"""Limits and fits of ISO 286: limits of size from a name such as 25 H7/g6, and what the fit then is.

Sizes above nought and up to 500 mm. Deviations are whole or half micrometres, so everything here is exact.
"""

import re
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import cube_root, sqrt
from benchvoice.quantity.iso286_table import (
    BY_FINE_STEP,
    BY_MAIN_STEP,
    FINE_STEPS,
    J_HOLE,
    J_SHAFT,
    MAIN_STEPS,
    TOLERANCES,
    Row,
)
from benchvoice.quantity.limits import Limits


class UnknownFit(InputError):
    """A size, grade or letter that the tables don't have."""


class FitKind(StrEnum):
    """Whether the parts are loose, tight, or either, whatever their sizes within limits."""

    CLEARANCE = "clearance"
    TRANSITION = "transition"
    INTERFERENCE = "interference"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Limits of hole and shaft in mm, and the least and greatest clearance in um (negative: interference)."""

    hole: Limits
    shaft: Limits
    clearance_least: Decimal
    clearance_most: Decimal
    kind: FitKind


_ZONE = re.compile(r"([A-Za-z]{1,2})(01|0|1[0-8]|[1-9])")
_MICROMETRE = Decimal("0.001")


def tolerance(size: Decimal, grade: str) -> Decimal:
    """The standard tolerance of a size in mm, in um. The grade is written IT7 or 7."""
    number = grade.upper().removeprefix("IT")
    if number not in TOLERANCES:
        raise UnknownFit(f"{grade!r} is not a tolerance grade: the grades are IT01, IT0, IT1 to IT18")
    if size <= 1 and int(number) >= 14:
        raise UnknownFit(f"IT{number} is not used up to 1 mm: take a finer grade")
    return _cell(TOLERANCES[number], _step(size, MAIN_STEPS), f"IT{number}", size)


# How many tolerance units i each grade is: from IT6 on, the fifth root of ten apart.
_TIMES_I = dict(zip(range(5, 19), (7, 10, 16, 25, 40, 64, 100, 160, 250, 400, 640, 1000, 1600, 2500), strict=True))


def tolerance_by_formula(size: Decimal, grade: str) -> Fraction:
    """What the formula behind the table gives, in um, before the rounding that the table rules by. IT5 to IT18.

    i = 0.45 cube root of D + 0.001 D, D the geometric mean of the ends of the step (1 and 3 for the first), in mm.
    """
    number = grade.upper().removeprefix("IT")
    if not number.isdigit() or int(number) not in _TIMES_I:
        raise UnknownFit(f"there is no formula in i for {grade!r}: give IT5 to IT18")
    step = _step(size, MAIN_STEPS)
    mean = sqrt((MAIN_STEPS[step - 1] if step else 1) * MAIN_STEPS[step])
    unit = Fraction(45, 100) * cube_root(mean) + mean / 1000
    return _TIMES_I[int(number)] * unit


def deviations(nominal: Decimal, zone: str) -> tuple[Decimal, Decimal]:
    """Lower and upper deviation from the nominal size (mm), in um, of a zone: H7 is a hole, g6 a shaft."""
    found = _ZONE.fullmatch(zone)
    if found is None or not (found[1].isupper() or found[1].islower()):
        raise UnknownFit(f"{zone!r} is not a tolerance zone: write a hole like H7 and a shaft like g6")
    letters, grade = found[1], found[2]
    width = tolerance(nominal, grade)
    return (_hole if letters.isupper() else _shaft)(nominal, letters, grade, width)


def limits_of_size(nominal: Decimal, zone: str) -> Limits:
    """The limits of size of a hole or shaft, in mm."""
    low, high = deviations(nominal, zone)
    return Limits(low=nominal + low * _MICROMETRE, high=nominal + high * _MICROMETRE, unit="mm", nominal=nominal)


def fit(nominal: Decimal, hole: str, shaft: str) -> Fit:
    """A fit by the names of its hole and its shaft, nominal in mm."""
    if not hole[:1].isupper() or not shaft[:1].islower():
        raise UnknownFit(f"a fit is a hole in capitals and a shaft in small letters, like H7/g6: {hole}/{shaft} is not")
    (bore_low, bore_high), (journal_low, journal_high) = deviations(nominal, hole), deviations(nominal, shaft)
    least, most = bore_low - journal_high, bore_high - journal_low
    return Fit(
        hole=limits_of_size(nominal, hole),
        shaft=limits_of_size(nominal, shaft),
        clearance_least=least,
        clearance_most=most,
        kind=FitKind.CLEARANCE if least >= 0 else FitKind.INTERFERENCE if most <= 0 else FitKind.TRANSITION,
    )


def fit_named(nominal: Decimal, name: str) -> Fit:
    """A fit by its name, such as H7/g6."""
    hole, slash, shaft = name.partition("/")
    if not slash:
        raise UnknownFit(f"{name!r} is not a fit: write hole and shaft like H7/g6")
    return fit(nominal, hole, shaft)


def _step(size: Decimal, ends: Sequence[int]) -> int:
    if not 0 < size <= ends[-1]:
        raise UnknownFit(f"{size} mm is outside the tables: they go from above nought to {ends[-1]} mm")
    return bisect_left(ends, size)


def _shaft(size: Decimal, letters: str, grade: str, width: Decimal) -> tuple[Decimal, Decimal]:
    """Lower and upper deviation of a shaft."""
    if letters == "js":
        return -width / 2, width / 2
    if letters == "j":
        lower = _by_grade(J_SHAFT, size, letters, grade)
        return lower, lower + width
    fundamental = _fundamental(size, letters)
    if letters in {"a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h"}:
        return fundamental - width, fundamental
    if letters == "k" and grade not in {"4", "5", "6", "7"}:
        fundamental = Decimal(0)
    return fundamental, fundamental + width


def _hole(size: Decimal, letters: str, grade: str, width: Decimal) -> tuple[Decimal, Decimal]:
    """Lower and upper deviation of a hole, from the shaft of the same letter (ISO 286-1, 4.3.2.3).

    Tight holes of the fine grades are moved out by delta, the difference to the next finer grade, so that hole-based
    and shaft-based fits of one name have the same clearance.
    """
    if letters == "JS":
        return -width / 2, width / 2
    if letters == "J":
        upper = _by_grade(J_HOLE, size, letters, grade)
        return upper - width, upper
    shaft = _fundamental(size, letters.lower())
    if letters in {"A", "B", "C", "CD", "D", "E", "EF", "F", "FG", "G", "H"}:
        return -shaft, -shaft + width
    upper = _upper_of_tight_hole(size, letters, grade, shaft)
    return upper - width, upper


def _upper_of_tight_hole(size: Decimal, letters: str, grade: str, shaft: Decimal) -> Decimal:
    number = int(grade)
    coarse = number > (8 if letters in {"K", "M", "N"} else 7)
    if letters == "M" and grade == "6" and 250 < size <= 315:
        return Decimal(-9)  # the one exception the table makes to the rule
    if letters == "K" and coarse:
        return Decimal(0)
    if letters == "N" and coarse and size > 3:
        return Decimal(0)
    if coarse or size <= 3 or number < 3:
        return -shaft
    return -shaft + tolerance(size, grade) - tolerance(size, str(number - 1))


def _fundamental(size: Decimal, letter: str) -> Decimal:
    if letter in BY_MAIN_STEP:
        return _cell(BY_MAIN_STEP[letter], _step(size, MAIN_STEPS), letter, size)
    if letter in BY_FINE_STEP:
        return _cell(BY_FINE_STEP[letter], _step(size, FINE_STEPS), letter, size)
    raise UnknownFit(f"{letter!r} is not a letter of ISO 286: they run from a to zc without i, l, o, q and w")


def _by_grade(table: Mapping[str, Row], size: Decimal, letter: str, grade: str) -> Decimal:
    if grade not in table:
        raise UnknownFit(f"ISO 286 has no {letter}{grade}: take js or JS of that grade")
    return _cell(table[grade], _step(size, MAIN_STEPS), f"{letter}{grade}", size)


def _cell(row: Row, step: int, name: str, size: Decimal) -> Decimal:
    value = row[step]
    if value is None:
        raise UnknownFit(f"ISO 286 has no {name} for {size} mm: take a neighbouring letter or grade")
    return value
