"""Real recordings and noises from a speech folder (manifest.tsv, noise.tsv and their audio containers).

Only split "train" is read, and what may not shape shipped weights stays out: GPL recordings and
noises, anything non-commercial, and clips without a text (unless they are wanted as garbage).
"""

import csv
from collections.abc import Collection, Iterator
from pathlib import Path
from zlib import crc32

import numpy as np
from phones import GARBAGE
from shards import RATE, Utterance, rms, to_16k

SHARES = {
    "gsc": 0.42,
    "gscother": 0.08,
    "asterisk": 0.13,
    "asteriskau": 0.10,
    "callie": 0.08,
    "fsdd": 0.07,
    "grid": 0.07,
    "art4apps": 0.05,
    "an4": 0.01,
    "audiomnist": 0.01,
    "custom": 0.03,
    "mycroft": 0.03,
    "lj": 0.01,
    "libri": 0.03,
    "dspspeech": 0.03,
    "dspspeechother": 0.01,
    "natospell": 0.01,
    "speechocean": 0.12,
    "speechoceannumbers": 0.10,
}
"""Share of the drawn real clips that comes from each set; few-speaker sets are held down."""
RHOTIC = {"asterisk": True, "callie": True, "asteriskau": False, "grid": False}
DEV_EVERY = 8
"""Every 8th training noise is held out for development."""


def may_train(licence: str) -> bool:
    """Say whether a licence lets a recording shape weights that ship."""
    plain = licence.upper().replace("_", "-")
    return "GPL" not in plain and "-NC" not in plain and "NONCOMMERCIAL" not in plain


def _rows(table: Path) -> list[dict[str, str]]:
    with table.open(encoding="utf-8") as file:
        return list(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))


def _audio(folder: Path, rows: list[dict[str, str]]) -> Iterator[tuple[dict[str, str], np.ndarray]]:
    import soundfile

    name, whole, rate = "", np.zeros(0, np.int16), 0
    for row in rows:
        if row["file"] != name:
            whole, rate = soundfile.read(folder / row["file"], dtype="int16")
            name = row["file"]
        piece = whole[int(row["start"]) : int(row["start"]) + int(row["n"])]
        yield row, to_16k(piece, rate) if rate != RATE else piece


MANY = 20
"""A set with so many speakers can lose some of them and still be itself."""


def some_speakers(rows: list[dict[str, str]], part: float) -> list[dict[str, str]]:
    """Keep the clips of about `part` of the speakers, by a hash of their names, in sets with MANY speakers or more."""
    speakers: dict[str, set[str]] = {}
    for row in rows:
        speakers.setdefault(row["set"], set()).add(row["speaker"])
    return [r for r in rows if len(speakers[r["set"]]) < MANY or crc32(r["speaker"].encode()) < part * 2**32]


def recordings(
    folder: Path, split: str = "train", without: Collection[str] = (), part: float = 1.0
) -> tuple[np.ndarray, list[Utterance], list[str]]:
    """Read the clips that may be trained on: samples, utterances, and the set of each utterance."""
    parts: list[np.ndarray] = []
    rows: list[Utterance] = []
    sets: list[str] = []
    total = 0
    wanted = [
        r
        for r in _rows(folder / "manifest.tsv")
        if r["split"] == split and r["set"] in SHARES and r["set"] not in without and may_train(r["licence"])
    ]
    wanted = some_speakers(wanted, part)
    for row, samples in _audio(folder, wanted):
        words = GARBAGE if row["text"] == "?" else " ".join(row["text"].lower().split())
        if not 1600 <= len(samples) <= 11 * RATE:
            continue
        rows.append(
            Utterance(
                total, len(samples), words, f"{row['set']}:{row['speaker']}", None, RHOTIC.get(row["set"]), rms(samples)
            )
        )
        parts.append(samples)
        sets.append(row["set"])
        total += len(samples)
    return np.concatenate(parts), rows, sets


def noises(folder: Path) -> tuple[list[np.ndarray], list[np.ndarray]]:
    """Read the training noises that may be used: (for training, held out for development)."""
    wanted = [r for r in _rows(folder / "noise.tsv") if r["split"] == "train" and may_train(r["licence"])]
    clips = [samples for _, samples in _audio(folder, wanted)]
    return ([c for i, c in enumerate(clips) if i % DEV_EVERY], clips[::DEV_EVERY])


def trim_span(samples: np.ndarray, margin: float = 0.05) -> tuple[int, int]:
    """Find the spoken part of a short clip by 10 ms energies: (offset, length) in samples."""
    count = len(samples) // 160
    if count < 12:
        return 0, len(samples)
    frames = samples[: count * 160].reshape(count, 160).astype(np.float32)
    level = 10 * np.log10(frames.var(1) + 1)
    threshold = min(max(level.max() - 30, np.percentile(level, 10) + 8), level.max() - 6)
    loud = np.flatnonzero(level > threshold)
    start = max(0, int((loud[0] * 0.01 - margin) * RATE))
    end = min(len(samples), int((loud[-1] * 0.01 + 0.01 + margin) * RATE))
    return start, end - start
