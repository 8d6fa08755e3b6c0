"""What is known of another build when it is looked at: read by the edge, and handed to the session in an event."""

from dataclasses import dataclass

from benchvoice.session.entries import BroughtMark
from benchvoice.session.entries_brought import Trouble


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherBuild:
    """Another build as it is now; with `trouble` nothing but its name, where it was looked for, and what is wrong."""

    name: str
    """Name of its folder."""
    folder: str = ""
    """Where it is, from the build that asks."""
    entry: int | None = None
    """Line of the entry that brought it in, when it is looked at again."""
    trouble: Trouble = ""
    fault: str = ""
    """What is wrong, in words that name the line."""
    head: str = ""
    """Hash of its last line."""
    lines: int = 0
    title: str = ""
    machine: str | None = None
    closed: bool = False
    last: str = ""
    """The day of its last entry, as it is said."""
    open_items: tuple[str, ...] = ()
    owed: tuple[str, ...] = ()
    marks: tuple[BroughtMark, ...] = ()
    choices: tuple[tuple[str, str], ...] = ()
    computed: tuple[tuple[str, str], ...] = ()
