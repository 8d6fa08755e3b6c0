"""Kinds of log entries for conditions that figures hold for: what is on the threads."""

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
