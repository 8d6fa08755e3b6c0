"""A window's word while the ear hears: said in a silence in the middle of a number, or over speech that goes on."""

from collections.abc import Iterator
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

import numpy as np
import pytest

from benchvoice.app.build import state_of
from benchvoice.app.clock import ScriptClock
from benchvoice.app.conversation import DISK_REFUSED, Conversation, begin_event
from benchvoice.app.listener import BROKEN_OFF, PATIENCE_S, Listener
from benchvoice.app.speaker import Speaker
from benchvoice.app.spoken import converse, model_for
from benchvoice.app.typed import talk
from benchvoice.ear.model import Model
from benchvoice.errors import MachineError
from benchvoice.log import create_build, read_log
from benchvoice.procedure.load import load
from benchvoice.room import RATE, Samples
from benchvoice.room.files import VirtualRoom
from benchvoice.room.resampling import resample
from benchvoice.session.effects import Say, ToneAlone
from benchvoice.session.entries import Heard, Reading, Unclear
from benchvoice.session.facts import Instant
from benchvoice.testing.bench import START, Bench
from benchvoice.voice import Voice

BEAD = Path(__file__).parents[1] / "conversations" / "bead-and-gap.yaml"
"""An open time of eight minutes: its warnings come at six and at seven (three quarters, the last minute)."""
PERSON = Voice(name="en-us+Andy", rate=150)


class SoundClock(ScriptClock):
    """Moves with the sound of a room."""

    room: VirtualRoom | None = None
    passed = Decimal(0)

    def now(self) -> Instant:
        if self.room is not None:
            elapsed = Decimal(round(self.room.elapsed() * 1000)) / 1000
            self.forward(elapsed - self.passed)
            self.passed = elapsed
        return super().now()


@pytest.fixture(scope="module")
def model() -> Model:
    return model_for(load(BEAD), ("ann",), None)


def spoken(words: str) -> Samples:
    sound = PERSON.say_to_buffer(words)
    return resample(sound.samples, sound.rate, RATE)


def silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), np.int16)


def hear(model: Model, folder: Path, start: str, pieces: Iterator[Samples], said: list[tuple[float, str]]) -> None:
    """Begin a build by typing, move its clock, then let the sound be heard: what was said, with seconds of sound."""
    clock = SoundClock(START, boot="boot1")
    room = VirtualRoom(pieces)
    speaker = Speaker(room, show=False)

    def speak(say: Say | ToneAlone) -> None:
        said.append((room.elapsed(), say.text))
        if clock.room is not None:
            speaker.say(say)

    with create_build(folder, BEAD.read_bytes()) as opened:
        conversation = Conversation(opened, state_of(opened, load(BEAD)), clock, speak)
        conversation.handle(begin_event(clock, "procedure.yaml", sha256(BEAD.read_bytes()).hexdigest(), None))
        talk(conversation, iter(["ann", "bead on", start]))
        said.clear()
        clock.room = room
        converse(conversation, Listener(room, model, folder, ("ann",)))


@pytest.mark.parametrize("start", ["@+5m56s", "@+5m56.013s"])  # the second is late by a part of a block of sound
def test_a_warning_is_spoken_between_two_halves_of_a_number(model: Model, tmp_path: Path, start: str) -> None:
    pieces = [silence(1), spoken("two point"), silence(6), spoken("eight"), silence(1.5), spoken("yes"), silence(1.5)]
    said: list[tuple[float, str]] = []
    hear(model, tmp_path / "build", start, iter(pieces), said)
    assert [text for _, text in said[:2]] == ["Two minutes on the bead.", "Two point eight thou. Yes or no?"]
    assert said[0][0] == pytest.approx(4, abs=0.1)  # seconds of sound after 5 min 56 s
    readings = [line.entry for line in read_log(tmp_path / "build").lines if isinstance(line.entry, Reading)]
    assert [(reading.value, reading.said, reading.confirmed) for reading in readings] == [
        (Decimal("2.8"), "two point eight", True)
    ]


def test_half_a_number_that_the_ear_waited_for_is_asked_again_at_once(model: Model, tmp_path: Path) -> None:
    said: list[tuple[float, str]] = []
    hear(model, tmp_path / "build", "@+1m", iter([silence(1), spoken("two point"), silence(10)]), said)
    assert [text for _, text in said] == ['I heard only "two point". Left, gap.']


def test_speech_that_goes_on_does_not_keep_a_warning_for_ever(model: Model, tmp_path: Path) -> None:
    speech = np.concatenate([spoken("no leave that one he said next week and the other one is done") for _ in range(5)])
    said: list[tuple[float, str]] = []
    hear(model, tmp_path / "build", "@+5m58s", iter([silence(1), speech, silence(2)]), said)
    assert said[0][1].endswith(" seconds on the bead.")
    assert said[0][0] == pytest.approx(2 + PATIENCE_S, abs=0.1)
    written = [line.entry for line in read_log(tmp_path / "build").lines]
    kept = [entry for entry in written if isinstance(entry, Heard | Unclear) and entry.via == "voice"]
    assert kept
    assert all(isinstance(entry, Unclear) for entry in kept)
    assert not [entry for entry in written if isinstance(entry, Reading)]


@pytest.mark.parametrize(("overdue", "waited"), [(True, 0), (False, 8)])
def test_what_was_broken_off_is_not_trusted(model: Model, tmp_path: Path, overdue: bool, waited: int) -> None:
    bench = Bench(BEAD)
    bench.say("ann", "bead on")
    room = VirtualRoom(iter([silence(1), spoken("two point"), silence(10)]))
    (tmp_path / "clips").mkdir()
    listener = Listener(room, model, tmp_path, ("ann",))
    found = listener.utterances(lambda: bench.state, bench.clock.now, lambda: False, lambda: overdue)
    seen = [(heard.text, heard.doubtful == BROKEN_OFF, round(heard.waited)) for heard in found]
    assert seen == [("two point", overdue, waited)]


def test_a_sound_that_can_not_be_kept_is_said(model: Model, tmp_path: Path) -> None:
    pieces = [silence(1), spoken("two point eight"), silence(2)]

    def without_clips() -> Iterator[Samples]:
        (tmp_path / "build" / "clips").rmdir()
        (tmp_path / "build" / "clips").touch()  # something else is in the way
        yield from pieces

    said: list[tuple[float, str]] = []
    with pytest.raises(MachineError, match="Can't keep the sound"):
        hear(model, tmp_path / "build", "@+1m", without_clips(), said)
    assert [text for _, text in said] == [DISK_REFUSED]
    assert not [line for line in read_log(tmp_path / "build").lines if isinstance(line.entry, Reading)]
