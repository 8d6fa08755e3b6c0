"""Entries about sub-builds: another build brought in, what it had when it was, and what became of it since.

All kinds are to be had from `benchvoice.session.entries`.
"""

from typing import Literal

from pydantic import BaseModel, ConfigDict

from benchvoice.session.entries_base import Entry, Place


class BroughtMark(BaseModel):
    """A mark that was read in the other build."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    step: str
    read: str
    value: str
    place: Place = ()


class BroughtIn(Entry):
    """Another build, as it was when it was brought in. In logs from before sub-builds only build and head are set."""

    kind: Literal["brought_in"] = "brought_in"
    build: str
    """Name of its folder."""
    head: str
    """Hash of the last line of the other build's log when it was brought in."""
    open_items: tuple[str, ...] = ()
    """What was open there, in sentences."""
    computed: tuple[tuple[str, str], ...] = ()
    """Computed values that stood there: STEP.VALUE, with its place, and the figure with its unit."""
    step: str = ""
    """The step of this build that it was brought in at."""
    what: str = ""
    """What it is called at the bench."""
    folder: str = ""
    """Where it was found, from this build's folder."""
    lines: int = 0
    """How many lines its log had."""
    title: str = ""
    machine: str | None = None
    closed: bool = False
    owed: tuple[str, ...] = ()
    """What was still owed there after hand-over."""
    marks: tuple[BroughtMark, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    """Its particulars, options and choices, and their answers."""
    replaces: int | None = None
    """Line of the entry whose place this one takes: the same build, as it was earlier."""


class NotBroughtIn(Entry):
    """A step goes on without the build that it could bring in."""

    kind: Literal["not_brought_in"] = "not_brought_in"
    step: str
    what: str
    reason: str = ""


Trouble = Literal["", "missing", "damaged", "another log"]
"""Why another build can't be compared: its folder is gone, its log is damaged, or doesn't hold what was brought in."""


class BroughtInChanged(Entry):
    """A build that was brought in is not as it was: its log has another last line, or can't be had."""

    kind: Literal["brought_in_changed"] = "brought_in_changed"
    entry: int
    """Line of what was brought in."""
    what: str
    head: str
    """Hash of its last line now; empty where it can't be read."""
    changes: tuple[str, ...] = ()
    """What is otherwise there, in sentences."""
    steps: tuple[str, ...] = ()
    """Steps of this build that rest on what has changed."""
    trouble: Trouble = ""


class BroughtInDecision(Entry):
    """What is done about a build that changed after it was brought in."""

    kind: Literal["brought_in_decision"] = "brought_in_decision"
    entry: int
    """Line of the change."""
    what: str
    decision: Literal["stands", "taken as it is now", "done again"]
    reason: str = ""
    name: str | None = None
    """Who decided."""
