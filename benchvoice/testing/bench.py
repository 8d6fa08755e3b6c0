"""A bench to talk to in tests: say something, move the clock, kill the process, look at what was said and written.

In memory by default; with a folder, the build is kept on disk through the real log. Both are driven by a script clock,
so nothing waits. `kill_and_resume` forgets everything but the log, as a killed process does.
"""

from collections.abc import Mapping
from contextlib import ExitStack
from datetime import UTC, datetime
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

from benchvoice.app.clock import ScriptClock, move
from benchvoice.app.conversation import Conversation, begin_event, facts_of, procedure_in_force, resume_event
from benchvoice.app.person import next_words
from benchvoice.app.sub_builds import Finder
from benchvoice.log import create_build, open_build
from benchvoice.log.storage import Storage
from benchvoice.procedure.difference import difference
from benchvoice.procedure.load import load_document
from benchvoice.procedure.models import Procedure
from benchvoice.session.core import OTHER, step
from benchvoice.session.effects import Effect, End, LookAtBuilds, Say, ToneAlone, Write
from benchvoice.session.entries import Entry, Word
from benchvoice.session.events import Amend, Event, Tick, Utterance
from benchvoice.session.facts import Instant, Row, fold
from benchvoice.session.flow import presented
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.session.plan import current_step
from benchvoice.session.state import State
from benchvoice.session.ticking import next_due
from benchvoice.testing.beside import Beside

START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)


