"""Shards: what synthesis and the packed recordings have in common.

A shard is NAME.npy (int16, 16 kHz, utterances one after another) and NAME.json, a list of
[start, length, words, speaker, pronunciations or null, rhotic or null, level]. The json is written
last and by renaming, so a shard that can be seen is whole: training may read while synthesis writes.
"""

import json
import os
from dataclasses import dataclass
from pathlib import Path

import numpy as np

RATE = 16_000


@dataclass(slots=True)
class Utterance:
    """One clip: samples start..start+length of its array, what is said, and who says it."""

    start: int
    length: int
    words: str
    speaker: str
    pronunciations: list[str] | None = None
    """The very phones spoken, a string a word, when the synthesiser was given phones."""
    rhotic: bool | None = None
    """Whether the accent sounds its r; None when not known."""
    level: float = 1.0
    """Root mean square of the samples."""


def rms(samples: np.ndarray) -> float:
    """Root mean square, never under 3 (digital silence would otherwise be blown up)."""
    return max(3.0, float(np.sqrt(np.mean(samples.astype(np.float32) ** 2))))


def trim(samples: np.ndarray, threshold: int = 60, keep: int = 800) -> np.ndarray:
    """Cut the synthesiser's silence at both ends, leaving `keep` samples."""
    loud = np.flatnonzero(np.abs(samples) > threshold)
    return samples[max(0, loud[0] - keep) : loud[-1] + keep] if len(loud) else samples[:0]


def to_16k(samples: np.ndarray, rate: int) -> np.ndarray:
    """Resample int16 or float (full scale 32768) samples to 16 kHz int16."""
    if rate != RATE:
        from math import gcd

        from scipy.signal import resample_poly

        g = gcd(RATE, rate)
        samples = resample_poly(np.asarray(samples, np.float32), RATE // g, rate // g)
    return np.clip(np.round(samples), -32768, 32767).astype(np.int16)


class ShardWriter:
    """Collects utterances and writes them as numbered shards of about `seconds` each."""

    def __init__(self, folder: Path, name: str, seconds: float = 240.0, max_seconds: float = 11.0) -> None:
        self.folder, self.name, self.limit, self.max_length = folder, name, int(seconds * RATE), int(max_seconds * RATE)
        self.parts: list[np.ndarray] = []
        self.rows: list[list[object]] = []
        self.total, self.number = 0, 0

    def add(
        self,
        samples: np.ndarray,
        words: str,
        speaker: str,
        pronunciations: list[str] | None = None,
        rhotic: bool | None = None,
    ) -> None:
        if not 1600 <= len(samples) <= self.max_length:
            return
        self.rows.append([self.total, len(samples), words, speaker, pronunciations, rhotic, rms(samples)])
        self.parts.append(samples)
        self.total += len(samples)
        if self.total >= self.limit:
            self.flush()

    def flush(self) -> None:
        if not self.rows:
            return
        base = self.folder / f"{self.name}_{self.number:04d}"
        np.save(base.with_suffix(".npy"), np.concatenate(self.parts))
        draft = base.with_suffix(".tmp")
        draft.write_text(json.dumps(self.rows))
        os.replace(draft, base.with_suffix(".json"))
        self.parts, self.rows, self.total, self.number = [], [], 0, self.number + 1


def read_shard(index: Path) -> tuple[np.ndarray, list[Utterance]]:
    """Read one shard by its json file."""
    return np.load(index.with_suffix(".npy")), [Utterance(*row) for row in json.loads(index.read_text())]
