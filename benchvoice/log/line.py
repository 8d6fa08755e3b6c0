"""One line of a log: an entry in its envelope, as canonical JSON, chained to the line before.

    {"at": "2026-11-25T10:15:00.250Z", "boot": "…", "by": "ann", "elapsed": "12.031", "kind": "reading", …the entry's
     own fields…, "n": 7, "prev": "…"}

- `n` is the line's number in the file, from 1. `at` is wall time, `elapsed` the monotonic seconds since the process
  `boot` began, `by` the person on. `prev` is the SHA-256 of the line before without its newline ("0" * 64 at first).
- Canonical JSON (RFC 8785): the same facts are always the same bytes, so any change of a line shows in the next one.
- Every measured number is text, with the decimals that were said. JSON numbers are line numbers, stages and counts.

A line counts only if writing its facts again gives the very same bytes. That one rule refuses whatever a lenient
reader would let pass: numbers as JSON numbers, "1_000", names given twice, fields out of order.
"""

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal, InvalidOperation
from typing import Any

import rfc8785
from pydantic import ValidationError
from pydantic_core import to_json

from benchvoice.errors import BenchvoiceError
from benchvoice.log.times import NotATime, format_utc, parse
from benchvoice.session.entries import ENTRY_MODELS, Entry

FIRST_PREV = "0" * 64
"""`prev` of the first line, which has none before it."""

ENVELOPE = ("n", "at", "elapsed", "boot", "by", "prev")
"""The names that the log itself writes; no entry may have a field of one of them."""

_BOOT = re.compile(r"[A-Za-z0-9_-]{1,64}")
_BEYOND = 2**53  # from here on integers are not exact in every JSON reader (RFC 8785 section 3.2.2.3)
_MOST_DIGITS = 60  # beyond this a number is no reading; 1E+999999999 written out would fill the memory


