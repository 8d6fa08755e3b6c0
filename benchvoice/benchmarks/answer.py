"""From the end of an utterance to its verdict on disk and the answer's sound: our own computing, without the silence
that is waited for.

    python -m benchvoice.benchmarks answer [RUNS]
"""

import statistics
import tempfile
import time
from collections.abc import Sequence
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

import numpy as np

from benchvoice.app.build import state_of
from benchvoice.app.clock import ScriptClock
from benchvoice.app.conversation import Conversation, begin_event
from benchvoice.app.listener import END_MS
from benchvoice.app.person import next_words
from benchvoice.app.places import find_procedure
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.model import find_model, load_model
from benchvoice.log import create_build
from benchvoice.procedure.load import load
from benchvoice.room.resampling import resample
from benchvoice.session.events import Utterance
from benchvoice.session.plan import current_step
from benchvoice.session.sayable import sayable
from benchvoice.voice import Voice


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; `argv` may hold the number of readings."""
    wanted = int(argv[0]) if argv else 20
    file = find_procedure("launch-bottom-end")
    model, voice = load_model(find_model()), Voice(name="en-us+Andy")
    took: dict[str, list[float]] = {"decoding": [], "session and log": [], "answer's sound": []}
    with tempfile.TemporaryDirectory() as home:
        clock = ScriptClock(datetime.now(UTC))
        with create_build(Path(home) / "build", file.read_bytes()) as opened:
            prompts: list[str] = []
            talk = Conversation(opened, state_of(opened, load(file)), clock, lambda said: prompts.append(said.text))
            talk.handle(begin_event(clock, "procedure.yaml", sha256(file.read_bytes()).hexdigest(), None))
            while len(took["decoding"]) < wanted:
                words = next_words(talk.state, clock.now())
                step = current_step(talk.state)
                if words is None:
                    break
                if step is None or step.measure is None or talk.state.talk.question is not None:
                    talk.handle(Utterance(now=clock.now(), text=words))
                    continue
                sound = voice.say_to_buffer(words)
                samples = resample(sound.samples, sound.rate, 16_000)
                grammar = grammar_for(model, sayable(talk.state))
                began = time.perf_counter()
                decode(model, np.asarray(samples, np.int16), grammar)
                took["decoding"].append(time.perf_counter() - began)
                began = time.perf_counter()
                talk.handle(Utterance(now=clock.now(), text=words))
                took["session and log"].append(time.perf_counter() - began)
                began = time.perf_counter()
                voice.say_to_buffer(prompts[-1])
                took["answer's sound"].append(time.perf_counter() - began)
    for what, seconds in took.items():
        print(f"{what}: median {1000 * statistics.median(seconds):.0f} ms, most {1000 * max(seconds):.0f} ms")
    whole = [sum(parts) for parts in zip(*took.values(), strict=True)]
    middle = 1000 * statistics.median(whole)
    print(f"end of utterance to answer: median {middle:.0f} ms ({len(whole)} readings; decoding")
    print(f"is of the whole utterance at once, live it runs along; besides, {END_MS} ms of silence end an utterance)")
    return 0