class Bench:
    """One build on a bench, and everything that was heard from it.

    Raises BenchvoiceError where the procedure can't be loaded. It judges nothing: the test does.
    """

    def __init__(
        self,
        procedure: Path,
        folder: Path | None = None,
        instruments: tuple[KnownInstrument, ...] = (),
        storage: Storage | None = None,
        machine: str | None = None,
    ) -> None:
        """`storage` keeps the folder elsewhere than on the disk: on a VirtualDisk, that may be full or lose power."""
        self._file = procedure
        self._folder = folder
        self._storage = storage
        self._boots = 1
        self.clock = ScriptClock(START, boot="boot1")
        self.written: list[tuple[Entry, Instant]] = []
        self.heard: list[str] = []
        """The prompts that followed the last event, "(tone)" for a tone alone; `spoken` has every prompt."""
        self.spoken: list[str] = []
        self.effects: tuple[Effect, ...] = ()
        self.ended = False
        self.beside = Beside()
        """Other builds that can be brought in; in memory. On disk they are found in the folder that holds this one."""
        self._stack = ExitStack()
        self._talk: Conversation | None = None
        if folder is None:
            self._state = State(load_document(procedure).procedure)
        else:
            opened = self._stack.enter_context(create_build(folder, procedure.read_bytes(), storage))
            self._state = State(load_document(procedure).procedure)
            self._talk = Conversation(opened, self._state, self.clock, self._hear, look=self._finder.seen)
        digest = sha256(procedure.read_bytes()).hexdigest()
        self._handle(begin_event(self.clock, "procedure.yaml", digest, machine, instruments))

    @property
    def state(self) -> State:
        """The state now."""
        return self._talk.state if self._talk is not None else self._state

    @property
    def procedure(self) -> Procedure:
        """The procedure in force."""
        return self.state.procedure

    @property
    def at(self) -> str | None:
        """Name of the step in hand; None between steps."""
        current = current_step(self.state)
        return current.step if current is not None else None

    def say(self, *utterances: str) -> list[str]:
        """Say one thing after another; returns the prompts that followed the last."""
        for text in utterances:
            self.heard = []
            self._handle(Utterance(now=self.clock.now(), text=text))
        return self.heard

    def speak(self, text: str) -> list[str]:
        """Say something by voice that the ear trusts; returns the prompts."""
        self.heard = []
        words = tuple(Word(word=word, confidence=Decimal(1)) for word in text.split())
        self._handle(Utterance(now=self.clock.now(), text=text, via="voice", words=words))
        return self.heard

    def mumble(self, text: str) -> list[str]:
        """Say something that the ear does not trust; "[unk]" in it stands for other words. Returns the prompts."""
        words = text.split()
        self.heard = []
        known = " ".join(word for word in words if word != OTHER)
        self._handle(
            Utterance(
                now=self.clock.now(),
                text=known,
                via="voice",
                words=tuple(Word(word=word, confidence=Decimal("0.5")) for word in words),
                doubtful="I am not sure of the words",
            )
        )
        return self.heard

    def forward(self, duration: str) -> list[str]:
        """Let time pass ("10m", "90s", "2h"), with a tick wherever a window wants a word."""
        return self.script(f"@+{duration}")

    def script(self, line: str) -> list[str]:
        """Obey a clock line as `build --clock script` does: @+10m, @clock -5m, @reboot."""
        self.heard = []

        def tick() -> None:
            self._handle(Tick(now=self.clock.now()))

        def due() -> Decimal | None:
            return next_due(self.state, self.clock.now())

        if line.removeprefix("@").strip() == "reboot":
            return self.kill_and_resume(reboot=True)
        move(self.clock, line, tick, due)
        return self.heard

    def kill_and_resume(self, *, reboot: bool = False, away: str = "1s") -> list[str]:
        """Lose the process, and begin a new one that has the log and nothing else, `away` later by the wall clock.

        A reboot leaves nothing but the wall clock to link the two; without one the machine ran on.
        """
        self.heard, self.ended = [], False
        move(self.clock, f"@+{away}", lambda: None, lambda: None)
        self._boots += 1
        power = None if reboot else self.clock.power_on
        self.clock = ScriptClock(self.clock.at, boot=f"boot{self._boots}", power_on=power)
        if self._folder is None:
            self._state = State(self.procedure, fold(self.written))
        else:
            self._stack.close()
            opened = self._stack.enter_context(open_build(self._folder, self._storage))
            facts = facts_of(opened.contents.lines)
            self.written = [(row.entry, row.now) for row in facts.rows()]
            state = State(procedure_in_force(opened.path, facts, self._storage), facts)
            self._talk = Conversation(opened, state, self.clock, self._hear, look=self._finder.seen)
        brought = self._finder.again(self.state, self.clock.now())
        self._handle(resume_event(self.clock, None, None, brought))
        return self.heard

    def amend(self, file: Path, reason: str) -> list[str]:
        """Put a new version of the procedure in force (in memory only)."""
        new = load_document(file).procedure
        changed = difference(self.procedure, new)
        self.heard = []
        event = Amend(
            now=self.clock.now(),
            procedure=new,
            file=file.name,
            sha256="1" * 64,
            reason=reason,
            difference=str(changed),
            affected=changed.affected,
        )
        self._handle(event)
        return self.heard

    def work_to(self, name: str | None, answers: Mapping[str, str] | None = None, *, most: int = 2000) -> None:
        """Let a careful person work until a step is in hand and read out (None: until the build is closed)."""
        for _ in range(most):
            if self.state.closed or (name is not None and self.at == name and presented(self.state)):
                return
            if not self.work_for(1, answers):
                return
        raise TimeoutError(f"the careful person never came to {name}; last heard: {self.spoken[-3:]}")

    def work_for(self, times: int, answers: Mapping[str, str] | None = None) -> bool:
        """Let a careful person say the next few things; False when there is nothing left to say."""
        for _ in range(times):
            words = next_words(self.state, self.clock.now(), answers)
            if words is None:
                return False
            if words.startswith("@"):
                self.script(words)
            else:
                self.say(words)
        return True

    def log(self, kind: str) -> list[Entry]:
        """The entries of a kind, void ones included, oldest first."""
        return [entry for entry, _ in self.written if entry.kind == kind]

    def counting(self, kind: str) -> list[Row[Entry]]:
        """The rows of a kind that count now."""
        facts = self.state.facts
        return [row for row in facts.kinds.get(kind, ()) if row.n not in facts.void]

    @property
    def _finder(self) -> Finder | Beside:
        """What looks at other builds."""
        return self.beside if self._folder is None or self._storage is not None else Finder(self._folder)

    def close(self) -> None:
        """Let go of the folder."""
        self._stack.close()

    def _hear(self, say: Say | ToneAlone) -> None:
        self.heard.append(say.text)
        self.spoken.append(say.text)

    def _handle(self, event: Event) -> None:
        if self._talk is not None:
            before = self._talk.state.facts.count
            self._talk.handle(event)
            rows = self._talk.state.facts.since(before)
            self.written.extend((row.entry, row.now) for row in rows)
            self.ended = self._talk.ended
            return
        self._state, self.effects = step(self._state, event)
        for effect in self.effects:
            match effect:
                case Write():
                    self.written.append((effect.entry, effect.now))
                case Say() | ToneAlone():
                    self._hear(effect)
                case End():
                    self.ended = True
                case _:
                    pass
        for effect in self.effects:
            if isinstance(effect, LookAtBuilds):
                self._handle(self.beside.seen(effect, self._state, self.clock.now()))
