"""Test sound: clips from a manifest, strings joined from one speaker's clips, noises, mixtures.

A manifest is a tab-separated table with a header; the columns `file`, `text`, `speaker`, `set` and `split` are needed,
`start`, `n` and `rate` (a piece of a longer file, in samples) are heeded where they stand. A text of "?" is speech that
nobody wrote down. Files lie in the manifest's folder.
"""

from __future__ import annotations

import csv
import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from benchvoice.errors import InputError

RATE = 16_000
Sound = NDArray[np.float32]

HELD_OUT_EVERY = 8
"""Training leaves every 8th of its noises for development (see models/training/recordings.py)."""


@dataclass(frozen=True, slots=True)
class Clip:
    """One utterance at int16 scale, and what is known of it."""

    text: str
    speaker: str
    group: str
    """Its set; strings joined from a set's clips have "+" after it."""
    sound: Sound

    @property
    def words(self) -> list[str]:
        return self.text.split()


def read_table(path: Path) -> list[dict[str, str]]:
    try:
        with path.open(encoding="utf-8") as file:
            return list(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))
    except OSError as fault:
        raise InputError(
            f"{path} can't be read ({fault.strerror}); name a folder or a manifest of recordings."
        ) from fault


def load(folder: Path, rows: Sequence[dict[str, str]]) -> list[Sound]:
    """The sounds of manifest lines, at RATE, one file after another."""
    import soundfile
    import soxr

    sounds: list[Sound] = []
    name, whole, rate = "", np.zeros(0, np.float32), RATE
    for row in rows:
        if row["file"] != name:
            whole, rate = soundfile.read(str(folder / row["file"]), dtype="float32")
            whole = whole.mean(axis=1) if whole.ndim > 1 else whole
            name = row["file"]
        start = int(row.get("start") or 0)
        piece = whole[start : start + int(row["n"])] if row.get("n") else whole[start:]
        sounds.append(np.asarray(soxr.resample(piece, rate, RATE) if rate != RATE else piece, np.float32) * 32767)
    return sounds


def read_clips(manifest: Path, split: str, wanted: Iterable[str] = ()) -> list[Clip]:
    """The clips of a split ("all" for every one), of the wanted sets or all."""
    sets = set(wanted)
    rows = [r for r in read_table(manifest) if split in ("all", r["split"]) and (not sets or r["set"] in sets)]
    rows.sort(key=lambda r: r["file"])
    return [
        Clip(" ".join(r["text"].lower().split()), r["speaker"], r["set"], sound)
        for r, sound in zip(rows, load(manifest.parent, rows), strict=True)
    ]


def read_noises(folder: Path, split: str) -> list[Sound]:
    """Noises that training never used: of the test sources, or for dev the held-out part of the training ones."""
    table = folder / "noise.tsv"
    if not table.is_file():
        return []
    rows = [r for r in read_table(table) if r["split"] == ("train" if split == "dev" else split)]
    if split == "dev":
        rows = [r for r in rows if "GPL" not in r["licence"].upper()][::HELD_OUT_EVERY]
    return load(folder, rows)


def trimmed(sound: Sound) -> Sound:
    """Without the quiet at the ends."""
    frames = np.sqrt(np.add.reduceat(sound**2, np.arange(0, len(sound), 160)) / 160)
    loud = np.flatnonzero(frames > 0.02 * np.sort(frames)[-5:].mean())
    return sound[max(0, (int(loud[0]) - 6) * 160) : (int(loud[-1]) + 8) * 160] if len(loud) else sound


def joined(clips: Sequence[Clip], count: int, seed: int = 2) -> list[Clip]:
    """Strings of 2 to 6 single-word clips of one speaker, 30 to 180 ms apart; speakers of 5 clips or more, in turn."""
    by_speaker: dict[str, list[Clip]] = {}
    for clip in clips:
        if len(clip.words) == 1:
            by_speaker.setdefault(clip.speaker, []).append(clip)
    speakers = sorted(s for s, own in by_speaker.items() if len(own) >= 5)
    r = random.Random(seed)
    strings = []
    for number in range(count if speakers else 0):
        own = by_speaker[speakers[number % len(speakers)]]
        chosen = [r.choice(own) for _ in range(r.randint(2, 6))]
        parts: list[Sound] = []
        for clip in chosen:
            parts += [trimmed(clip.sound), np.zeros(int(RATE * r.uniform(0.03, 0.18)), np.float32)]
        sound = np.concatenate([np.zeros(4800, np.float32), *parts, np.zeros(4800, np.float32)])
        text = " ".join(clip.text for clip in chosen)
        strings.append(Clip(text, chosen[0].speaker, chosen[0].group + "+", sound))
    return strings


def with_noise(clip: Clip, noises: Sequence[Sound], ratio_db: float, seed: int) -> Clip:
    """The clip in a piece of noise, the ratio taken to the louder half of its 20 ms frames."""
    r = random.Random(seed)
    noise = r.choice(noises)
    length = len(clip.sound)
    noise = np.tile(noise, -(-length // len(noise)) + 1)
    start = r.randrange(len(noise) - length + 1)
    noise = noise[start : start + length]
    energy = np.sort(np.add.reduceat(clip.sound.astype(np.float64) ** 2, np.arange(0, length, 320)))
    speech = energy[len(energy) // 2 :].mean() / 320 + 1e-9
    gain = np.sqrt(speech / ((noise.astype(np.float64) ** 2).mean() + 1e-9) / 10 ** (ratio_db / 10))
    return replace(clip, sound=(clip.sound + noise * gain).astype(np.float32))


def to_samples(sound: Sound) -> NDArray[np.int16]:
    return np.clip(np.rint(sound), -32768, 32767).astype(np.int16)
