"""What the assistant says, as sound in a room: a tone where one goes with it, then the words."""

import sys
from dataclasses import replace

from benchvoice.room import Room
from benchvoice.session.effects import Adjust, Hush, Say, ToneAlone
from benchvoice.voice import RATES, Tone, Voice, tone

_TONES = {
    "heard": Tone.HEARD,
    "not heard": Tone.NOT_HEARD,
    "out of limits": Tone.OVER,
    "window": Tone.WINDOW_ENDING,
}
_RATE_STEP = 20
_LOUDNESS_STEP = 0.15


class Speaker:
    """Speaks prompts in a room, one after the other, and prints them as they begin."""

    def __init__(self, room: Room, voice: Voice | None = None, *, show: bool = True) -> None:
        self._room = room
        self._voice = voice or Voice()
        self._show = show

    def say(self, said: Say | ToneAlone) -> None:
        """Speak, or sound a tone; returns when the last of it was heard."""
        if self._show:
            print(f"B: {said.text}", flush=True)
        if said.tone is not None:
            sound = tone(_TONES[said.tone], loudness=self._voice.loudness / 2)
            self._room.play(sound.samples, sound.rate)
        if isinstance(said, Say):
            sound = self._voice.say_to_buffer(said.text)
            self._room.play(sound.samples, sound.rate)

    def adjust(self, what: Adjust | Hush) -> None:
        """Slower, faster, quieter, louder; or silence."""
        if isinstance(what, Hush):
            self._room.stop()
            return
        voice = self._voice
        match what.what:
            case "slower":
                self._voice = replace(voice, rate=max(RATES[0], voice.rate - _RATE_STEP))
            case "faster":
                self._voice = replace(voice, rate=min(RATES[-1], voice.rate + _RATE_STEP))
            case "quieter":
                self._voice = replace(voice, loudness=max(0.2, voice.loudness - _LOUDNESS_STEP))
            case "louder":
                self._voice = replace(voice, loudness=min(1.0, voice.loudness + _LOUDNESS_STEP))


def warn(text: str) -> None:
    """A remark beside the conversation, on standard error."""
    print(text, file=sys.stderr, flush=True)
