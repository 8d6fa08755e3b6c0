"""What a file's path tells of a recording; made up after the layouts that the corpora publish."""

import pytest
from gather import SENTENCES, Described, described, split_of, with_words


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


def test_sentences_take_their_words_from_the_table_numbers_first_and_not_too_many() -> None:
    paths = [f"WAVE/SPEAKER0010/{number:09d}.WAV" for number in range(SENTENCES + 5)]
    told = {f"{number:09d}": "MARK HAS TWO HATS" for number in range(1, SENTENCES + 5)}
    told[f"{SENTENCES + 4:09d}"] = "TWO OH SEVEN NINE"
    found = {path: each for path in paths if (each := described(path)) is not None}
    chosen = with_words(found, told)
    assert len(chosen) == SENTENCES
    assert paths[0] not in chosen  # the table does not tell it
    last = chosen[paths[-1]]
    assert (last.word, last.set, last.speaker) == ("two oh seven nine", "speechoceannumbers", "speechocean-0010")
    assert chosen[paths[1]].set == "speechocean"
    assert split_of(last) == "dev"
    one = described("WAVE/SPEAKER0011/000110001.WAV")
    assert one is not None
    assert split_of(one) == "train"


def test_words_known_by_their_paths_need_no_table() -> None:
    path = "data/one/0a7c2a8d_nohash_0.wav"
    found = {path: described(path)}
    assert with_words({p: f for p, f in found.items() if f is not None}, {}) == found
