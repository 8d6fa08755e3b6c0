"""What the commands ask of the ear: which model is meant, and which words it lacks."""

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from benchvoice.ear.integrity import cache_folder
from benchvoice.ear.layout import ModelError, examine
from benchvoice.ear.model import find_model, model_folders
from benchvoice.ear.pack.directory import SUMS
from benchvoice.ear.words import DICTIONARY, missing, pronounce

_HASH = re.compile(r"[0-9a-f]{64}")


def model_folder(name: str | None = None) -> Path:
    """A model's folder by its name, its path or the hash that a log gives of it; the shipped one without a name.

    ModelError when there is none.
    """
    if name is None:
        return find_model()
    return _by_hash(name) if _HASH.fullmatch(name) else find_model(name)


def _by_hash(wanted: str) -> Path:
    """A packed model by its hash, among those that there are and those that were taught words."""
    for folder in (*model_folders(), cache_folder()):
        for sums in sorted(folder.glob(f"*/{SUMS}")):
            if hashlib.sha256(sums.read_bytes()).hexdigest() == wanted:
                return sums.parent
    raise ModelError(
        f"The speech model {wanted[:12]}… isn't here: resume the build that it heard, which makes it again, or name "
        "a model's folder."
    )


@dataclass(frozen=True, slots=True)
class Lacking:
    """Words that a model lacks as it is."""

    learnt: tuple[str, ...]
    """It would learn these from a dictionary or their spelling."""
    unheard: tuple[str, ...]
    """It can't hear these."""


def lacking(words: Iterable[str], model: Path) -> Lacking:
    """What a model lacks of these words."""
    absent = missing(words, model)
    if not absent or not examine(model).packed:
        return Lacking((), tuple(absent))
    known = pronounce(absent, model / DICTIONARY)
    return Lacking(tuple(word for word in absent if word in known), tuple(word for word in absent if word not in known))
