"""The voice: text to sound in memory, through pyttsx3 with our own driver.

Synthesis takes some milliseconds a prompt, so that there is neither a cache nor a thread here. The sound of the same
text differs a little from call to call (espeak-ng keeps the phase of its own noise), so never compare it byte by byte.
"""

import functools
import re
import threading
from dataclasses import dataclass
from typing import Any

import numpy as np

from benchvoice.errors import InputError
from benchvoice.voice.library import VoiceError, open_library
from benchvoice.voice.sound import Sound
from benchvoice.voice.spelling import for_voice

RATES = range(80, 451)
"""Words a minute that espeak-ng can speak; 150 to 170 suits a noisy bench."""

ACCENTS = {
    "en-us": "gmw/en-us",
    "en-gb": "gmw/en",
    "en-gb-scotland": "gmw/en-gb-scotland",
    "en-gb-x-rp": "gmw/en-gb-x-rp",
}
"""Our names of the English accents, and the files of espeak-ng's data (it doesn't know "en-gb" by that name)."""

_lock = threading.RLock()  # one library, one set of global settings: settings and speaking go together


class UnknownVoice(InputError):
    """A voice, rate or loudness was asked for that doesn't exist."""


@dataclass(frozen=True, slots=True)
class Voice:
    """One way of speaking. Making one starts the library, so that what is missing is found before the first prompt.

    name: an accent, and after "+" a variant of the speaker ("en-gb+f3"); rate: words a minute; loudness: 0 to 1, where
    1 peaks some 3 dB under full scale (some variants clip there). Several voices may be used side by side and from any
    thread.
    Raises VoiceError where the library is missing, UnknownVoice for what it doesn't have.
    """

    name: str = "en-us"
    rate: int = 160
    loudness: float = 0.8

    def __post_init__(self) -> None:
        if self.rate not in RATES:
            raise UnknownVoice(f"The voice can't speak {self.rate} words a minute; choose {RATES[0]} to {RATES[-1]}.")
        if not 0 <= self.loudness <= 1:
            raise UnknownVoice(f"The loudness {self.loudness} isn't between 0 and 1.")
        _file_of(self.name)
        with _lock:
            _engine()

    def say_to_buffer(self, text: str) -> Sound:
        """Speak text, written as for people (see `spelling`), into memory; text without words gives no samples."""
        words = for_voice(text)
        if not words:
            return Sound(np.zeros(0, np.int16), open_library().rate)
        with _lock:
            engine = _engine()
            engine.set(voice=_file_of(self.name), rate=self.rate, volume=self.loudness)
            return engine.speak(words)


def phonemes(text: str, voice: str = "en-us") -> str:
    """How the voice would pronounce text exactly as given, in the international phonetic alphabet."""
    with _lock:
        _engine().set(voice=_file_of(voice))
        return open_library().phonemes(text)


def variants() -> list[str]:
    """Names that may follow the "+" of a voice's name."""
    return sorted(path.name for path in (open_library().data / "voices" / "!v").iterdir())


@functools.cache
def _file_of(name: str) -> str:
    """espeak-ng's name for a voice; UnknownVoice where it has none (it takes unknown variants in silence itself)."""
    accent, plus, variant = name.partition("+")
    if accent not in ACCENTS:
        raise UnknownVoice(f"There is no voice {name!r}; choose {', '.join(ACCENTS)}, with or without a +variant.")
    if plus and (not re.fullmatch(r"[A-Za-z0-9 ]+", variant) or variant not in variants()):
        raise UnknownVoice(f"There is no variant {variant!r} of a voice; choose one of {', '.join(variants())}.")
    return ACCENTS[accent] + plus + variant


class _Engine:
    """pyttsx3's engine over our driver, with what it notifies gathered. Its caller holds the lock."""

    def __init__(self) -> None:
        open_library()  # first: pyttsx3 would turn its errors into others
        try:
            import pyttsx3
        except ImportError as error:
            raise VoiceError("The voice needs the package pyttsx3: pip install pyttsx3") from error
        from benchvoice.voice import driver

        driver.register()
        self._sounds: list[Sound] = []
        self._errors: list[Exception] = []
        self._engine: Any = pyttsx3.init(driver.NAME)
        self._engine.connect("sound", self._on_sound)
        self._engine.connect("error", self._on_error)

    def set(self, **properties: object) -> None:
        """Set properties of the driver; raises what the driver raised."""
        for name, value in properties.items():
            self._engine.setProperty(name, value)
        self._run()

    def speak(self, text: str) -> Sound:
        """Synthesise one prompt."""
        self._sounds.clear()
        self._engine.say(text)
        self._run()
        if len(self._sounds) != 1:
            raise VoiceError(f"The voice gave {len(self._sounds)} sounds for one prompt.")
        return self._sounds.pop()

    def _run(self) -> None:
        self._engine.runAndWait()
        if self._errors:
            error = self._errors[0]
            self._errors.clear()
            raise error

    def _on_sound(self, name: str | None, samples: bytes, rate: int) -> None:
        self._sounds.append(Sound(np.frombuffer(samples, dtype="<i2").astype(np.int16, copy=False), rate))

    def _on_error(self, name: str | None, exception: Exception) -> None:
        self._errors.append(exception)


@functools.cache
def _engine() -> _Engine:
    return _Engine()
