"""What a reckoning is: named inputs read from text, a formula with its source, and the library's function."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from benchvoice.errors import InputError
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.rounding import magnitude, round_places
from benchvoice.quantity.units import Number, to_decimal
from benchvoice.quantity.values import Quantity


class BadReckoning(InputError):
    """A reckoning that there isn't, or inputs that it can't use."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One input: what it means, how its text is read, an example, and its default (None: it must be given).

    `typical` ones stand in the example of a call though they may be left out.
    """

    meaning: str
    read: Callable[[str], Any]
    example: str
    default: str | None = None
    typical: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckoning:
    """A computation by name. The function takes what the fields read, by name, and gives results by name."""

    name: str
    fields: Mapping[str, Field]
    formula: str
    source: str
    function: Callable[..., Mapping[str, Any]]
    caution: str = ""

    @property
    def example(self) -> str:
        """A whole call as it is typed."""
        asked = [
            f"{key}={_quoted(field.example)}"
            for key, field in self.fields.items()
            if field.default is None or field.typical
        ]
        return " ".join((self.name, *asked))


def _quoted(text: str) -> str:
    return f"'{text}'" if " " in text else text


def shown(value: Any) -> Any:
    """A result as JSON has it: what is measured as text, with its unit if it has one; counts and truths as they are."""
    if isinstance(value, Quantity):
        return {"value": tidy(value.value), "unit": value.unit}
    if isinstance(value, Limits):
        ends = {"low": value.low, "high": value.high}
        return {**{name: None if end is None else tidy(end) for name, end in ends.items()}, "unit": value.unit}
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, Decimal | Fraction):
        return tidy(value)
    if isinstance(value, list | tuple):
        return [shown(one) for one in value]
    return str(value)


def tidy(value: Number) -> str:
    """A number as text: exactly where it ends within eight decimals, else to seven significant digits."""
    exact = Fraction(value)
    short = to_decimal(exact, 8)
    if Fraction(short) != exact:
        short = round_places(exact, max(0, 6 - magnitude(exact)))
    elif isinstance(value, Decimal) and -8 <= _exponent(value) <= 0:
        short = value  # its trailing zeros mean something
    return f"{short:f}"


def _exponent(value: Decimal) -> int:
    exponent = value.as_tuple().exponent
    return exponent if isinstance(exponent, int) else 0
