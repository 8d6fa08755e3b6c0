"""Figures, places and times as they are printed."""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from decimal import Decimal

from benchvoice.errors import BenchvoiceError
from benchvoice.quantity.units import info_of
from benchvoice.session.entries import Paper

MINUS = "−"


def number(value: Decimal) -> str:
    """A number as it was kept, all its decimals, with a real minus sign."""
    return f"{value:f}".replace("-", MINUS)


def symbol(unit: str) -> str:
    """A unit as it is printed; a unit that this program doesn't know is printed as it stands in the log."""
    try:
        return info_of(unit).symbol
    except BenchvoiceError:
        return unit


def quantity(value: Decimal, unit: str) -> str:
    """A value with its unit: 2.80 thou."""
    return with_unit(number(value), unit)


def with_unit(figures: str, unit: str) -> str:
    """Figures and their unit: with a space between, but for degrees of angle."""
    gap = "" if unit == "deg" else " "
    return f"{figures}{gap}{symbol(unit)}".rstrip()


def interval(value: Decimal | None, low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """A reading: its value, or the interval that it lies in."""
    if value is not None:
        return quantity(value, unit)
    if low is not None and high is not None:
        return f"between {number(low)} and {quantity(high, unit)}"
    if low is not None:
        return f"{quantity(low, unit)} or more"
    if high is not None:
        return f"{quantity(high, unit)} or less"
    return "no value"


def limits(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    """Limits: 1.5 to 3.0 thou; at most 3.0 N·m; at least …"""
    if low is not None and high is not None:
        return f"{number(low)} to {quantity(high, unit)}"
    if high is not None:
        return f"at most {quantity(high, unit)}"
    if low is not None:
        return f"at least {quantity(low, unit)}"
    return "no limits"


def asked(text: str) -> str:
    """What a stage asks, from the log's words: 60 N_m becomes 60 N·m."""
    first = text.partition(" ")[0]
    if not (first[:1].isdigit() or first == "any"):
        return text  # words, such as "by hand"
    figures, _, unit = text.rpartition(" ")
    return with_unit(figures, unit)


def place(parts: Sequence[str]) -> str:
    """A place: two, top, across."""
    return ", ".join(parts)


def plain(name: str) -> str:
    """A name of the document in words: main_caps becomes main caps."""
    return name.replace("_", " ")


def day(moment: datetime) -> str:
    """A date: 25 November 2026 is 2026-11-25."""
    return moment.astimezone(UTC).date().isoformat()


def clock(moment: datetime) -> str:
    """Date and time to the second."""
    return moment.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S")


def duration(seconds: Decimal) -> str:
    """A time: 6 min 10 s; fractions of a second are dropped."""
    whole = int(seconds)
    if whole < 0:
        return f"{MINUS}{duration(Decimal(-whole))}"
    minutes, rest = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (rest, "s")) if count]
    return " ".join(parts) or "0 s"


def sentence(text: str) -> str:
    """A text with a capital first letter."""
    return text[:1].upper() + text[1:]


def listed(names: Iterable[str]) -> str:
    """Names after one another: a, b and c."""
    *most, last = tuple(names) or ("",)
    return f"{', '.join(most)} and {last}" if most else last


def because(text: str, reason: str | None) -> str:
    """A text with its reason, when there is one."""
    return f"{text}: {reason}" if reason else text


def off_paper(paper: Paper) -> str:
    """The source of what was read off paper: read off a sheet of bo's, of yesterday."""
    whose = f" of {paper.whose}'s" if paper.whose else ""
    return f"read off a {paper.what}{whose}{f', of {paper.when}' if paper.when else ''}, not measured in this build"
