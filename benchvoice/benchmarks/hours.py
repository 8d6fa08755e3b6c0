"""What hours of other people's speech and noise do to a build: `python -m benchvoice.benchmarks hours 1 --speech DIR`.

The sound goes the whole way: the speech detector and our own ends of utterances, the grammar of the moment in a real
build, the ear's trust, and the session, which asks when in doubt. The build stands at one moment after another (a
reading is asked for, a "done", a mark, a question); what is heard there is counted, and so is what it would have
written. Nobody answers the session: what it asks is answered, if at all, by the other speech itself. After anything
is written the build is put back. Coming to another moment takes words that are understood, so the session answers
there in words again before it falls back on a tone. Bounds are 95 %, Poisson; they count sound, not voices, so the
voices are told too.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field, replace
from datetime import UTC, datetime
from decimal import Decimal
from hashlib import sha256
from pathlib import Path

from benchvoice.app.build import state_of
from benchvoice.app.clock import ScriptClock, move
from benchvoice.app.conversation import Conversation, begin_event
from benchvoice.app.listener import Listener
from benchvoice.app.person import next_words
from benchvoice.app.places import find_procedure
from benchvoice.app.spoken import model_for
from benchvoice.benchmarks.ear import OTHER_SPEECH
from benchvoice.benchmarks.ear_measure.bounds import rate_bounds
from benchvoice.benchmarks.ear_measure.hours_sound import Shop, read_rooms
from benchvoice.benchmarks.ear_measure.sound import RATE, read_clips, read_noises, to_samples
from benchvoice.errors import BenchvoiceError
from benchvoice.log import create_build
from benchvoice.procedure.load import load
from benchvoice.room import BLOCK, NullRoom
from benchvoice.session.core import step
from benchvoice.session.counting import counts_owed
from benchvoice.session.effects import Say, ToneAlone, Write
from benchvoice.session.events import Tick, Utterance
from benchvoice.session.facts import Instant
from benchvoice.session.plan import current_step
from benchvoice.session.state import State
from benchvoice.session.ticking import next_due

PERSON = "ann"
MOMENT_S = 120
"""How long the build stands at one moment, if nothing is written."""
TALK_ONLY = frozenset({"heard", "unclear", "said", "step_entered"})
"""Entries that change nothing of the work."""


@dataclass(frozen=True, slots=True)
class Moment:
    """Where a build can stand: what waits there, its state, and when."""

    what: str
    state: State
    now: Instant


@dataclass(slots=True)
class Count:
    """What came of the sound."""

    seconds: float = 0.0
    utterances: int = 0
    """in which some word was heard that the ear did not refuse"""
    accepted: int = 0
    accepted_words: int = 0
    asked: int = 0
    """prompts that nobody's words called for"""
    tones: int = 0
    """tones alone, with no words"""
    written: Counter[str] = field(default_factory=Counter)
    """entries about the work, by kind"""
    changed: int = 0
    """utterances that wrote any"""
    done_heard: int = 0
    """accepted as the one word "done" """
    done_written: int = 0
    """that closed something"""

    def lines(self) -> Iterator[str]:
        hours = self.seconds / 3600
        yield f"{self.utterances} utterances with words, {self.accepted} accepted by the ear with " + (
            f"{self.accepted_words} words = {self.accepted_words / max(1e-9, self.seconds) * 60:.3f} a minute"
        )
        for what, number in (
            ("utterances accepted", self.accepted),
            ("things asked or said", self.asked),
            ("tones alone", self.tones),
            ("utterances that wrote something about the work", self.changed),
            ('false "done" heard and accepted', self.done_heard),
            ('false "done" that closed something', self.done_written),
        ):
            low, high = rate_bounds(number, hours)
            yield f"{what}: {number} in {hours:.2f} h = {number / max(1e-9, hours):.1f} an hour [{low:.1f}, {high:.1f}]"
        yield f"written, by kind: {dict(self.written.most_common()) or 'nothing'}"


def moments(procedure: Path) -> list[Moment]:
    """A state for each thing that can wait in a build that is done by the book: each question, each kind of step."""
    found: dict[str, Moment] = {}
    with tempfile.TemporaryDirectory() as home:
        clock = ScriptClock(datetime(2026, 1, 1, tzinfo=UTC))
        data = procedure.read_bytes()
        with create_build(Path(home) / "build", data) as opened:
            talk = Conversation(opened, state_of(opened, load(procedure)), clock, lambda _: None)
            talk.handle(begin_event(clock, "procedure.yaml", sha256(data).hexdigest(), None))
            while (words := next_words(talk.state, clock.now())) is not None:
                if words.startswith("@"):
                    move(clock, words, lambda: talk.handle(Tick(now=clock.now())), lambda: _due(talk, clock))
                    continue
                what = _waits(talk.state)
                found.setdefault(what, Moment(what, talk.state, clock.now()))
                talk.handle(Utterance(now=clock.now(), text=words))
    return list(found.values())


def _waits(state: State) -> str:
    """What a build waits for, in words."""
    if state.talk.question is not None:
        return f"question {state.talk.question.name}"
    at = current_step(state)
    if at is None:
        return "the end"
    return f"step {at.kind}{', a count owed' if counts_owed(state, at) else ''}"


