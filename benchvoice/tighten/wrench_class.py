"""How far a torque tool may deviate (ISO 6789). When it is due for calibration is its instrument's business.

Source: ISO 6789:2003 5.1.5, taken over by ISO 6789-1:2017. Limits recalled; those of type II class A seen in a printed
manual.
"""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number

ToolType = Literal["I", "II"]


class ToolClassError(InputError):
    """A type or class that ISO 6789 doesn't have."""


_WIDE = Decimal(6)
_NARROW = Decimal(4)
_SMALL_TOOL = 10
"""N·m; a tool up to this may always deviate by the wide limit."""

# Type I indicates: A bar, B housing with scale, C electronic; D and E screwdrivers. Type II is set and lets go: A, B,
# C wrenches (graduated, fixed, not graduated), D, E, F the same as screwdrivers, G a bar wrench.
_ALWAYS_WIDE: Mapping[str, str] = MappingProxyType({"I": "AD", "II": "DEFG"})
_CLASSES: Mapping[str, str] = MappingProxyType({"I": "ABCDE", "II": "ABCDEFG"})


def permissible_deviation(kind: ToolType, tool_class: str, capacity: Number) -> Decimal:
    """Greatest deviation in per cent for a tool's type, class and greatest torque in N·m: 4 or 6."""
    if kind not in _CLASSES or len(tool_class) != 1 or tool_class not in _CLASSES[kind]:
        raise ToolClassError(f"ISO 6789 has no type {kind} class {tool_class}; types are I and II, classes a letter")
    if capacity <= 0:
        raise ToolClassError("a tool's greatest torque is more than nothing; correct it")
    return _WIDE if tool_class in _ALWAYS_WIDE[kind] or capacity <= _SMALL_TOOL else _NARROW


def deviation(indicated: Number, reference: Number) -> Fraction:
    """How far a tool is off, in per cent of the reference torque: 100 (Xa - Xr)/Xr. Xa is indicated or set."""
    if reference <= 0:
        raise ToolClassError("a reference torque is more than nothing; correct it")
    return 100 * (Fraction(indicated) - Fraction(reference)) / Fraction(reference)


def conforms(indicated: Number, reference: Number, limit_percent: Number) -> bool:
    """Whether a tool is inside its limit; on the limit is inside."""
    return abs(deviation(indicated, reference)) <= limit_percent
