"""Looking at other builds for a session that brings them in: their folders are read, and checked, here alone."""

import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from benchvoice.app.conversation import facts_of, procedure_in_force
from benchvoice.app.judging import judge_for
from benchvoice.app.places import builds_folder
from benchvoice.errors import BenchvoiceError, InputError
from benchvoice.log import Line, list_builds, verify
from benchvoice.log.line import BadLine, decode
from benchvoice.log.read import LOG_NAME
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.words import words_of
from benchvoice.session.effects import LookAtBuilds
from benchvoice.session.entries import BroughtIn, Opened
from benchvoice.session.entries_brought import Trouble
from benchvoice.session.events import BuildsSeen
from benchvoice.session.facts import Instant, Row
from benchvoice.session.handing_on import handed_on
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.questions import plain
from benchvoice.session.state import State
from benchvoice.session.sub_builds import brought

MOST = 5
"""The newest so many builds are offered at a step."""


def named_builds(texts: Iterable[str]) -> dict[str, Path]:
    """Folders by what they are called, from NAME=FOLDER. InputError for a text of another form, or no build there."""
    found = {}
    for text in texts:
        name, equals, folder = text.partition("=")
        if not (name.strip() and equals and folder.strip()):
            raise InputError(f"{text!r} names no build: write it like 'bottom end=FOLDER'.")
        path = Path(folder.strip())
        if not (path / LOG_NAME).is_file():
            raise InputError(f"There is no build in {path}, which was to be brought in as {name.strip()}.")
        found[plain(name.strip())] = path
    return found


class Finder:
    """Finds builds for the one in `own`: those named by hand, in the user's folder of builds, or beside it."""

    def __init__(self, own: Path, named: Mapping[str, Path] | None = None) -> None:
        self._own = own
        self._named = dict(named or {})

    def seen(self, wanted: LookAtBuilds, state: State, now: Instant) -> BuildsSeen:
        """The event that answers a look at builds."""
        builds = self.again(state, now) if wanted.step is None else tuple(self._offered(wanted, now))
        return BuildsSeen(now=now, step=wanted.step, builds=builds)

    def again(self, state: State, now: Instant) -> tuple[OtherBuild, ...]:
        """Every build that is brought in, as it is now."""
        return tuple(self._as_now(row, now) for row in brought(state.facts).values())

    def words(self, procedure: Procedure) -> Iterator[str]:
        """Words that may be said of builds that the procedure's steps can bring in: the names of their machines."""
        for step in procedure.steps:
            if step.brings_in is not None:
                wanted = LookAtBuilds(step=step.step, what=step.brings_in.what, title=step.brings_in.procedure)
                for folder in self._candidates(wanted):
                    opened = _opened(folder)
                    yield from words_of(opened.machine or "") if opened is not None else ()

    def _offered(self, wanted: LookAtBuilds, now: Instant) -> Iterator[OtherBuild]:
        for folder in self._candidates(wanted):
            yield look_at(folder, now, self._relative(folder), wanted.what)

    def _candidates(self, wanted: LookAtBuilds) -> tuple[Path, ...]:
        named = self._named.get(plain(wanted.what))
        if named is not None:
            return (named,)
        fit = [folder for folder in self._around() if _fits(folder, wanted)]
        return tuple(sorted(fit, key=_age, reverse=True)[:MOST])

    def _around(self) -> Iterator[Path]:
        own = self._own.resolve()
        homes = dict.fromkeys((builds_folder().resolve(), own.parent))
        for home in homes:
            try:
                yield from (folder for folder in list_builds(home) if folder.resolve() != own)
            except BenchvoiceError:
                continue  # a folder that can't be listed has nothing to offer

    def _as_now(self, row: Row[BroughtIn], now: Instant) -> OtherBuild:
        entry = row.entry
        places = (
            self._named.get(plain(entry.what)),
            self._own / entry.folder if entry.folder else None,
            builds_folder() / entry.build,
            self._own.resolve().parent / entry.build,
        )
        there = [place for place in places if place is not None and (place / LOG_NAME).is_file()]
        if not there:
            fault = f"{entry.what} can't be found: it was in {entry.folder or entry.build}"
            return OtherBuild(name=entry.build, entry=row.n, trouble="missing", fault=fault)
        return look_at(there[0], now, self._relative(there[0]), entry.what, again=row)

    def _relative(self, folder: Path) -> str:
        """Where a folder is from this build's, so that builds that move together find each other."""
        try:
            return Path(os.path.relpath(folder.resolve(), self._own.resolve())).as_posix()
        except ValueError:  # on another drive
            return folder.resolve().as_posix()


def look_at(folder: Path, now: Instant, relative: str, what: str, again: Row[BroughtIn] | None = None) -> OtherBuild:
    """A build as it is now, its record checked whole; with `again` also whether it goes on from what was brought in."""
    n = again.n if again is not None else None

    def no(trouble: Trouble, fault: str) -> OtherBuild:
        return OtherBuild(name=folder.name, folder=relative, entry=n, trouble=trouble, fault=fault)

    try:
        checked = verify(folder, judge_for(folder))
        lines = checked.contents.lines
        if checked.fault is not None:
            return no("damaged", f"the record of {what} is damaged: {checked.fault}")
        if not lines:
            return no("damaged", f"{what} never began")
        if again is not None and not goes_on(lines, again.entry):
            return no("another log", f"{what} is not the build that was brought in: its log has not the same lines")
        procedure = procedure_in_force(folder, facts_of(lines))
    except BenchvoiceError as fault:
        return no("missing", f"{what} can't be read: {str(fault).splitlines()[0].rstrip('.')}")
    return other_build(lines, procedure, now, folder.name, relative, n)


def other_build(
    lines: tuple[Line, ...], procedure: Procedure, now: Instant, name: str, relative: str, entry: int | None = None
) -> OtherBuild:
    """What the lines of a whole log hand on."""
    state = State(procedure, facts_of(lines))
    return handed_on(state, now, name=name, folder=relative, head=lines[-1].digest, entry=entry)


def goes_on(lines: tuple[Line, ...], entry: BroughtIn) -> bool:
    """Whether a log still holds the last line that it had when it was brought in."""
    return len(lines) >= entry.lines > 0 and lines[entry.lines - 1].digest == entry.head


def _opened(folder: Path) -> Opened | None:
    """How a build was opened; None where its first line can't be read."""
    try:
        with (folder / LOG_NAME).open("rb") as log:
            entry = decode(log.readline().rstrip(b"\n")).entry
    except (OSError, BadLine):
        return None
    return entry if isinstance(entry, Opened) else None


def _fits(folder: Path, wanted: LookAtBuilds) -> bool:
    """Whether a build follows the procedure that is wanted; without one, whether its folder is called so."""
    opened = _opened(folder)
    if opened is None:
        return False
    if wanted.title is not None:
        return plain(opened.title) == plain(wanted.title)
    return plain(wanted.what) in plain(folder.name.replace("_", " "))


def _age(folder: Path) -> float:
    """When the log was last written to: only the order of what is offered goes by it."""
    try:
        return (folder / LOG_NAME).stat().st_mtime
    except OSError:
        return 0.0
