# ruff: noqa: N802
"""A pyttsx3 driver that synthesises into memory, in place of pyttsx3's own driver for espeak-ng.

pyttsx3 2.99's own driver does only the last of several queued prompts, returns before the sound exists, plays through
a system command and can hang for ever. This one does everything before it returns: each prompt's sound is handed over
as a notification "sound" (samples: bytes, int16 at rate), and a failure as pyttsx3's notification "error".

pyttsx3 finds drivers by module name in its own package; `register` puts this module there. The names in camel case are
pyttsx3's driver interface.
"""

import sys
from typing import Any

from benchvoice.voice.library import Library, open_library

NAME = "benchvoice"


def register() -> None:
    """Make this module known to pyttsx3 as the driver NAME."""
    sys.modules[f"pyttsx3.drivers.{NAME}"] = sys.modules[__name__]


def buildDriver(proxy: Any) -> "BufferDriver":
    """pyttsx3's entry point to a driver module."""
    return BufferDriver(proxy, open_library())


class BufferDriver:
    """One prompt at a time, each whole and synchronous."""

    def __init__(self, proxy: Any, library: Library) -> None:
        self._proxy = proxy
        self._library = library
        self._properties: dict[str, object] = {}

    def say(self, text: str) -> None:
        """Synthesise text and notify "sound"; exceptions become pyttsx3's "error"."""
        self._proxy.setBusy(True)
        self._proxy.notify("started-utterance")
        completed = False
        try:
            samples = self._library.synthesise(text)
            self._proxy.notify("sound", samples=samples, rate=self._library.rate)
            completed = True
        finally:
            self._proxy.notify("finished-utterance", completed=completed)
            self._proxy.setBusy(False)

    def getProperty(self, name: str) -> object:
        """The value last set; KeyError for one that was never set."""
        return self._properties[name]

    def setProperty(self, name: str, value: Any) -> None:
        """Set "voice" (espeak-ng's name), "rate" (words a minute) or "volume" (0 to 1)."""
        if self._properties.get(name) == value:
            return
        if name == "voice":
            self._library.set_voice(value)
        elif name == "rate":
            self._library.set_parameter("rate", value)
        elif name == "volume":
            self._library.set_parameter("volume", round(100 * value))
        else:
            raise KeyError(f"unknown property {name}")
        self._properties[name] = value

    def save_to_file(self, text: str, filename: str) -> None:
        """Refused: sound goes to memory, and writing it is the caller's business."""
        raise NotImplementedError("this driver synthesises into memory only")

    def startLoop(self) -> None:
        """Let pyttsx3 work its queue off and return: waiting in a loop here hangs with pyttsx3 2.99."""
        self._proxy.setBusy(False)

    def endLoop(self) -> None:
        """Nothing is left to end."""

    def stop(self) -> None:
        """Nothing goes on that could be stopped."""

    def destroy(self) -> None:
        """The library stays for the process: it can't be started twice."""
