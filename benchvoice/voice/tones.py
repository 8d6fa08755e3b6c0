"""Short tones that say what happened before the words do, told apart by rhythm and by pitch.

All lie between 400 and 1600 Hz, where a loudspeaker on a bench and an ear that has known machinery both still work.
No two have the same rhythm, so that someone who doesn't hear pitch well, or hears through a grinder, still knows them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from benchvoice.voice.sound import Sound

RAMP_S = 0.005  # each note swells and fades this long: a sharp edge would click


class Tone(StrEnum):
    """What a tone says."""

    HEARD = "heard"
    NOT_HEARD = "not heard"
    OVER = "over"
    UNDER = "under"
    WINDOW_ENDING = "window ending"


@dataclass(frozen=True, slots=True)
class Note:
    """A sine of hz for ms milliseconds, then silence for gap_ms."""

    hz: int
    ms: int
    gap_ms: int = 0


NOTES: dict[Tone, tuple[Note, ...]] = {
    Tone.HEARD: (Note(1000, 70),),
    Tone.NOT_HEARD: (Note(500, 130, 60), Note(400, 130)),
    Tone.OVER: (Note(700, 70, 40), Note(900, 70, 40), Note(1200, 200)),
    Tone.UNDER: (Note(900, 200, 40), Note(700, 70, 40), Note(500, 70)),
    Tone.WINDOW_ENDING: tuple(Note(1500, 60, 60) for _ in range(5)),
}
"""One note: heard. Two falling: say it again. Three rising to a long one: over. Three falling from a long one: under.
Five quick and high: time is running out."""


def tone(kind: Tone, rate: int = 22050, loudness: float = 0.4) -> Sound:
    """The sound of a tone; loudness is the sine's peak as a share of full scale."""
    parts = [part for note in NOTES[kind] for part in _sounded(note, rate)]
    samples = np.concatenate(parts) * loudness * np.iinfo(np.int16).max
    return Sound(np.round(samples).astype(np.int16), rate)


def _sounded(note: Note, rate: int) -> Sequence[np.ndarray[tuple[int], np.dtype[np.float64]]]:
    """The note at full amplitude with its ramps, and its gap."""
    count = rate * note.ms // 1000
    sine = np.sin(2 * np.pi * note.hz * np.arange(count) / rate)
    ramp = int(RAMP_S * rate)
    swell = np.sin(np.linspace(0, np.pi / 2, ramp)) ** 2
    sine[:ramp] *= swell
    sine[-ramp:] *= swell[::-1]
    return sine, np.zeros(rate * note.gap_ms // 1000)
