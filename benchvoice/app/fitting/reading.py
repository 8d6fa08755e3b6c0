"""Having a person read prompts aloud, and taking clips from a folder: each is kept before the next is asked for."""

import csv
from collections.abc import Callable, Iterator, Sequence
from difflib import SequenceMatcher
from pathlib import Path

import numpy as np

from benchvoice.app.fitting.prompts import vocabulary
from benchvoice.app.fitting.voices import FOLDER, READ, clips_of, keep_clip
from benchvoice.ear.decode import grammar_for
from benchvoice.ear.hear import read_sound
from benchvoice.ear.model import Model
from benchvoice.ear.stream import Ear, Listening, Utterance
from benchvoice.errors import InputError
from benchvoice.room import Room

END_MS = 900
TRIES = 3
LONGEST_S = 12
"""Longer clips are left out: a prompt or an answer takes a few seconds."""
Tell = Callable[[str], None]


def read_aloud(room: Room, model: Model, folder: Path, prompts: Sequence[str], tell: Tell) -> int:
    """Asks for every prompt that wasn't read yet; the number of clips that were added.

    What is heard must hold half of the prompt's words in their order, or it is asked for again: coughs and chatter are
    no material. After three tries a prompt is left out. The end of the sound ends it.
    """
    done = {clip.text for clip in clips_of(folder) if clip.source == READ}
    waiting = [prompt for prompt in prompts if prompt not in done]
    words = [*vocabulary(), *(word for prompt in prompts for word in prompt.split())]
    heard = _utterances(room, Ear(model, Listening(grammar_for(model, words), END_MS)))
    added = 0
    for number, prompt in enumerate(waiting, len(prompts) - len(waiting) + 1):
        for attempt in range(TRIES):
            tell(f"{'Again: ' if attempt else ''}{number} of {len(prompts)}: {prompt}")
            utterance = next(heard, None)
            if utterance is None:
                return added
            if _is_reading_of(utterance, prompt):
                added += keep_clip(folder, utterance.samples, prompt, READ)
                break
        else:
            tell(f"Left out: {prompt}")
    return added


def _utterances(room: Room, ear: Ear) -> Iterator[Utterance]:
    for block in room.blocks():
        yield from ear.feed(np.frombuffer(block, dtype="<i2").astype(np.int16))
    yield from ear.flush()


def _is_reading_of(utterance: Utterance, prompt: str) -> bool:
    said, heard = prompt.split(), utterance.decoded.known
    matched = sum(block.size for block in SequenceMatcher(None, said, heard, autojunk=False).get_matching_blocks())
    return 2 * matched >= len(said) and len(heard) <= 2 * len(said) and len(utterance.samples) <= LONGEST_S * 16_000


def take_folder(source: Path, folder: Path) -> int:
    """Keeps the clips of a folder with a `list.tsv` (columns file and text); how many were new.

    InputError names the list, or the first line of it, that can't be used; nothing after that line is taken.
    """
    table = source / "list.tsv"
    try:
        text = table.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise InputError(f"{table} can't be read: put a table there with the columns file and text.") from fault
    rows = csv.DictReader(text.splitlines(), delimiter="\t", quoting=csv.QUOTE_NONE)
    added = 0
    for number, row in enumerate(rows, 2):
        words = " ".join((row.get("text") or "").lower().split())
        if not row.get("file") or not words:
            raise InputError(f"{table}:{number}: a file and its words are needed.")
        samples = read_sound(source / row["file"])
        if len(samples) > LONGEST_S * 16_000:
            raise InputError(f"{table}:{number}: longer than {LONGEST_S} s; cut out what was said.")
        added += keep_clip(folder, samples, words, FOLDER)
    return added
