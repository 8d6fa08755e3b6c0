"""What `benchvoice hear` needs: a sound file of any common kind, its words with a grammar, a dictionary to print."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from benchvoice.ear.decode import RATE, Decoded, Grammar, Samples, decode, grammar_for
from benchvoice.ear.model import Model
from benchvoice.errors import InputError

LONGEST_S = 3600


class SoundFileError(InputError):
    """A file that holds no sound that can be read."""


class NothingSayable(InputError):
    """A grammar none of whose words the model knows."""


def read_sound(path: Path) -> Samples:
    """A whole sound file as int16 at 16 kHz, mono: its channels averaged, its rate converted. SoundFileError, naming
    it.

    A clip that was kept as 16 kHz mono comes back to the bit, so that it is decoded as it was heard.
    """
    import soundfile

    try:
        with soundfile.SoundFile(str(path)) as file:
            if file.frames > LONGEST_S * file.samplerate:
                raise SoundFileError(f"{path} is longer than an hour; cut out what is to be heard.")
            if file.samplerate == RATE and file.channels == 1 and file.subtype == "PCM_16":
                return np.asarray(file.read(dtype="int16"), np.int16)
            sound, rate = file.read(dtype="float32", always_2d=True), file.samplerate
    except FileNotFoundError as fault:
        raise SoundFileError(f"{path} isn't there; name a sound file.") from fault
    except (soundfile.SoundFileError, OSError, ValueError, RuntimeError) as fault:
        if not path.exists():
            raise SoundFileError(f"{path} isn't there; name a sound file.") from fault
        raise SoundFileError(
            f"{path} isn't a sound file that can be read (WAV, FLAC, Ogg and their like can)."
        ) from fault
    return _to_int16(_at_rate(sound.mean(axis=1), rate))


def _at_rate(sound: NDArray[np.float32], rate: int) -> NDArray[np.float32]:
    if rate == RATE:
        return sound
    import soxr

    return np.asarray(soxr.resample(sound, rate, RATE), np.float32)


def _to_int16(sound: NDArray[np.float32]) -> Samples:
    whole = np.nan_to_num(sound.astype(np.float64) * 32768.0, posinf=32767.0, neginf=-32768.0)
    return np.clip(np.rint(whole), -32768, 32767).astype(np.int16)


def hear(model: Model, path: Path, grammar: Grammar | None) -> tuple[dict[str, Any], Decoded]:
    """A file as one utterance: what `benchvoice hear --json` prints of it, but for what was understood, and the words.

    SoundFileError when the file can't be read.
    """
    decoded = decode(model, read_sound(path), grammar)
    printed = {
        "file": str(path),
        "words": [asdict(word) for word in decoded.words],
        "text": decoded.text,
        "audio_s": round(decoded.audio_s, 3),
        "compute_s": decoded.compute_s,
        "left_out_s": decoded.left_out_s,
    }
    return printed, decoded


def grammar_of_words(model: Model, words: Iterable[str]) -> Grammar:
    """Any sequence of just these words (`--words zero,one,two`). NothingSayable when the model knows none of them."""
    grammar = grammar_for(model, words)
    if not grammar.phrases:
        unheard = ", ".join(grammar.unheard) or "nothing was named"
        raise NothingSayable(f"The speech model {model.name} knows none of the words to listen for: {unheard}.")
    return grammar