@dataclass(frozen=True, slots=True)
class Stamped:
    """An entry with its stamp: when, seconds since its process began, which process, who was on.

    `at` is cut to the millisecond and put in UTC at once, so that a build sees the same time live and when it is
    read back. ValueError for a time without a zone, seconds below nothing, or a process without a plain name.
    """

    at: datetime
    elapsed: Decimal
    boot: str
    by: str | None
    entry: Entry

    def __post_init__(self) -> None:
        if self.at.tzinfo is None:
            raise ValueError(f"has a time without a zone ({self.at})")
        if not self.elapsed.is_finite() or self.elapsed.is_signed():
            raise ValueError(f"has no usable elapsed ({self.elapsed}): seconds, from 0 up")
        if not _BOOT.fullmatch(self.boot):
            raise ValueError(f"has no usable boot ({self.boot!r}): 1 to 64 letters, digits, _ or -")
        at = self.at.astimezone(UTC)
        object.__setattr__(self, "at", at.replace(microsecond=at.microsecond // 1000 * 1000))


@dataclass(frozen=True, slots=True)
class Line:
    """A line as it stands in the log. `raw` is its bytes without the newline."""

    n: int
    stamped: Stamped
    prev: str
    raw: bytes

    @property
    def entry(self) -> Entry:
        return self.stamped.entry

    @property
    def digest(self) -> str:
        """What the next line's `prev` must be."""
        return digest(self.raw)


class EntryRefused(BenchvoiceError):
    """An entry can't be written as a line: the program's fault, and nothing was written."""


class BadLine(ValueError):
    """Bytes are no line of a log. The message completes "line 7 …"."""


def canonical(value: Any) -> bytes:
    """JSON by RFC 8785. ValueError for what has no such form (NaN, integers from 2^53 on, broken text)."""
    return rfc8785.dumps(value)


def digest(raw: bytes) -> str:
    """SHA-256 as 64 hex digits."""
    return hashlib.sha256(raw).hexdigest()


def decimal_text(value: Decimal) -> str:
    """A number as the log writes it: plain digits, never an exponent, its decimals kept."""
    text = str(value)
    if "E" in text and abs(value.adjusted()) <= _MOST_DIGITS:
        text = format(value, "f")
    if value.is_finite() and "E" not in text and len(text) <= _MOST_DIGITS:
        return text
    raise ValueError(f"{value} is no number for a log")


_AS_IT_IS = frozenset({str, bool, type(None)})


def _plain(value: Any) -> Any:
    """A dumped field as a line has it: Decimal as text, names in order. ValueError for what no line holds."""
    if type(value) in _AS_IT_IS:
        return value
    if isinstance(value, Decimal):
        return decimal_text(value)
    if isinstance(value, int) and abs(value) < _BEYOND:
        return value
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    if isinstance(value, dict) and "".join(value).isascii():
        return {name: part if type(part) in _AS_IT_IS else _plain(part) for name, part in sorted(value.items())}
    raise ValueError(f"{value!r} has no place in a line")


def _raw(stamped: Stamped, n: int, prev: str, fields: Mapping[str, Any]) -> bytes:
    envelope = {
        "n": n,
        "at": format_utc(stamped.at),
        "elapsed": decimal_text(stamped.elapsed),
        "boot": stamped.boot,
        "by": stamped.by,
        "prev": prev,
    }
    # Of what `_plain` lets through (text, exact integers, truth and null under ASCII names, in order) this makes the
    # very bytes of RFC 8785, many times faster than `canonical`, which knows all of it; a test holds them together.
    return to_json(_plain({**fields, **envelope}))


def encode(stamped: Stamped, n: int, prev: str) -> bytes:
    """The line's bytes, without a newline, every field written out. EntryRefused when they could not be read back."""
    entry = stamped.entry
    if ENTRY_MODELS.get(entry.kind) is not type(entry):
        raise EntryRefused(f"{type(entry).__name__} is not the log's model of the kind {entry.kind!r}.")
    try:
        return _raw(stamped, n, prev, entry.model_dump())
    except ValueError as reason:
        raise EntryRefused(f"The {entry.kind} entry can't be written: {reason}.") from reason


def decode(raw: bytes) -> Line:
    """The line that these bytes (without newline) are; BadLine says what is wrong with them."""
    facts = _facts(raw)
    n, prev = facts.pop("n", None), facts.pop("prev", None)
    if type(n) is not int or not isinstance(prev, str):
        raise BadLine("has no number n or no prev")
    stamped = _stamped(facts)
    # Fields that the line leaves out stay left out: a program whose entries have grown a field still reads old logs.
    try:
        again = _raw(stamped, n, prev, stamped.entry.model_dump(exclude_unset=True))
    except ValueError as reason:
        raise BadLine(f"holds what no log holds: {reason}") from None
    if again != raw:
        raise BadLine("is not written as the log writes it (canonical JSON, numbers as plain text)")
    return Line(n, stamped, prev, raw)


def _facts(raw: bytes) -> dict[str, Any]:
    try:
        facts = json.loads(raw)
    except (ValueError, RecursionError):
        raise BadLine("is no JSON") from None
    if not isinstance(facts, dict):
        raise BadLine("is no JSON object")
    return facts


def _stamped(facts: dict[str, Any]) -> Stamped:
    """The stamp and the entry, taken out of a line's facts."""
    texts = [facts.pop(name, None) for name in ("at", "elapsed", "boot")]
    by = facts.pop("by", None)
    at, elapsed, boot = (text if isinstance(text, str) else "" for text in texts)
    if by is not None and not isinstance(by, str):
        raise BadLine("has a person (by) that is no text")
    try:
        return Stamped(parse(at), Decimal(elapsed), boot, by, _entry(facts))
    except InvalidOperation:
        raise BadLine(f"has no usable elapsed ({elapsed!r}): seconds, from 0 up") from None
    except (NotATime, ValueError) as reason:
        raise BadLine(str(reason)) from None


def _entry(facts: dict[str, Any]) -> Entry:
    kind = facts.get("kind")
    model = ENTRY_MODELS.get(kind) if isinstance(kind, str) else None
    if model is None:
        raise BadLine(f"is of a kind that this program doesn't know ({kind!r}); a newer one may have written it")
    try:
        return model.model_validate(facts)
    except ValidationError as faults:
        first = faults.errors(include_url=False)[0]
        where = ".".join(str(part) for part in first["loc"])
        raise BadLine(f"is no {kind} entry: {where}: {first['msg']}") from None
