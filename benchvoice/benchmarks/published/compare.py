"""Whether what the library gives is what is published, within the tolerance that the case states."""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from benchvoice.benchmarks.published.notation import unit_of
from benchvoice.errors import InputError
from benchvoice.quantity.units import convert
from benchvoice.quantity.values import Quantity


def differs(wanted: Any, got: Any, tolerance: str) -> bool:
    """Whether a result is something else than is published.

    Quantities may differ by the tolerance, in the published unit; numbers are compared by value, and everything else
    by type and text, in lists too: "0.10" is not "0.1", because its last digit was read.
    """
    if isinstance(wanted, Mapping):
        return _quantity_differs(wanted, got, tolerance)
    if isinstance(wanted, list):
        return _list_differs(wanted, got)
    if wanted is None or isinstance(wanted, bool | str) or isinstance(got, bool | str):
        return type(wanted) is not type(got) or bool(wanted != got)
    try:
        return _number(wanted) != _number(got)
    except (TypeError, ValueError):
        return True


def shown(value: Any) -> str:
    """A value in a line of print."""
    if isinstance(value, Mapping) and value.keys() == {"value", "unit"}:
        number = value["value"]
        return f"{number if isinstance(number, str) else float(number)} {value['unit']}"
    return str(value)


def _quantity_differs(wanted: Mapping[str, str], got: Any, tolerance: str) -> bool:
    if isinstance(got, Quantity):
        value, unit = Fraction(got.value), got.unit
    elif isinstance(got, Mapping):
        value, unit = _number(got["value"]), got["unit"]
    elif isinstance(got, int | Decimal | Fraction) and not isinstance(got, bool):
        value, unit = _number(got), "1"
    else:
        return True
    try:
        published = Fraction(wanted["value"])
        result = value if unit == wanted["unit"] else _converted(value, unit_of(unit), unit_of(wanted["unit"]))
    except (ValueError, InputError):
        return True
    allowed = Fraction(0) if tolerance == "exact" else Fraction(tolerance)
    return abs(result - published) > allowed


def _converted(value: Fraction, unit: str, to: str) -> Fraction:
    """A difference of temperature stays one: cases write it in the unit of the temperature."""
    if unit.startswith("delta_") and not to.startswith("delta_"):
        to = f"delta_{to}"
    return convert(value, unit, to)


def _list_differs(wanted: list[Any], got: Any) -> bool:
    if not isinstance(got, list | tuple) or len(got) != len(wanted):
        return True
    return any(differs(one, other, "exact") for one, other in zip(wanted, got, strict=True))


def _number(value: Any) -> Fraction:
    """A number exactly; one that came as a JSON float by its digits."""
    return Fraction(str(value)) if isinstance(value, float) else Fraction(value)
