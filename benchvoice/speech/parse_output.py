"""One spoken reading as plain data, for the command line and for programs: every number a string, in one unit."""

from decimal import Decimal, InvalidOperation
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.speech.numbers import decimal_places
from benchvoice.speech.readings import Context, SpokenReading, parse_reading
from benchvoice.speech.units import Work


def parse_as(
    text: str,
    *,
    unit: str | None = None,
    work: str = "metric",
    low: str | Decimal | None = None,
    high: str | Decimal | None = None,
    what: str | None = None,
) -> dict[str, object]:
    """What a phrase means in a step of the given unit and limits.

    ``value``, ``low``, ``high`` and ``resolution`` are in ``unit``, converted exactly from the unit that was said
    (rounded to ten places where a decimal never ends); they are None unless the action is take, read back or bound.
    ``heard_unit`` is the unit that was said, ``decimals`` how many decimals ``value`` shows. InputError for an
    unknown unit or work, limits that are no numbers, or limits the wrong way round.
    """
    context = Context(unit=unit, work=_work(work), low=_limit(low, "low"), high=_limit(high, "high"), what=what)
    if context.low is not None and context.high is not None and context.low > context.high:
        raise InputError(f"the low limit {context.low} is above the high limit {context.high}: swap them")
    reading = parse_reading(text, context)
    shown = unit or reading.unit
    value = _in(reading.value, reading, shown)
    return {
        "action": str(reading.action),
        "value": value,
        "unit": shown,
        "heard_unit": reading.heard_unit,
        "low": _in(reading.low, reading, shown),
        "high": _in(reading.high, reading, shown),
        "resolution": _in(reading.resolution, reading, shown, difference=True),
        "decimals": None if value is None else len(value.partition(".")[2]),
        "candidates": list(reading.candidates),
        "reason": reading.reason,
    }


def _work(work: str) -> Work:
    if work == "inch":
        return "inch"
    if work == "metric":
        return "metric"
    raise InputError(f"work is inch or metric, not {work!r}")


def _limit(limit: str | Decimal | None, which: str) -> Decimal | None:
    if limit is None:
        return None
    try:
        number = Decimal(limit)
    except InvalidOperation:
        number = Decimal("nan")
    if not number.is_finite():
        raise InputError(f"the {which} limit {limit!r} is no number: give one such as 0.0015")
    return number


def _in(value: Decimal | None, reading: SpokenReading, unit: str | None, difference: bool = False) -> str | None:
    """A number of the reading in another unit of its kind, with the decimals that were said where they still show."""
    if value is None or reading.unit is None or unit is None or kind_of(reading.unit) != kind_of(unit):
        return None
    said = Fraction(value)
    exact = convert(said, reading.unit, unit) - (convert(0, reading.unit, unit) if difference else 0)
    factor = convert(1, reading.unit, unit) - convert(0, reading.unit, unit)
    decimals = -int(value.as_tuple().exponent) + decimal_places(factor)
    if exact.denominator != 1 and not decimal_places(exact):
        return format(to_decimal(exact), "f")
    places = max(decimals, decimal_places(exact)) if _power_of_ten(factor) else decimal_places(exact)
    return format(to_decimal(exact).quantize(Decimal(1).scaleb(-max(0, places))), "f")


def _power_of_ten(factor: Fraction) -> bool:
    return factor.numerator == 1 and set(str(factor.denominator)) <= {"1", "0"}
