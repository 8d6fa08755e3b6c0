"""Steps written short, for tables of phrases: "in 1.996..2.000", "deg what=angle", "mm div=0.01", "-"."""

import re
from decimal import Decimal

from benchvoice.quantity.units import convert
from benchvoice.speech.readings import Context, SpokenReading, parse_reading


def context(step="-", work="metric"):
    """The context of a step; limits may be open ("thou ..2"), what= takes the rest of the text."""
    keys = {"work": work}
    if found := re.search(r"what=(.*)$", step):
        keys["what"], step = found.group(1).strip(), step[: found.start()]
    for word in step.split():
        if ".." in word:
            low, _, high = word.partition("..")
            keys["low"], keys["high"] = (Decimal(end) if end else None for end in (low, high))
        elif word.startswith("div="):
            keys["per_division"] = Decimal(word.removeprefix("div="))
        elif word.startswith("res="):
            keys["resolution"] = Decimal(word.removeprefix("res="))
        elif word != "-":
            keys["unit"] = word
    return Context(**keys)


def heard(phrase, step="-", work="metric"):
    return parse_reading(phrase, context(step, work))


def inch(phrase, step="in"):
    return parse_reading(phrase, context(step, "inch"))


def metric(phrase, step="mm"):
    return parse_reading(phrase, context(step, "metric"))


def is_value(reading: SpokenReading, text: str) -> bool:
    """Whether the reading's value is the one written, in any unit of its kind."""
    value, _, unit = text.partition(" ")
    if reading.value is None or reading.unit is None:
        return False
    return convert(reading.value, reading.unit, unit) == convert(Decimal(value), unit, unit)
