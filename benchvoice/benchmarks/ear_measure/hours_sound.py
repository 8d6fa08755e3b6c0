"""Hours of a shop in which nobody speaks to the assistant: other people talk, rooms answer, machines run.

Made from recordings as it is asked for, the same for the same seed. What stands behind it is counted, because hours
mixed from few voices are worth less than they look.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from .sound import RATE, Clip, Sound, load, read_table

TAPE_S = 20
"""Sound is made in stretches of this length, each with its own noise."""
NOISE_ONLY, SPEECH_ONLY = 0.15, 0.2
"""Shares of the stretches in which nobody talks, and in which nothing but talk is heard."""
RATIO_DB = (-5.0, 20.0)
"""Talk over noise: from drowned to plain."""
SPEECH_DBFS = (-42.0, -14.0)
"""Level of the talk: from across the shop to beside the microphone."""
PAUSE_S = (0.2, 4.0)
ROOMY = 0.8
"""The share of the talk that comes through a room; the rest is as it was recorded, close to a microphone."""


def read_rooms(folder: Path, split: str) -> list[Sound]:
    """Room responses of a split, of unit energy; none where the folder has none. "dev" takes the training ones."""
    table = folder / "rir.tsv"
    if not table.is_file():
        return []
    rows = [row for row in read_table(table) if row["split"] == ("train" if split == "dev" else split)]
    return [room / float(np.sqrt((room.astype(np.float64) ** 2).sum() + 1e-9)) for room in load(folder, rows)]


@dataclass
class Shop:
    """An endless tape of other people's speech in rooms and noise."""

    talk: Sequence[Clip]
    noises: Sequence[Sound]
    rooms: Sequence[Sound]
    seed: int = 1
    voices: set[str] = field(default_factory=set)
    """Speakers that were heard so far …"""
    noises_used: set[int] = field(default_factory=set)
    rooms_used: set[int] = field(default_factory=set)
    speech_s: float = 0.0
    """… and how long they spoke, pauses between them left out."""

    def tape(self) -> Iterator[Sound]:
        """Stretch after stretch at int16 scale, without end."""
        r = random.Random(self.seed)
        order: list[Clip] = []
        while True:
            kind = r.random() if self.noises and self.talk else (0.0 if self.noises else 1.0)
            sound = np.zeros(TAPE_S * RATE, np.float32)
            level = 32768 * 10 ** (r.uniform(*SPEECH_DBFS) / 20)
            if kind >= NOISE_ONLY:
                self._talk(sound, order, level, r)
            if self.noises and kind < 1 - SPEECH_ONLY:
                ratio = r.uniform(*RATIO_DB)
                sound += self._noise(r) * level * 10 ** (-ratio / 20)
            yield sound

    def _talk(self, sound: Sound, order: list[Clip], level: float, r: random.Random) -> None:
        """Speakers in turn over the stretch, each clip once before any is heard again."""
        at = int(RATE * r.uniform(*PAUSE_S))
        while True:
            if not order:
                order.extend(self.talk)
                r.shuffle(order)
            clip = order.pop()
            piece = _at_level(self._in_room(clip.sound, r), level)
            if at + RATE // 2 > len(sound):
                order.append(clip)
                return
            piece = piece[: len(sound) - at]
            sound[at : at + len(piece)] += piece
            self.voices.add(clip.speaker)
            self.speech_s += len(piece) / RATE
            at += len(piece) + int(RATE * r.uniform(*PAUSE_S))

    def _in_room(self, sound: Sound, r: random.Random) -> Sound:
        if not self.rooms or r.random() > ROOMY:
            return sound
        number = r.randrange(len(self.rooms))
        self.rooms_used.add(number)
        room = self.rooms[number]
        size = 1 << (len(sound) + len(room)).bit_length()
        mixed = np.fft.irfft(np.fft.rfft(sound, size) * np.fft.rfft(room, size), size)
        return np.asarray(mixed[: len(sound) + len(room) // 2], np.float32)

    def _noise(self, r: random.Random) -> Sound:
        number = r.randrange(len(self.noises))
        self.noises_used.add(number)
        noise, length = self.noises[number], TAPE_S * RATE
        start = r.randrange(max(1, len(noise)))
        piece = np.resize(np.roll(noise, -start), length)
        return np.asarray(piece / (np.sqrt((piece.astype(np.float64) ** 2).mean()) + 1e-6), np.float32)


def _at_level(sound: Sound, level: float) -> Sound:
    """Scaled so that the louder half of its 20 ms frames has this level."""
    energy = np.sort(np.add.reduceat(sound.astype(np.float64) ** 2, np.arange(0, len(sound), 320))) / 320
    loud = np.sqrt(energy[len(energy) // 2 :].mean() + 1e-9)
    return np.asarray(sound * (level / loud), np.float32)
