"""Typed use: one utterance a line from standard input, what would be spoken one prompt a line on standard output."""

import queue
import sys
import threading
from collections.abc import Iterator
from decimal import Decimal
from typing import TextIO

from benchvoice.app.clock import ScriptClock, move
from benchvoice.app.conversation import Conversation
from benchvoice.errors import InputError
from benchvoice.session.effects import Say, ToneAlone
from benchvoice.session.events import Tick, Utterance
from benchvoice.session.ticking import next_due


def print_prompt(say: Say | ToneAlone) -> None:
    """One prompt, one line."""
    print(" ".join(say.text.split()), flush=True)


def talk(conversation: Conversation, lines: TextIO | None = None) -> None:
    """Hear lines until they end or the conversation does. Lines that begin with # are remarks."""
    for line in _lines(conversation, lines or sys.stdin):
        text = line.strip()
        if not text or text.startswith("#"):
            continue
        if text.startswith("@"):
            _move_clock(conversation, text)
        else:
            conversation.handle(Utterance(now=conversation.clock.now(), text=text))
        if conversation.ended:
            return


def _move_clock(conversation: Conversation, line: str) -> None:
    clock = conversation.clock
    if not isinstance(clock, ScriptClock):
        raise InputError(f"{line!r} moves a clock that only runs with --clock script: start the build with it.")

    def tick() -> None:
        conversation.handle(Tick(now=clock.now()))

    def due() -> Decimal | None:
        return next_due(conversation.state, clock.now())

    move(clock, line, tick, due)


def _lines(conversation: Conversation, stream: TextIO) -> Iterator[str]:
    """The stream's lines; with a real clock, time goes on between them."""
    if isinstance(conversation.clock, ScriptClock):
        yield from stream
        return
    waiting: queue.Queue[str | None] = queue.Queue()
    threading.Thread(target=_read, args=(stream, waiting), daemon=True).start()
    while True:
        due = next_due(conversation.state, conversation.clock.now())
        try:
            line = waiting.get(timeout=None if due is None else max(0.05, float(due)))
        except queue.Empty:
            conversation.handle(Tick(now=conversation.clock.now()))
            continue
        if line is None:
            return
        yield line


def _read(stream: TextIO, waiting: "queue.Queue[str | None]") -> None:
    for line in stream:
        waiting.put(line)
    waiting.put(None)
