"""Words that a procedure or a shop brings: which are missing, how they are said, and a model that hears them.

A pronunciation comes from the person who gives one; else from the dictionary beside the model (CMUdict), with a British
form beside it; else from espeak-ng, which reads the spelling. The model's graph is then made again with the new words
and kept in the cache folder, so that the next start finds it.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib.metadata
import lzma
import os
import re
import shutil
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from benchvoice.ear.confidence import FILE as CONFIDENCE
from benchvoice.ear.espeak import spelled
from benchvoice.ear.integrity import cache_folder, check_sums
from benchvoice.ear.layout import ModelError, examine, read_words
from benchvoice.ear.lexicon import Lexicon, Pronunciation, merged, read
from benchvoice.ear.model import find_model
from benchvoice.ear.pack import repack

DICTIONARY = "dictionary.txt.xz"
"""CMUdict without stress marks, a pronunciation a line, in the model's folder."""
RECIPE = 1
"""Raised whenever the same words would be given other pronunciations, so that nothing stale is found in the cache."""
KEPT = 12
"""Rebuilt models that stay in the cache; the longest unused go first."""

_WORD = re.compile(r"[a-z]+(?:['-][a-z]+)*'?")


@dataclass(frozen=True, slots=True)
class Extended:
    """A model folder that hears more words."""

    path: Path
    added: tuple[str, ...]
    unsayable: tuple[str, ...]
    """Words for which no pronunciation could be found: anything but letters, say. They stay unheard."""


def missing(words: Iterable[str], model: Path | None = None) -> list[str]:
    """The words, in order and once each, that a model (the shipped one by default) can't hear as it is."""
    known = read_words(examine(model or find_model()).words)
    return [word for word in dict.fromkeys(words) if word not in known]


def pronounce(words: Iterable[str], dictionary: Path | None) -> Lexicon:
    """Pronunciations of lower-case words, most usual first; words that nobody can pronounce are left out.

    The British form is always espeak-ng's. SpellingError when espeak-ng can't be run.
    """
    wanted = [word for word in dict.fromkeys(words) if _WORD.fullmatch(word)]
    looked_up = _look_up(wanted, dictionary)
    from_spelling = spelled(wanted)
    british_only = {word: from_spelling[word][-1:] for word in looked_up if word in from_spelling}
    found = merged(
        looked_up, british_only, {word: from_spelling[word] for word in from_spelling if word not in looked_up}
    )
    return {word: found[word] for word in wanted if word in found}


def _look_up(words: list[str], dictionary: Path | None) -> Lexicon:
    if dictionary is None or not dictionary.is_file() or not words:
        return {}
    try:
        text = "\n" + lzma.decompress(dictionary.read_bytes()).decode("ascii")
    except (OSError, lzma.LZMAError, UnicodeDecodeError) as fault:
        raise ModelError(f"The dictionary {dictionary} can't be read ({fault}); put the model there again.") from fault
    found: dict[str, list[Pronunciation]] = {}
    for word in words:
        at = text.find(f"\n{word} ")
        while at >= 0:  # a word's lines stand together
            line = text[at + 1 : text.find("\n", at + 1)]
            found.setdefault(word, []).append(tuple(line.split()[1:]))
            at = text.find(f"\n{word} ", at + len(line))
    return merged(found)


def model_with(
    words: Iterable[str],
    *,
    base: Path | None = None,
    given: Mapping[str, Iterable[Pronunciation]] | None = None,
    cache: Path | None = None,
) -> Extended:
    """A model that hears `words` besides its own, and says `given` ones as told; `base` itself when nothing is new.

    Takes well under a second, and next to nothing when the same was asked before. Only models packed by benchvoice can
    learn; others come back as they are. PackError names a sound in `given` that the model doesn't have.
    """
    base = base or find_model()
    told = merged(given or {})
    new = missing([*told, *words], base)
    if not (new or told):
        return Extended(base, (), ())
    if not examine(base).packed:
        return Extended(base, (), tuple(new))
    path = (cache or cache_folder()) / f"{base.name}-{_key(base, new, told)}"
    if not _usable(path):
        learnt = merged(told, pronounce([word for word in new if word not in told], base / DICTIONARY))
        _build(base, learnt, path)
        _forget_old(path)
    with contextlib.suppress(OSError):
        os.utime(path)  # the longest unused are forgotten first
    known = read_words(path / "graph/words.txt")
    return Extended(
        path, tuple(word for word in new if word in known), tuple(word for word in new if word not in known)
    )


def _key(base: Path, new: list[str], told: Lexicon) -> str:
    """Names a rebuilt model by everything that it is made from."""
    policy = (base / CONFIDENCE).read_bytes() if (base / CONFIDENCE).is_file() else b""
    speller = importlib.metadata.version("espeakng-loader")
    parts = [str(RECIPE), check_sums(base), speller, " ".join(sorted(new)), repr(sorted(told.items()))]
    return hashlib.sha256("\n".join(parts).encode() + policy).hexdigest()[:16]


def _usable(path: Path) -> bool:
    try:
        check_sums(path)
    except ModelError:
        shutil.rmtree(path, ignore_errors=True)  # half written, or damaged since
        return False
    return True


def _build(base: Path, learnt: Lexicon, path: Path) -> None:
    """Writes the whole model beside its place first: another process never sees half of it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        draft = Path(tempfile.mkdtemp(prefix="draft-", dir=path.parent))
        try:
            # told pronunciations come first; a base that was told the same keeps one of each
            repack(base, merged(read(base / "lexicon.txt"), learnt), draft)
            if (base / CONFIDENCE).is_file():
                shutil.copyfile(base / CONFIDENCE, draft / CONFIDENCE)
            draft.chmod(0o755)
            if not path.exists():
                draft.rename(path)
        finally:
            shutil.rmtree(draft, ignore_errors=True)
    except OSError as fault:
        if not _usable(path):  # unless another process was quicker
            reason = fault.strerror or fault
            raise ModelError(
                f"No model with new words can be written to {path} ({reason}); make room there."
            ) from fault


def _forget_old(newest: Path) -> None:
    """Deletes the longest unused rebuilt models beyond KEPT, and drafts that a killed process left."""
    ages: list[tuple[float, Path]] = []
    for path in newest.parent.iterdir():
        with contextlib.suppress(OSError):  # another process may be deleting too
            if path != newest and (path / "packed.json").is_file():
                ages.append((path.stat().st_mtime, path))
    for _, path in sorted(ages, reverse=True)[KEPT - 1 :]:
        shutil.rmtree(path, ignore_errors=True)
