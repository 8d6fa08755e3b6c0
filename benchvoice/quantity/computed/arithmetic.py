"""Computed values that hold for any kind of quantity: sums, differences, means, extremes, scaling."""

from fractions import Fraction

from benchvoice.quantity.computed.model import BadComputed, ComputedKind, Input, Readings, linear
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity

_MANY = Input(meaning="the readings", most=None)
_DEFINITION = "definition"


def difference(of: Readings, less: Readings) -> Quantity:
    """One reading less another."""
    return linear([(1, of[0]), (-1, less[0])])


def total(of: Readings) -> Quantity:
    """All readings added up."""
    return linear([(1, part) for part in of])


def net(plus: Readings, minus: Readings) -> Quantity:
    """What is left when one group is taken from another: a shim from its housing, stack and distance."""
    return linear([(1, part) for part in plus] + [(-1, part) for part in minus])


def mean(of: Readings) -> Quantity:
    """The arithmetic mean."""
    return linear([(Fraction(1, len(of)), part) for part in of])


def least(of: Readings) -> Quantity:
    """The least of the readings, as it was said."""
    return min(of, key=lambda part: convert(part.value, part.unit, of[0].unit))


def greatest(of: Readings) -> Quantity:
    """The greatest of the readings, as it was said."""
    return max(of, key=lambda part: convert(part.value, part.unit, of[0].unit))


def spread(of: Readings) -> Quantity:
    """Greatest less least."""
    return linear([(1, greatest(of)), (-1, least(of))])


def half(of: Readings) -> Quantity:
    """Half of one reading."""
    return linear([(Fraction(1, 2), of[0])])


def scaled(of: Readings, at: Readings, to: Readings) -> Quantity:
    """A reading taken at one radius (or over one length), as it would be at another."""
    taken_at = convert(at[0].value, at[0].unit, to[0].unit)
    if taken_at <= 0 or to[0].value < 0:
        raise BadComputed(
            "scaled needs 'at' above nought and 'to' not below it: give radii, or lengths, that there are"
        )
    return linear([(Fraction(to[0].value) / taken_at, of[0])])


def ratio(of: Readings, to: Readings) -> Quantity:
    """One reading over another of the same kind: a plain number."""
    under = convert(to[0].value, to[0].unit, of[0].unit)
    if under == 0:
        raise BadComputed("ratio needs 'to' other than nought")
    return Quantity(value=to_decimal(Fraction(of[0].value) / under), unit="1")


def stretch(tight: Readings, free: Readings) -> Quantity:
    """How much longer a bolt is tightened than free."""
    return difference(tight, free)


KINDS = (
    ComputedKind(
        name="difference",
        inputs={"of": Input(meaning="the reading"), "less": Input(meaning="what is taken from it")},
        formula="of - less",
        source=_DEFINITION,
        function=difference,
    ),
    ComputedKind(name="sum", inputs={"of": _MANY}, formula="of + of + ...", source=_DEFINITION, function=total),
    ComputedKind(
        name="net",
        inputs={
            "plus": Input(meaning="what is added", most=None),
            "minus": Input(meaning="what is taken off", most=None),
        },
        formula="sum of plus - sum of minus",
        source=_DEFINITION,
        function=net,
    ),
    ComputedKind(name="mean", inputs={"of": _MANY}, formula="sum / count", source=_DEFINITION, function=mean),
    ComputedKind(name="least", inputs={"of": _MANY}, formula="least of them", source=_DEFINITION, function=least),
    ComputedKind(
        name="greatest", inputs={"of": _MANY}, formula="greatest of them", source=_DEFINITION, function=greatest
    ),
    ComputedKind(name="spread", inputs={"of": _MANY}, formula="greatest - least", source=_DEFINITION, function=spread),
    ComputedKind(
        name="half", inputs={"of": Input(meaning="the reading")}, formula="of / 2", source=_DEFINITION, function=half
    ),
    ComputedKind(
        name="scaled",
        inputs={
            "of": Input(meaning="the reading"),
            "at": Input(meaning="the radius or length it was taken at"),
            "to": Input(meaning="the radius or length it is wanted at"),
        },
        formula="of x to / at",
        source="geometry, small angles",
        function=scaled,
    ),
    ComputedKind(
        name="ratio",
        inputs={"of": Input(meaning="the upper"), "to": Input(meaning="the lower")},
        formula="of / to",
        source=_DEFINITION,
        function=ratio,
    ),
    ComputedKind(
        name="stretch",
        inputs={"tight": Input(meaning="length tightened"), "free": Input(meaning="length free")},
        formula="tight - free",
        source=_DEFINITION,
        function=stretch,
    ),
)
