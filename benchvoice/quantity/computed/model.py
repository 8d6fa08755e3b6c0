"""What a kind of computed value is: its inputs by name, its formula and where that comes from, and the function."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.errors import DocumentError
from benchvoice.quantity.reading import places_of
from benchvoice.quantity.units import WrongKind, convert, kind_of, to_decimal
from benchvoice.quantity.values import Quantity

Readings = tuple[Quantity, ...]


class BadComputed(DocumentError):
    """A computed value that is not declared as its kind asks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One named input: what it is, and how few and how many readings it may be (None: as many as there are).

    `trial` is a value that makes sense, with which units are tried before there is a reading.
    """

    meaning: str
    least: int = 1
    most: int | None = 1
    trial: Decimal = Decimal(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class ComputedKind:
    """A way of computing one value from readings. The function takes one tuple of readings for each input's name."""

    name: str
    inputs: Mapping[str, Input]
    formula: str
    source: str
    function: Callable[..., Quantity]
    caution: str = ""

    def __call__(self, **readings: Readings) -> Quantity:
        """The computed value, exactly; BadComputed for wrong inputs, WrongKind for units that don't go together."""
        for name in readings:
            if name not in self.inputs:
                raise BadComputed(f"{self.name} has no input {name!r}: its inputs are {', '.join(self.inputs)}")
        for name, wanted in self.inputs.items():
            count = len(readings.get(name, ()))
            if count < wanted.least or (wanted.most is not None and count > wanted.most):
                raise BadComputed(f"{self.name} needs {_how_many(wanted)} for {name}: {count} given")
        return self.function(**readings)

    def unit_of(self, units: Mapping[str, str]) -> str:
        """The unit of the result when the inputs have these units, so that a document is checked before the bench."""
        ones = {
            name: tuple(Quantity(value=self.inputs[name].trial, unit=unit) for _ in range(self.inputs[name].least))
            for name, unit in units.items()
            if name in self.inputs
        }
        return self(**ones, **{name: () for name in units if name not in self.inputs}).unit


def _how_many(wanted: Input) -> str:
    if wanted.most is None:
        return f"at least {wanted.least}"
    return f"{wanted.least}" if wanted.least == wanted.most else f"{wanted.least} to {wanted.most}"


def linear(terms: Sequence[tuple[Fraction | int, Quantity]]) -> Quantity:
    """The sum of coefficient times reading, in the unit of the first.

    Temperatures may be averaged (coefficients that sum to 1) and subtracted (to 0, which gives a difference of
    temperature); any other sum of them would depend on where the scale has its zero, and raises WrongKind.
    """
    unit = terms[0][1].unit
    total = sum((Fraction(times) * convert(part.value, part.unit, unit) for times, part in terms), Fraction(0))
    if kind_of(unit) == "temperature":
        weight = sum(Fraction(times) for times, _ in terms)
        if weight not in (0, 1):
            raise WrongKind("temperatures can be averaged or subtracted, not added: give a temperature difference")
        if weight == 0:
            unit = f"delta_{unit}"
    return Quantity(value=padded(to_decimal(total), [part for _, part in terms]), unit=unit)


def padded(value: Decimal, parts: Sequence[Quantity]) -> Decimal:
    """The value with zeros to the decimals of the coarsest part, where all are in one unit: 1.50 + 1.50 = 3.00."""
    if len({part.unit for part in parts}) != 1:
        return value
    places = min(places_of(part.value) for part in parts)
    if places_of(value) >= places:
        return value
    sign, digits, exponent = value.as_tuple()
    assert isinstance(exponent, int)
    return Decimal((sign, digits + (0,) * (places + exponent), -places))
