"""The demonstration: a whole build by sound alone.

A scripted person speaks through a synthesised voice with shop noise round it; the real ear hears it, the session
answers, the log is kept as ever. The person does what people do: reads a figure out of limits and measures again,
finds a tight spot at a hold point and takes the way back, mumbles once, and objects when a wrong figure is read back.
Nothing but sound goes from the person to the assistant.
"""

import time
from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal
from hashlib import sha256
from pathlib import Path
from tempfile import mkdtemp

import numpy as np

from benchvoice.app.build import state_of
from benchvoice.app.clock import ScriptClock, move
from benchvoice.app.conversation import Conversation, begin_event
from benchvoice.app.listener import Listener
from benchvoice.app.options import DemoOptions
from benchvoice.app.person import next_words
from benchvoice.app.places import find_procedure
from benchvoice.app.speaker import Speaker, warn
from benchvoice.app.spoken import converse, model_for
from benchvoice.log import create_build, verify
from benchvoice.procedure.load import load
from benchvoice.room import RATE, PersonRoom, Room, Samples
from benchvoice.room.aloud import PlayAloud
from benchvoice.room.devices import open_loudspeaker
from benchvoice.room.mixing import noise_alone, with_noise, with_pauses
from benchvoice.room.noise import Noise, noise
from benchvoice.room.resampling import resample
from benchvoice.session.entries import Checked
from benchvoice.session.events import Tick
from benchvoice.session.plan import current_step, number_of
from benchvoice.session.questions import plain
from benchvoice.session.readings import at_place
from benchvoice.session.state import State
from benchvoice.session.ticking import next_due
from benchvoice.sheet import write_record
from benchvoice.voice import Voice

PERSON = "ann"
VOICE_NAME = "en-us+Andy"
SNR_DB = 20
MOST_WORDS = 900
"""A demonstration that needs more utterances than this has gone wrong."""
_PATIENCE = 6
"""Half seconds that the person waits for an answer."""
_QUIET_DBFS = -45
_A_TURN = Decimal(4)
"""Seconds that a turn takes on the demonstration's clock: between two words something was done."""
ANSWERS = {"crank_ground": "first undersize", "shells": "new"}


@dataclass
class Person:
    """Says what comes next, with a few things going wrong on the way. Each `arc` happens once."""

    state: Callable[[], State]
    clock: ScriptClock
    tick: Callable[[], None]
    due: Callable[[], Decimal | None]
    seed: int
    silent: bool = False
    said: int = 0
    answered: int = -1
    waited: int = 0
    arcs: list[str] = field(default_factory=list)
    meant: str = ""
    """What the person last said: an echo that differs is answered with "no"."""

    def speak(self) -> Samples | None:
        """The next sound at the microphone: words in noise, or None when there is nothing more to say."""
        if self._waits():
            return self._quiet()
        if self.said >= MOST_WORDS or (self.silent and self.said >= 10):
            return None
        words = self._words()
        if words is None:
            return None
        self.said += 1
        self.clock.forward(_A_TURN)
        if self.silent:
            return np.zeros(3 * RATE, np.int16)
        print(f"   ({words})", flush=True)
        self.meant = words if words not in ("yes", "no") else self.meant
        self.answered, self.waited = self.state().facts.count, 0
        return self._sound(words)

    def _waits(self) -> bool:
        """Wait for an answer, like people do: up to three seconds of nothing before saying it again."""
        if self.silent or self.state().facts.count != self.answered or self.waited >= _PATIENCE:
            return False
        self.waited += 1
        return True

    def _quiet(self) -> Samples:
        return noise_alone(noise(Noise.SHOP, 0.5, RATE, self.seed + self.waited), _QUIET_DBFS)

    def _sound(self, words: str) -> Samples:
        spoken = Voice(name=VOICE_NAME, rate=150).say_to_buffer(words)
        samples = resample(spoken.samples, spoken.rate, RATE)
        if self._once("mumble", self.said > 12):
            samples = samples[: len(samples) // 3]
        padded = with_pauses(samples, RATE, 0.25, 0.9)
        return with_noise(padded, noise(Noise.SHOP, len(padded) / RATE, RATE, self.seed + self.said), SNR_DB, RATE)

    def _words(self) -> str | None:
        while True:
            words = self._arc() or next_words(self.state(), self.clock.now(), ANSWERS)
            if words is None or not words.startswith("@"):
                return words
            print(f"   (time passes: {words.removeprefix('@+')})", flush=True)
            move(self.clock, words, self.tick, self.due)

    def _arc(self) -> str | None:
        """What goes otherwise than by the book, when it is its turn; worked out from what is asked, as people do."""
        state = self.state()
        question, step = state.talk.question, current_step(state)
        name = step.step if step is not None else ""
        asked = question.name if question is not None else ""
        if question is not None and asked == "said":
            return "yes" if plain(question.prompt).startswith(plain(self.meant)) else "no"
        if asked == "where":
            return "number four"
        if asked == "decision" and name == "main_clearance":
            return "measure again"
        two = at_place(state.facts, "main_clearance", ("two",))
        if name == "main_clearance" and not asked and state.talk.place == ("two",) and not two:
            return "three point five thou"
        failed = any(row.entry.answer == "tight spot" for row in state.facts.all(Checked))
        if asked == "hold point" and name == "mains_stage_two" and not failed:
            return "tight spot"
        return None

    def _once(self, arc: str, now: bool) -> bool:
        if not now or arc in self.arcs:
            return False
        self.arcs.append(arc)
        return True


def demo(options: DemoOptions) -> int:
    """Play a whole build; returns 0 when it was closed and its log holds, 1 when not."""
    began = time.monotonic()
    file = options.procedure or find_procedure("launch-bottom-end")
    folder = options.out or Path(mkdtemp(prefix="benchvoice-demo-")) / "build"
    procedure = load(file)
    model = model_for(procedure, (PERSON,), None)
    clock = ScriptClock(datetime.now(UTC).replace(microsecond=0))
    with ExitStack() as stack:
        opened = stack.enter_context(create_build(folder, file.read_bytes()))
        conversation: Conversation | None = None

        def state() -> State:
            assert conversation is not None
            return conversation.state

        def tick() -> None:
            assert conversation is not None
            conversation.handle(Tick(now=clock.now()))

        person = Person(state, clock, tick, lambda: next_due(state(), clock.now()), options.seed, options.silence)
        room: Room = PersonRoom(person.speak, folder / "conversation.wav" if options.realtime else None)
        if options.realtime:
            room = PlayAloud(room, open_loudspeaker())
        stack.callback(room.close)
        speaker = Speaker(room)
        conversation = Conversation(opened, state_of(opened, procedure), clock, speaker.say, speaker.adjust)
        data = file.read_bytes()
        conversation.handle(begin_event(clock, "procedure.yaml", sha256(data).hexdigest(), None))
        converse(conversation, Listener(room, model, folder, (PERSON,)))
        closed = conversation.state.closed
    return _report(folder, conversation.state, closed, time.monotonic() - began)


def _report(folder: Path, state: State, closed: bool, seconds: float) -> int:
    page = write_record(folder)
    fault = verify(folder).fault
    print(f"\nBuild:  {folder}\nRecord: {page}")
    heard, unclear = (len(state.facts.kinds.get(kind, ())) for kind in ("heard", "unclear"))
    print(f"{heard} utterances understood, {unclear} not; {seconds:.0f} s; log {'holds' if fault is None else fault}")
    step = current_step(state)
    if not closed and step is not None:
        at, of = number_of(state, step)
        warn(f"The build was not closed: it stands at step {at} of {of}.")
    return 0 if closed and fault is None else 1
