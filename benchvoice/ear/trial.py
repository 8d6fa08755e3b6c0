"""Loads a vosk model and decodes a tenth of a second of silence: `python -m benchvoice.ear.trial FOLDER`.

Run in a process of its own on models that were not packed here, because the C code may end the process.
"""

from __future__ import annotations

import sys


def main(folder: str) -> None:
    import vosk

    vosk.SetLogLevel(-1)
    recogniser = vosk.KaldiRecognizer(vosk.Model(folder), 16000)
    recogniser.AcceptWaveform(bytes(3200))
    recogniser.FinalResult()


if __name__ == "__main__":
    main(sys.argv[1])
