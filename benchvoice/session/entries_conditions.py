"""Kinds of log entries for conditions that figures hold for: what is on the threads, how warm things are."""

from decimal import Decimal
from typing import Literal

from benchvoice.session.entries_base import Entry


class ThreadFound(Entry):
    """What was said to be on the threads of a group, before its first stage at a step."""

    kind: Literal["thread"] = "thread"
    step: str
    group: str
    condition: str | None
    """A condition that is known by name, or other words; None: nobody knows."""
    asked: str
    """What the step's figures are for."""
    said: str


class WarmthSaid(Entry):
    """Whether it was cold or hot for the readings of a step that count since."""

    kind: Literal["warmth"] = "warmth"
    step: str
    state: Literal["cold", "hot"]
    said: str


class LastRan(Entry):
    """How long it had not run, before the readings of a step."""

    kind: Literal["last_ran"] = "last_ran"
    step: str
    seconds: Decimal | None
    """So long ago at the least, when it was said; None: it has never run."""
    asked: Decimal
    """Seconds that the step asks."""
    said: str


class Temperature(Entry):
    """A temperature that is compared before the readings of a step, and is none of them."""

    kind: Literal["temperature"] = "temperature"
    step: str
    what: str
    value: Decimal
    """As it was said."""
    unit: str
    said: str
    confirmed: bool = False
    """Stored only after a read-back and a yes."""
    confidence: Decimal | None = None
    clip: str | None = None


class StillSo(Entry):
    """After a time without the program, a person says that what was said of warmth before still holds."""

    kind: Literal["still_so"] = "still_so"
    step: str
    what: str
