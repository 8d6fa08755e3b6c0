"""Rooms on a virtual clock: the file waits while the assistant speaks, and the conversation can be kept."""

import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.errors import InputError, MachineError
from benchvoice.room import BLOCK, RATE, PersonRoom, Room, RoomError, Samples, VirtualRoom, WavRoom, read_sound

PERSON = np.arange(1, 1001, dtype=np.int16)


def written(path: Path, samples: Samples, rate: int = RATE, **settings: str) -> Path:
    soundfile.write(path, samples, rate, **settings)
    return path


def heard(room: Room) -> list[int]:
    return np.frombuffer(b"".join(room.blocks()), "<i2").tolist()


def test_hears_the_file_in_blocks_and_then_its_end(tmp_path: Path) -> None:
    room = WavRoom(written(tmp_path / "person.wav", PERSON))
    blocks = list(room.blocks())
    assert {len(block) for block in blocks} == {2 * BLOCK}
    assert np.frombuffer(b"".join(blocks), "<i2").tolist() == [*PERSON.tolist(), *[0] * 280]
    assert list(room.blocks()) == []
    room.close()


def test_the_file_waits_while_the_assistant_speaks(tmp_path: Path) -> None:
    room = WavRoom(written(tmp_path / "person.wav", PERSON))
    first = next(room.blocks())
    room.play(np.full(22050, 5, np.int16), 22050)
    assert room.elapsed() == pytest.approx(1.02, abs=0.001)
    second = next(room.blocks())
    assert np.frombuffer(first + second, "<i2").tolist() == PERSON[: 2 * BLOCK].tolist()
    assert room.elapsed() == pytest.approx(1.04, abs=0.001)
    room.close()


def test_the_conversation_is_kept_in_its_order(tmp_path: Path) -> None:
    room = WavRoom(written(tmp_path / "person.wav", PERSON), conversation=tmp_path / "conversation.wav")
    next(room.blocks())
    room.play(np.full(100, -7, np.int16), RATE)
    list(room.blocks())
    room.close()
    room.close()
    with wave.open(str(tmp_path / "conversation.wav")) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE)
        samples = np.frombuffer(file.readframes(10**6), "<i2").tolist()
    assert samples == [*PERSON[:320].tolist(), *[-7] * 100, *PERSON[320:].tolist(), *[0] * 280]
    assert len(samples) / RATE == room.elapsed()


@pytest.mark.parametrize(
    ("suffix", "subtype"), [("wav", "PCM_16"), ("wav", "FLOAT"), ("wav", "PCM_24"), ("flac", "PCM_16")]
)
@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("rate", [16000, 44100])
def test_reads_what_recorders_write(tmp_path: Path, suffix: str, subtype: str, channels: int, rate: int) -> None:
    tone = 0.3 * np.sin(2 * np.pi * 440 * np.arange(rate) / rate)
    path = written(tmp_path / f"person.{suffix}", np.repeat(tone[:, None], channels, axis=1), rate, subtype=subtype)
    samples = read_sound(path)
    assert len(samples) == pytest.approx(RATE, abs=2)
    expected = 0.3 * 32767 * np.sin(2 * np.pi * 440 * np.arange(len(samples)) / RATE)
    assert np.corrcoef(samples[500:-500], expected[500:-500])[0, 1] > 0.9999
    assert np.abs(samples).max() == pytest.approx(0.3 * 32767, rel=0.05)


def test_an_empty_file_is_the_end_of_input(tmp_path: Path) -> None:
    room = WavRoom(written(tmp_path / "empty.wav", PERSON[:0]))
    assert list(room.blocks()) == []
    room.close()


@pytest.mark.parametrize(
    ("content", "words"),
    [(None, "there is no such file"), (b"not a sound", "isn't a sound file"), (b"", "isn't a sound file")],
)
def test_what_cannot_be_read_is_an_input_error_naming_the_file(
    tmp_path: Path, content: bytes | None, words: str
) -> None:
    path = tmp_path / "person.wav"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(RoomError, match=words) as caught:
        WavRoom(path)
    assert str(path) in str(caught.value)
    assert isinstance(caught.value, InputError)


def test_a_conversation_that_cannot_be_written_is_a_machine_error(tmp_path: Path) -> None:
    path = written(tmp_path / "person.wav", PERSON)
    with pytest.raises(MachineError, match="conversation can't be written"):
        WavRoom(path, conversation=tmp_path / "nowhere" / "conversation.wav")


def test_a_person_is_asked_only_when_listened_to() -> None:
    asked: list[str] = []
    answers: Iterator[Samples | None] = iter([PERSON[:500], PERSON[500:700], None])

    def answer() -> Samples | None:
        asked.append("asked")
        return next(answers)

    room = PersonRoom(answer)
    room.play(PERSON, RATE)
    assert asked == []
    next(room.blocks())
    assert asked == ["asked"]
    assert heard(room)[: 700 - BLOCK] == PERSON[BLOCK:700].tolist()
    assert len(asked) == 3


def test_a_closed_room_hears_nothing() -> None:
    room = PersonRoom(lambda: PERSON)
    blocks = room.blocks()
    next(blocks)
    room.stop()
    room.close()
    assert list(blocks) == []


@given(st.lists(st.integers(0, 1500), max_size=6), st.lists(st.booleans(), max_size=12))
def test_no_sample_is_lost_or_doubled_however_it_is_interrupted(lengths: list[int], prompts: list[bool]) -> None:
    whole = np.arange(1, sum(lengths) + 1).astype(np.int16)
    room = VirtualRoom(iter(np.split(whole, np.cumsum(lengths))))
    got: list[int] = []
    for prompt in prompts:
        if prompt:
            room.play(PERSON[:16], RATE)
        else:
            got += np.frombuffer(next(room.blocks(), b""), "<i2").tolist()
    got += heard(room)
    assert got[: len(whole)] == whole.tolist()
    assert not any(got[len(whole) :])
    assert room.elapsed() == pytest.approx((16 * sum(prompts) + len(got)) / RATE)
