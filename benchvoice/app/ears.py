"""What the commands ask of the ear: which model is meant, and which words it lacks."""

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from benchvoice.app.fitting.voices import MODELS, voices_folder
from benchvoice.ear.alike import alike
from benchvoice.ear.integrity import cache_folder
from benchvoice.ear.layout import ModelError, examine
from benchvoice.ear.lexicon import Lexicon, merged, read
from benchvoice.ear.model import find_model, model_folders
from benchvoice.ear.pack.directory import SUMS
from benchvoice.ear.words import DICTIONARY, missing, pronounce
from benchvoice.session.commands import COMMANDS
from benchvoice.speech.vocabulary import number_words

_HASH = re.compile(r"[0-9a-f]{64}")


def model_folder(name: str | None = None) -> Path:
    """A model's folder by its name, its path or the hash that a log gives of it; the shipped one without a name.

    ModelError when there is none.
    """
    if name is None:
        return find_model()
    return _by_hash(name) if _HASH.fullmatch(name) else find_model(name)


def _by_hash(wanted: str) -> Path:
    """A packed model by its hash, among those that there are, were fitted to people and were taught words."""
    fitted = [folder / MODELS for folder in sorted(voices_folder().glob("*"))]
    for folder in (*model_folders(), *fitted, cache_folder()):
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


class Lookalikes:
    """Tells of answers that sound nearly the same, to one another or to a command that moves the work on."""

    def __init__(self, model: Path, told: Mapping[str, Iterable[str]] | None = None) -> None:
        """`told`: pronunciations that a procedure gives. Of a model that wasn't packed here nothing is known."""
        self._model = model
        self._lexicon: Lexicon | None = None
        if examine(model).packed:
            given = {word: [tuple(text.split()) for text in texts] for word, texts in (told or {}).items()}
            self._lexicon = merged(read(model / "lexicon.txt"), given)

    def confused(self, answers: Sequence[str]) -> list[tuple[str, str]]:
        """Pairs of these answers, or of one and a command. Two numbers are never told: readings are said back."""
        if self._lexicon is None:
            return []
        absent = {word for answer in answers for word in answer.split()} - self._lexicon.keys()
        known = merged(self._lexicon, pronounce(sorted(absent), self._model / DICTIONARY)) if absent else self._lexicon
        among_themselves = alike(answers, known)
        commands = [pair for pair in alike(answers, known, _moving(), LIKE_A_COMMAND) if pair.other in _moving()]
        return [
            (pair.one, pair.other)
            for pair in dict.fromkeys((*among_themselves, *commands))
            if not (_is_number(pair.one) and (_is_number(pair.other) or pair.other in _moving()))
            and _bare(pair.one) != _bare(pair.other)
        ]


LIKE_A_COMMAND = 0.7
"""An answer no further from a command than this may be taken for it."""


@cache
def _moving() -> frozenset[str]:
    """Whole utterances that move the work on."""
    return frozenset(phrase for command in COMMANDS if command.moves for phrase in command.says)


def _bare(phrase: str) -> list[str]:
    """Without articles: "new one" and "a new one" mean the same."""
    return [word for word in phrase.split() if word not in ("a", "an", "the")]


def _is_number(phrase: str) -> bool:
    return all(word in number_words() for word in phrase.split())


def lacking(words: Iterable[str], model: Path) -> Lacking:
    """What a model lacks of these words."""
    absent = missing(words, model)
    if not absent or not examine(model).packed:
        return Lacking((), tuple(absent))
    known = pronounce(absent, model / DICTIONARY)
    return Lacking(tuple(word for word in absent if word in known), tuple(word for word in absent if word not in known))
