"""The espeak-ng library as the package espeakng-loader carries it, bound with ctypes.

pyttsx3 has a binding of its own, which looks for a library installed on the system and which starts it in a mode that
calls back on a foreign thread. This one loads the library and data of the wheel, on any platform that has one, and
starts it in its synchronous mode: sound comes back on the caller's thread before the call returns.

The library is one per process and keeps its settings (voice, rate, loudness) in global variables: whoever uses it
holds one lock (see `engine`).
"""

import atexit
import ctypes
import functools
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from benchvoice.errors import MachineError

_SYNCHRONOUS = 2  # AUDIO_OUTPUT_SYNCHRONOUS of speak_lib.h: no playing, call back on the calling thread
_BLOCK_MS = 100  # length of the blocks that it calls back with
_DONT_EXIT = 0x8000  # espeakINITIALIZE_DONT_EXIT: without it, missing data ends the whole process
_UTF8 = 1  # espeakCHARS_UTF8
_BY_CHARACTER = 1  # POS_CHARACTER
_IPA = 0x02  # phoneme_mode of espeak_TextToPhonemes: international phonetic alphabet
_LONGEST_PATH = 150  # bytes; espeak-ng keeps the path in char[160] and gives up silently beyond
_OK = 0

PARAMETERS = {"rate": 1, "volume": 2}
"""espeak_PARAMETER numbers of what we set: rate in words a minute, volume 0 to 100."""

_SynthCallback = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p)


class VoiceError(MachineError):
    """The voice can't be started or can't speak."""


class Library:
    """espeak-ng, started. Not safe for threads: the caller holds a lock."""

    def __init__(self, handle: ctypes.CDLL, rate: int, data: Path) -> None:
        self._handle = handle
        self.rate = rate
        self.data = data
        self._sink: Callable[[bytes], None] | None = None
        self._callback = _SynthCallback(self._on_synth)  # kept: the library holds only a bare pointer to it
        handle.espeak_SetSynthCallback(self._callback)

    def set_voice(self, name: str) -> None:
        """Choose a voice by its file's name and variant ("gmw/en-us+f3"); VoiceError where it isn't there."""
        if self._handle.espeak_SetVoiceByName(name.encode()) != _OK:
            raise VoiceError(f"The voice {name!r} isn't among the data of espeak-ng; choose another.")

    def set_parameter(self, name: str, value: int) -> None:
        """Set one of PARAMETERS."""
        if self._handle.espeak_SetParameter(PARAMETERS[name], value, 0) != _OK:
            raise VoiceError(f"espeak-ng refused {value} as its {name}.")

    def synthesise(self, text: str) -> bytes:
        """Speak text into memory: int16 samples at `rate`. The text ends at its first NUL."""
        blocks: list[bytes] = []
        self._sink = blocks.append
        encoded = text.encode()
        try:
            size = ctypes.c_size_t(len(encoded) + 1)
            result = self._handle.espeak_Synth(encoded, size, 0, _BY_CHARACTER, 0, _UTF8, None, None)
        finally:
            self._sink = None
        if result != _OK:
            raise VoiceError(f"espeak-ng could not speak (its code {result}).")
        return b"".join(blocks)

    def phonemes(self, text: str) -> str:
        """How the present voice pronounces text, in the international phonetic alphabet, clauses split by |."""
        # the line's end: without it this function (not speaking itself) reads past the text, and says 4 as "forty"
        rest = ctypes.c_char_p(f"{text}\n".encode())
        clauses = []
        while rest.value:
            clauses.append(self._handle.espeak_TextToPhonemes(ctypes.byref(rest), _UTF8, _IPA) or b"")
        return " | ".join(clause.decode() for clause in clauses)

    def _on_synth(self, samples: int | None, count: int, _events: int | None) -> int:
        """Take one block. Must not raise: ctypes would only print the exception. 1 = stop speaking."""
        if self._sink is None:
            return 1
        if samples and count > 0:
            self._sink(ctypes.string_at(samples, 2 * count))
        return 0


@functools.cache
def open_library() -> Library:
    """Load and start espeak-ng, once in a process (it can't be started twice).

    Raises VoiceError, with the remedy, where the package, its library or its data is missing.
    """
    try:
        import espeakng_loader
    except ImportError as error:
        raise VoiceError("The voice needs the package espeakng-loader: pip install espeakng-loader") from error
    try:
        handle = ctypes.CDLL(espeakng_loader.get_library_path())
    except OSError as error:
        raise VoiceError(
            f"The voice's library can't be loaded ({error}); pip install --force-reinstall espeakng-loader"
        ) from error
    data = Path(espeakng_loader.get_data_path())
    _declare(handle)
    rate = handle.espeak_Initialize(_SYNCHRONOUS, _BLOCK_MS, os.fsencode(short_path(data)), _DONT_EXIT)
    if rate <= 0:
        raise VoiceError(f"The voice's data can't be read in {data}; pip install --force-reinstall espeakng-loader")
    return Library(handle, rate, data)


def short_path(data: Path) -> Path:
    """A path to the data folder that is short enough for espeak-ng: data itself, or a link (or copy) in a temp folder.

    Deep virtual environments go past the library's limit. The link lasts as long as the process, because voices are
    read from it later; a copy is made where links need rights that the user lacks (Windows).
    """
    if len(os.fsencode(data)) <= _LONGEST_PATH:
        return data
    folder = Path(tempfile.mkdtemp(prefix="voice"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    link = folder / data.name
    try:
        link.symlink_to(data.absolute(), target_is_directory=True)
    except OSError:
        shutil.copytree(data, link)
    if len(os.fsencode(link)) > _LONGEST_PATH:
        raise VoiceError(
            f"The temporary folder's path is too long for the voice ({folder}); set TMPDIR to a short one."
        )
    return link


def _declare(handle: Any) -> None:
    """Tell ctypes the prototypes of speak_lib.h that we use; without them 64-bit pointers would be cut."""
    c_char_p, c_int, c_uint, c_void_p = ctypes.c_char_p, ctypes.c_int, ctypes.c_uint, ctypes.c_void_p
    handle.espeak_Initialize.argtypes = [c_int, c_int, c_char_p, c_int]
    handle.espeak_SetSynthCallback.argtypes = [_SynthCallback]
    handle.espeak_SetSynthCallback.restype = None
    handle.espeak_SetVoiceByName.argtypes = [c_char_p]
    handle.espeak_SetParameter.argtypes = [c_int, c_int, c_int]
    handle.espeak_Synth.argtypes = [c_char_p, ctypes.c_size_t, c_uint, c_int, c_uint, c_uint, c_void_p, c_void_p]
    handle.espeak_TextToPhonemes.argtypes = [ctypes.POINTER(c_char_p), c_int, c_int]
    handle.espeak_TextToPhonemes.restype = c_char_p
