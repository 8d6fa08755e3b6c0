"""What is heard in the room of what the session wants said."""

import pytest

from benchvoice.app.speaker import Speaker
from benchvoice.room import NullRoom, Samples
from benchvoice.session.effects import ToneAlone
from benchvoice.voice import Tone, Voice, tone


class Recorded(NullRoom):
    """Keeps what is played in it."""

    def __init__(self) -> None:
        super().__init__()
        self.played: list[tuple[list[int], int]] = []

    def play(self, samples: Samples, rate: int) -> None:
        self.played.append((samples.tolist(), rate))


def test_a_tone_alone_is_sounded_with_no_words(capsys: pytest.CaptureFixture[str]) -> None:
    room, voice = Recorded(), Voice()
    Speaker(room, voice).say(ToneAlone("not heard"))
    wanted = tone(Tone.NOT_HEARD, loudness=voice.loudness / 2)
    assert room.played == [(wanted.samples.tolist(), wanted.rate)]
    assert capsys.readouterr().out == "B: (tone)\n"
