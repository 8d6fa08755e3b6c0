"""How espeak-ng would say a word: spelling to CMUdict's sounds, American and British.

espeak-ng keeps one global state in a process (voice, output, callbacks), and ends the whole process when its data
can't be found. So it is asked in a process of its own, which this module also is: `python -m benchvoice.ear.espeak`
reads a word a line and writes the word, the voice and the sounds with tabs between.
"""

from __future__ import annotations

import ctypes
import os
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from benchvoice.ear.lexicon import Lexicon, Pronunciation, merged
from benchvoice.errors import MachineError

VOICES = ("en-us", "en-gb-x-rp")  # American; British (received pronunciation)
TIMEOUT_S = 60

# International phonetic letters, as espeak-ng's English voices write them, and CMUdict's sounds (joined by +). American
# vowels with an r behind them come as one symbol; British ones that lost their r end in a schwa.
_TABLE = """
p:P b:B t:T d:D k:K ɡ:G g:G tʃ:CH dʒ:JH f:F v:V θ:TH ð:DH s:S z:Z ʃ:SH ʒ:ZH h:HH x:K ç:HH m:M n:N ŋ:NG l:L ɫ:L ɹ:R r:R
j:Y w:W ʍ:W ɾ:D ʔ:T ɬ:L n̩:AH+N m̩:AH+M l̩:AH+L əl:AH+L
iː:IY i:IY ɪ:IH ᵻ:IH e:EH ɛ:EH æ:AE a:AE ʌ:AH ə:AH ɐ:AH ɑː:AA ɑ:AA ɒ:AO ɔ:AO ɔː:AO oː:AO o:OW ʊ:UH uː:UW u:UW
ɜː:ER ɜ:ER ɚ:ER ɝ:ER eɪ:EY aɪ:AY ɔɪ:OY oʊ:OW əʊ:OW aʊ:AW
iə:IY+AH ɪə:IH+AH eə:EH+AH ɛə:EH+AH ʊə:UH+AH aɪə:AY+AH aʊə:AW+AH
ɑːɹ:AA+R ɔːɹ:AO+R oːɹ:AO+R ɪɹ:IH+R ɛɹ:EH+R ʊɹ:UH+R aɪɚ:AY+ER aɪɹ:AY+R aʊɚ:AW+ER iːɹ:IY+R ɜːɹ:ER æɹ:AE+R
"""
SOUNDS = {symbol: tuple(sounds.split("+")) for symbol, sounds in (entry.split(":") for entry in _TABLE.split())}
_STRESS = str.maketrans("", "", "ˈˌ\u0361\u200d ")
"""Marks of stress, and the ties that may join two letters of one sound."""


class SpellingError(MachineError):
    """espeak-ng can't be asked on this machine."""


def spelled(words: Iterable[str]) -> Lexicon:
    """Pronunciations of words from their spelling, American first. Words of which espeak-ng makes nothing are left out.

    Each word is lower-case letters (and apostrophes). SpellingError when espeak-ng can't be run.
    """
    asked = list(dict.fromkeys(words))
    if not asked:
        return {}
    command = [sys.executable, "-m", "benchvoice.ear.espeak"]
    environment = {**os.environ, "PYTHONUTF8": "1", "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    try:
        done = subprocess.run(
            command, input="\n".join(asked), capture_output=True, encoding="utf-8", env=environment, timeout=TIMEOUT_S
        )
    except (OSError, subprocess.TimeoutExpired) as fault:
        raise SpellingError(f"espeak-ng, which spells unknown words, can't be run: {fault}.") from fault
    if done.returncode != 0:
        last = (done.stderr.strip().splitlines() or ["it ended without a word"])[-1]
        raise SpellingError(
            f"espeak-ng, which spells unknown words, failed ({last}); reinstall the package espeakng-loader."
        )
    lines = [line.split("\t") for line in done.stdout.splitlines()]
    return merged(*({word: [tuple(sounds.split())]} for word, _, sounds in lines if sounds))


def to_sounds(phonemes: str) -> Pronunciation | None:
    """Sounds of espeak-ng's phonetic letters, which come with `_` between them; None where one isn't known.

    Two habits differ from CMUdict's and are evened out: an r written again after a vowel that already has one ("ɚ_ɹ"),
    and the short vowel that British voices put at the end of "very".
    """
    sounds: list[str] = []
    for symbol in filter(None, (symbol.translate(_STRESS) for symbol in phonemes.split("_"))):
        if symbol not in SOUNDS:
            return None
        if not (sounds[-1:] == ["ER"] and SOUNDS[symbol] == ("R",)):
            sounds.extend(SOUNDS[symbol])
    if len(sounds) > 1 and sounds[-1] == "IH":
        sounds[-1] = "IY"
    return tuple(sounds)


class _Espeak:
    """The C library, with only what is needed of `speak_lib.h` (API version 12)."""

    _SYNCHRONOUS = 2
    _DONT_EXIT = 0x8000
    _UTF8 = 1
    _IPA_WITH_BARS = 0x02 | ord("_") << 8

    def __init__(self) -> None:
        import espeakng_loader

        self._library = ctypes.CDLL(espeakng_loader.get_library_path())
        # A long data path (160 bytes) ends the process: go there and name it from here.
        os.chdir(Path(espeakng_loader.get_data_path()).parent)
        if self._library.espeak_Initialize(self._SYNCHRONOUS, 0, b".", self._DONT_EXIT) <= 0:
            raise SpellingError("its data folder can't be used")
        self._library.espeak_TextToPhonemes.restype = ctypes.c_char_p

    def phonemes(self, word: str, voice: str) -> str:
        if self._library.espeak_SetVoiceByName(voice.encode("ascii")) != 0:
            raise SpellingError(f"it has no voice {voice}")
        text = ctypes.c_char_p(word.encode("utf-8"))
        found = self._library.espeak_TextToPhonemes(ctypes.byref(text), self._UTF8, self._IPA_WITH_BARS)
        return str(found.decode("utf-8")) if found else ""


def _main() -> None:
    espeak = _Espeak()
    for word in sys.stdin.read().split():
        for voice in VOICES:
            sounds = to_sounds(espeak.phonemes(word, voice))
            if sounds:
                print(word, voice, " ".join(sounds), sep="\t")


if __name__ == "__main__":
    _main()
