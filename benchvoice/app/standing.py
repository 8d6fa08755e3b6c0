"""Where a build stands, read from its folder: open or closed, what is left for later, what is owed after hand-over."""

from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from typing import Literal

from benchvoice.app.conversation import facts_of, procedure_in_force
from benchvoice.errors import BenchvoiceError, InputError
from benchvoice.log import Line, list_builds, read_log
from benchvoice.log.read import LOG_NAME, before_first_line
from benchvoice.session.entries import Opened
from benchvoice.session.facts import Instant
from benchvoice.session.follow_ups import first_closing, owed_words
from benchvoice.session.state import State
from benchvoice.session.summary import left_for_later


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A build as its folder shows it; times as text, in UTC."""

    build: str
    name: str
    procedure: str = ""
    machine: str = ""
    begun: str = ""
    last: str = ""
    state: Literal["open", "closed", "follow-up open", "never begun", "damaged"]
    left_for_later: tuple[str, ...] = ()
    owed: tuple[str, ...] = ()
    fault: str = ""

    @property
    def words(self) -> str:
        """In one line."""
        what = f"{self.procedure}{f' on {self.machine}' if self.machine else ''}"
        match self.state:
            case "damaged":
                return f"damaged: {self.fault}"
            case "never begun":
                return f"never begun: {self.fault}"
            case "closed":
                return f"closed {self.last}; {what}, begun {self.begun}"
            case "open":
                return f"open, last used {self.last}; {what}, begun {self.begun}"
            case _:
                return f"closed, with a follow-up open, last used {self.last}; {what}, begun {self.begun}"


def those_in(folder: Path) -> tuple[Path, ...]:
    """The build that a folder is, or the builds in it. InputError for a folder that isn't there, unless it is one's
    own, which the first build makes."""
    from benchvoice.app.places import builds_folder

    if (folder / LOG_NAME).exists():
        return (folder,)
    if not folder.is_dir() and folder != builds_folder():
        raise InputError(f"There is no folder {folder}: name a build, or a folder of builds.")
    return list_builds(folder)


def standing_of(folder: Path) -> Standing:
    """Where a build stands now; what is wrong with one that can't be read is a part of the answer."""
    named = str(folder), folder.resolve().name
    try:
        contents = read_log(folder)
        lines = contents.lines
        if not lines:
            found = before_first_line(contents.torn)
            return Standing(build=named[0], name=named[1], state="never begun", fault=found)
        return _standing(named, lines, State(procedure_in_force(folder, facts_of(lines)), facts_of(lines)))
    except (BenchvoiceError, UnicodeDecodeError, IndexError) as fault:
        text = str(fault).splitlines()
        return Standing(build=named[0], name=named[1], state="damaged", fault=text[0] if text else "it can't be read")


def _standing(named: tuple[str, str], lines: tuple[Line, ...], state: State) -> Standing:
    opened = state.facts.all(Opened)[0].entry
    now = Instant(datetime.now(UTC), Decimal(0), "builds")
    open_again = first_closing(state.facts) > 0
    return Standing(
        build=named[0],
        name=named[1],
        procedure=opened.title,
        machine=opened.machine or "",
        begun=_minute(lines[0]),
        last=_minute(lines[-1]),
        state="closed" if state.closed else "follow-up open" if open_again else "open",
        left_for_later=left_for_later(state),
        owed=owed_words(state, now),
    )


def _minute(line: Line) -> str:
    return f"{line.stamped.at:%Y-%m-%d %H:%M} UTC"
