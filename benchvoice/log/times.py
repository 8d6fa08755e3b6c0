"""Points in time as text: RFC 3339, always in UTC.

The log writes milliseconds and "Z" (`2026-11-25T10:15:00.250Z`) and nothing else; `parse` and `to_utc` take every
form that RFC 3339 sections 5.6 and 5.7 allow.
"""

import re
from calendar import monthrange
from datetime import UTC, datetime, timedelta

from benchvoice.errors import InputError

# [0-9], not \d: other scripts' digits are no RFC 3339.
_FORM = re.compile(
    r"([0-9]{4})-([0-9]{2})-([0-9]{2})[Tt]([0-9]{2}):([0-9]{2}):([0-9]{2})(\.[0-9]+)?([Zz]|[+-][0-9]{2}:[0-9]{2})"
)


class NotATime(InputError):
    """A text is no date and time of RFC 3339."""


def _offset(text: str) -> timedelta:
    """The zone's offset from UTC; `-00:00` (UTC known, local time not) counts as UTC."""
    if text in "Zz":
        return timedelta()
    hours, minutes = int(text[1:3]), int(text[4:6])
    if hours > 23 or minutes > 59:
        raise ValueError(f"there is no offset {text}")
    size = timedelta(hours=hours, minutes=minutes)
    return -size if text[0] == "-" else size


def _split(text: str) -> tuple[datetime, str, bool]:
    """(UTC to the second, fraction with its point or "", whether it is a leap second: then 59 stands for 60)."""
    found = _FORM.fullmatch(text)
    if found is None:
        raise NotATime(f"{text!r} is no time of RFC 3339: write it like 2026-11-25T10:15:00.000Z.")
    year, month, day, hour, minute, second = (int(part) for part in found.groups()[:6])
    leap = second == 60
    try:
        local = datetime(year, month, day, hour, minute, 59 if leap else second, tzinfo=UTC)
        moment = local - _offset(found[8])
    except (ValueError, OverflowError) as reason:
        raise NotATime(f"{text!r} is no time: {reason}.") from None
    # RFC 3339 5.7: a leap second is the last second of a month, in UTC.
    last = monthrange(moment.year, moment.month)[1]
    if leap and (moment.day, moment.hour, moment.minute) != (last, 23, 59):
        raise NotATime(f"{text!r} is no time: a second 60 ends a month, at 23:59:60 UTC, and nowhere else.")
    return moment, found[7] or "", leap


def to_utc(text: str) -> str:
    """The same point in time with "Z", its fraction's digits and a leap second kept. NotATime when it is none."""
    moment, fraction, leap = _split(text)
    whole = moment.strftime("%H:%M:60") if leap else moment.strftime("%H:%M:%S")
    # Not strftime("%Y"): it drops the leading zeros of early years on some systems.
    return f"{moment.date().isoformat()}T{whole}{fraction}Z"


def parse(text: str) -> datetime:
    """The point in time, in UTC, to the microsecond (finer digits are cut). NotATime when it is none.

    A leap second becomes the second after it, as POSIX counts: datetime has no 60.
    """
    moment, fraction, leap = _split(text)
    micros = int((fraction[1:] + "000000")[:6]) if fraction else 0
    return moment + timedelta(seconds=1 if leap else 0, microseconds=micros)


def format_utc(moment: datetime) -> str:
    """RFC 3339 in UTC with milliseconds, the log's only form. Finer digits are cut, so that no time lies ahead."""
    if moment.tzinfo is None:
        raise ValueError(f"{moment} has no time zone; the log needs to know the point in time")
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")[: -len("+00:00")] + "Z"
