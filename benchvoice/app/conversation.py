"""The loop's middle: an event goes to the session, what it writes goes to disk, and only then is anything said.

Nothing is acknowledged before it is durable. When the disk refuses, one fixed sentence is said that needs no log, the
state stays what the log says, and the conversation ends.
"""

from collections.abc import Callable, Iterable
from pathlib import Path

from benchvoice import __version__
from benchvoice.app.clock import Clock
from benchvoice.errors import MachineError
from benchvoice.log import OpenBuild, Stamped, drop_clip, procedure_bytes
from benchvoice.log.line import Line
from benchvoice.log.storage import Storage
from benchvoice.procedure.load import load_text
from benchvoice.procedure.models import Procedure
from benchvoice.session.core import step
from benchvoice.session.effects import Adjust, DropClip, Effect, End, Hush, LookAtBuilds, Say, ToneAlone, Write
from benchvoice.session.entries import Amended, Opened
from benchvoice.session.events import Begin, BuildsSeen, Event, Resume
from benchvoice.session.facts import Facts, Instant, fold
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.other_builds import OtherBuild
from benchvoice.session.state import State

DISK_REFUSED = "I can't keep the record. Stop here."


def facts_of(lines: Iterable[Line]) -> Facts:
    """The facts that a log's lines make."""
    return fold((line.entry, instant_of(line)) for line in lines)


def instant_of(line: Line) -> Instant:
    """The moment of a line."""
    return Instant(line.stamped.at, line.stamped.elapsed, line.stamped.boot)


def procedure_in_force(folder: Path, facts: Facts, storage: Storage | None = None) -> Procedure:
    """The procedure a build follows now: the version frozen when it began, or the newest amendment."""
    file = facts.of(Opened)[-1].entry.procedure
    amended = facts.of(Amended)
    if amended:
        file = amended[-1].entry.procedure
    return load_text(procedure_bytes(folder, file, storage).decode("utf-8"), file)


Look = Callable[[LookAtBuilds, State, Instant], BuildsSeen]
"""Looks at other builds for the session."""


def _sees_none(wanted: LookAtBuilds, _state: State, now: Instant) -> BuildsSeen:
    return BuildsSeen(now=now, step=wanted.step, builds=())


class Conversation:
    """One process's talk about one build."""

    def __init__(
        self,
        build: OpenBuild,
        state: State,
        clock: Clock,
        speak: Callable[[Say | ToneAlone], None],
        adjust: Callable[[Adjust | Hush], None] = lambda _: None,
        look: Look = _sees_none,
    ) -> None:
        self.build = build
        self.state = state
        self.clock = clock
        self.ended = False
        self._refused = False
        self._speak = speak
        self._adjust = adjust
        self._look = look

    def handle(self, event: Event) -> None:
        """Let the session decide, write what it writes, then say what it says. MachineError when the disk refuses."""
        state, effects = step(self.state, event)
        writes = [effect for effect in effects if isinstance(effect, Write)]
        if writes:
            try:
                self.build.append([_stamped(effect) for effect in writes])
            except MachineError:
                self.refused()
                raise
        self.state = state
        for effect in effects:
            self._do(effect)
        for effect in effects:  # only now: what is seen is talked about after what was said of this event
            if isinstance(effect, LookAtBuilds):
                self.handle(self._look(effect, self.state, self.clock.now()))

    def refused(self) -> None:
        """Say that the record can't be kept, once, and end: it needs no log, and nothing counts meanwhile."""
        if not self._refused:
            self._refused, self.ended = True, True
            self._speak(Say(DISK_REFUSED))

    def _do(self, effect: Effect) -> None:
        match effect:
            case Say() | ToneAlone():
                self._speak(effect)
            case Adjust() | Hush():
                self._adjust(effect)
            case DropClip():
                drop_clip(self.build.path, effect.clip)
            case End():
                self.ended = True
            case Write() | LookAtBuilds():
                pass


def _stamped(write: Write) -> Stamped:
    return Stamped(at=write.now.at, elapsed=write.now.elapsed, boot=write.now.boot, by=write.by, entry=write.entry)


def begin_event(
    clock: Clock, file: str, sha256: str, machine: str | None, instruments: tuple[KnownInstrument, ...] = ()
) -> Begin:
    """The event that opens a new build."""
    return Begin(
        now=clock.now(),
        file=file,
        sha256=sha256,
        program=__version__,
        machine=machine,
        power_on=clock.power_on,
        uptime=clock.uptime(),
        instruments=instruments,
    )


def resume_event(
    clock: Clock,
    set_aside: str | None,
    instruments: tuple[KnownInstrument, ...] | None = None,
    brought: tuple[OtherBuild, ...] = (),
) -> Resume:
    """The event that goes on with a build."""
    return Resume(
        now=clock.now(),
        program=__version__,
        set_aside=set_aside,
        power_on=clock.power_on,
        uptime=clock.uptime(),
        instruments=instruments,
        brought=brought,
    )
