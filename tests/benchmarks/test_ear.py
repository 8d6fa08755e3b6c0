"""The ear's benchmark: its bounds against published values, its counting, its mixing; decoding is in tests/ear."""

import numpy as np
import pytest

from benchvoice.benchmarks.ear import GRAMMAR, gather, main, noise_alone
from benchvoice.benchmarks.ear_measure.bounds import rate_bounds, share_bounds
from benchvoice.benchmarks.ear_measure.engines import Heard
from benchvoice.benchmarks.ear_measure.scores import Intrusions, Readings, Swaps, Words, edits
from benchvoice.benchmarks.ear_measure.sound import RATE, Clip, joined, read_clips, with_noise
from benchvoice.ear.confidence import Trust


def tone(seconds, level=1000.0):
    return (np.sin(np.arange(int(seconds * RATE)) / 9) * level).astype(np.float32)


def heard(words, trust=Trust.ACCEPT):
    return Heard(words.split(), trust, 0.0)


@pytest.mark.parametrize(
    ("k", "n", "low", "high"),
    [
        (0, 10, 0.0, 0.3085),  # 1 - 0.025 ** (1/10)
        (1, 10, 0.0025, 0.4450),  # tables of Clopper and Pearson, Biometrika 26 (1934)
        (5, 10, 0.1871, 0.8129),
        (10, 10, 0.6915, 1.0),
    ],
)
def test_share_bounds_are_clopper_and_pearsons(k, n, low, high):
    assert share_bounds(k, n) == pytest.approx((low, high), abs=1e-4)


@pytest.mark.parametrize(("k", "low", "high"), [(0, 0.0, 3.6889), (1, 0.0253, 5.5716), (10, 4.7954, 18.3904)])
def test_rate_bounds_are_garwoods(k, low, high):
    assert rate_bounds(k, 1.0) == pytest.approx((low, high), abs=1e-3)  # Garwood, Biometrika 28 (1936), table 1


def test_nothing_counted_bounds_nothing():
    assert share_bounds(0, 0) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("said", "found", "n"), [("one two", "one two", 0), ("one two", "two", 1), ("one", "", 1), ("a b c", "a x c d", 2)]
)
def test_edits_are_counted_in_words(said, found, n):
    assert edits(said.split(), found.split()) == n


def test_swaps_are_counted_where_the_words_line_up():
    swaps = Swaps()
    for said, found in (
        ("thirteen thou", "thirty thou"),
        ("thirty tenths", "thirty thou"),
        ("fourteen", "four fourteen"),  # which word answers to which is not known
        ("five", "nine"),
    ):
        swaps.add(said.split(), found.split())
    assert swaps.said == {"teen for ty": 2, "thou for tenths": 2}
    assert swaps.swapped == {"teen for ty": 1, "thou for tenths": 1}


def test_readings_of_the_two_persons():
    r = Readings()
    r.add(["two", "point", "five"], heard("two point five"))
    r.add(["two", "point", "five"], heard("two point nine"))  # taken at once: nobody could object
    r.add(["fifteen"], heard("fifty"))  # read back: the one who objects catches it
    r.add(["seven"], heard("seven", Trust.DOUBT))
    r.add(["next"], heard("two"))  # no reading was said
    assert (r.total, r.right, r.asked, r.wrong_taken, r.wrong_read_back) == (4, 1, 1, 1, 1)


def test_false_done_is_counted_alone_and_only_when_accepted():
    i = Intrusions()
    for text, trust in (("done", Trust.ACCEPT), ("done", Trust.DOUBT), ("done now", Trust.ACCEPT), ("", Trust.REFUSE)):
        i.add("somebody", 900.0, heard(text, trust))
    assert (i.said_something, i.accepted, i.done) == (3, 2, 1)
    assert "1.00 h" in str(i)


def test_worst_speaker_needs_five_clips():
    w = Words()
    for _ in range(5):
        w.add("steady", ["one"], ["one"])
    w.add("once", ["one"], [])
    assert w.worst == ("steady", 0.0)


def test_noise_comes_in_at_the_ratio_asked_for():
    clip = Clip("one", "a", "s", tone(1.0))
    noise = np.random.default_rng(0).standard_normal(RATE).astype(np.float32) * 50
    added = with_noise(clip, [noise], 10, 3).sound - clip.sound
    ratio = 10 * np.log10((clip.sound**2).mean() / (added**2).mean())
    assert ratio == pytest.approx(10, abs=0.3)


def test_strings_are_of_one_speaker_and_say_their_words_in_order():
    clips = [Clip(t, s, "gsc", tone(0.3)) for s in ("a", "b") for t in ("one", "two", "six", "no", "up")]
    strings = joined([*clips, Clip("one", "lonely", "gsc", tone(0.3))], 8)
    assert len(strings) == 8
    assert {s.speaker for s in strings} == {"a", "b"}
    assert all(2 <= len(s.words) <= 6 and s.group == "gsc+" for s in strings)


def test_clips_are_sorted_by_what_they_test():
    clips = [
        Clip(t, "a", g, tone(0.3)) for t, g in (("seven", "gsc"), ("bird", "gsc"), ("?", "libri"), ("one bird", "x"))
    ]
    material = gather(clips, GRAMMAR, 10, 0)
    assert [c.text for c in material.inside] == ["seven"]
    assert [c.text for c in material.outside] == ["bird"]
    assert [c.group for c in material.other] == ["libri"]


def test_noise_is_cut_into_pieces():
    assert [len(c.sound) / RATE for c in noise_alone([tone(12.0), tone(1.0)])] == [5, 5, 1]


def test_a_manifest_may_name_whole_files_or_pieces(tmp_path):
    soundfile = pytest.importorskip("soundfile")
    soundfile.write(tmp_path / "x.wav", tone(1.0) / 32768, RATE, subtype="PCM_16")
    (tmp_path / "m.tsv").write_text(
        "file\tstart\tn\ttext\tspeaker\tset\tsplit\nx.wav\t\t\tOne\ta\tmine\ttest\nx.wav\t800\t1600\ttwo\tb\tmine\ttest\n"
    )
    whole, piece = read_clips(tmp_path / "m.tsv", "test")
    assert (whole.text, len(whole.sound), len(piece.sound)) == ("one", RATE, 1600)


def test_without_recordings_it_says_what_is_missing(capsys, tmp_path):
    assert main([]) == 2
    assert main(["--speech", str(tmp_path)]) == 2
    assert "--speech FOLDER" in capsys.readouterr().err
