"""The voice: text to sound in memory, and the tones that go with it. It plays nothing: see the package room."""

from benchvoice.voice.engine import RATES, UnknownVoice, Voice
from benchvoice.voice.library import VoiceError
from benchvoice.voice.sound import Samples, Sound
from benchvoice.voice.tones import Tone, tone

__all__ = ["RATES", "Samples", "Sound", "Tone", "UnknownVoice", "Voice", "VoiceError", "tone"]