def _due(talk: Conversation, clock: ScriptClock) -> Decimal | None:
    return next_due(talk.state, clock.now())


class _ShopRoom(NullRoom):
    """A room in which the shop is heard for a number of seconds."""

    def __init__(self, shop: Shop, seconds: float) -> None:
        super().__init__()
        self._shop, self._seconds = shop, seconds
        self.heard_s = 0.0

    def blocks(self) -> Iterator[bytes]:
        for stretch in self._shop.tape():
            samples = to_samples(stretch)
            for at in range(0, len(samples), BLOCK):
                if self.heard_s >= self._seconds:
                    return
                self.heard_s += BLOCK / RATE
                yield samples[at : at + BLOCK].astype("<i2").tobytes()


class _Build:
    """A build that stands at one moment after another, and what the sound did there."""

    def __init__(self, places: Sequence[Moment], room: _ShopRoom) -> None:
        self.count = Count()
        self._places, self._room = places, room
        self._number, self._since = 0, 0.0
        self._state = places[0].state

    def state(self) -> State:
        if self._room.heard_s - self._since > MOMENT_S:
            self._put(self._number + 1)
        return self._state

    def now(self) -> Instant:
        moment, gone = self._places[self._number].now, Decimal(round(self._room.heard_s - self._since, 3))
        return replace(moment, elapsed=moment.elapsed + gone)

    def hear(self, utterance: Utterance) -> None:
        count = self.count
        count.utterances += 1
        if utterance.doubtful is None:
            count.accepted += 1
            count.accepted_words += len(utterance.text.split())
            count.done_heard += utterance.text == "done"
        self._state, effects = step(self._state, utterance)
        count.asked += sum(isinstance(effect, Say) for effect in effects)
        count.tones += sum(isinstance(effect, ToneAlone) for effect in effects)
        written = [effect.entry.kind for effect in effects if isinstance(effect, Write)]
        work = [kind for kind in written if kind not in TALK_ONLY]
        count.written.update(work)
        if work:
            count.changed += 1
            count.done_written += utterance.text == "done" and "step_closed" in work
            print(f"{self._room.heard_s:8.0f} s at {self._places[self._number].what}: {utterance.text!r} -> {work}")
            self._put(self._number + 1)

    def _put(self, number: int) -> None:
        self._number, self._since = number % len(self._places), self._room.heard_s
        self._state = self._places[self._number].state


def run(args: argparse.Namespace) -> Count:
    """Hear the hours and print what came of them."""
    clips = [
        clip
        for clip in read_clips(args.speech / "manifest.tsv", args.split)
        if clip.text == "?" or clip.group in OTHER_SPEECH
    ]
    shop = Shop(clips, read_noises(args.speech, args.split), read_rooms(args.speech, args.split), args.seed)
    procedure = find_procedure(args.procedure)
    model = model_for(load(procedure), (PERSON,), args.model)
    places = moments(procedure)
    print(f"{model.name} ({model.hash[:12]}), {len(places)} moments of {procedure.stem}, {args.split}", flush=True)
    room, began = _ShopRoom(shop, args.hours * 3600), time.process_time()
    build = _Build(places, room)
    with tempfile.TemporaryDirectory() as home:
        (Path(home) / "clips").mkdir()
        listener = Listener(room, model, Path(home), (PERSON,))
        for utterance in listener.utterances(build.state, build.now, lambda: False):
            build.hear(utterance)
    count = build.count
    count.seconds = room.heard_s
    spent = time.process_time() - began
    print(
        f"{room.heard_s / 3600:.2f} h of sound, {shop.speech_s / 3600:.2f} h of it speech of {len(shop.voices)} voices "
        f"({sum(len(clip.sound) for clip in clips) / RATE / 60:.0f} min recorded), {len(shop.noises_used)} noises, "
        f"{len(shop.rooms_used)} rooms; {spent / max(1e-9, room.heard_s):.3f} x real time"
    )
    for line in count.lines():
        print(line)
    return count


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; 2 when it could not be run."""
    p = argparse.ArgumentParser(
        prog="python -m benchvoice.benchmarks hours", description=__doc__.splitlines()[0] if __doc__ else ""
    )
    p.add_argument("hours", nargs="?", type=float, default=1.0, help="hours of sound (real time is not needed)")
    p.add_argument("--speech", type=Path, required=True, help="folder with manifest.tsv, noise.tsv and rir.tsv")
    p.add_argument("--split", default="test", choices=["test", "dev", "all"])
    p.add_argument("--model", help="name or folder of the ear's model")
    p.add_argument("--procedure", default="launch-bottom-end", help="the build in which it is heard")
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--json", type=Path, help="write all counts to this file")
    args = p.parse_args(list(argv))
    try:
        count = run(args)
        if args.json:
            counts = {**asdict(count), "written": dict(count.written)}
            args.json.write_text(json.dumps(counts, indent=1), encoding="utf-8")
    except BenchvoiceError as fault:
        print(fault, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
