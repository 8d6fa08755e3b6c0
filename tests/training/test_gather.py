"""What a file's path tells of a recording; made up after the layouts that the corpora publish."""

import pytest
from gather import Described, described


@pytest.mark.parametrize(
    ("path", "told"),
    [
        ("data/one/0a7c2a8d_nohash_0.wav", Described("one", "gsc-0a7c2a8d", "CC-BY-4.0", "gsc")),
        ("x/_unknown_/bed_0a7c2a8d_nohash_1.wav", Described("bed", "gsc-0a7c2a8d", "CC-BY-4.0", "gscother")),
        ("recordings/3_someone_1.wav", Described("three", "fsdd-someone", "CC-BY-SA-4.0", "fsdd")),
        ("nato_spell/sounds/b.wav", Described("bravo", "natospell", "CC-BY-4.0", "natospell")),
        ("nato_spell/sounds/z.wav", Described("zulu", "natospell", "CC-BY-4.0", "natospell")),
        ("nato_spell/sounds/0.wav", Described("zero", "natospell", "CC-BY-4.0", "natospell")),
        ("speech_data/1630/1630-19-13.wav", None),
        ("speech_data/1630/1630-03-11.wav", None),
        ("one/README.wav", None),
    ],
)
def test_what_a_path_tells(path: str, told: Described | None) -> None:
    assert described(path) == told


def test_students_keep_their_voice_and_not_their_number() -> None:
    english, chinese = described("speech_data/1630/1630-12-02.wav"), described("speech_data/1630/1630-03-10.wav")
    other = described("speech_data/1631/1631-12-02.wav")
    assert english is not None
    assert chinese is not None
    assert other is not None
    assert (english.word, chinese.word) == ("speech", "?")
    assert english.speaker == chinese.speaker != other.speaker
    assert "1630" not in english.speaker
