"""Hours of other sound: the tape is the same for a seed and counts what stands behind it; the count counts."""

from itertools import islice

import numpy as np
import pytest

from benchvoice.app.places import find_procedure
from benchvoice.benchmarks.ear_measure.hours_sound import TAPE_S, Shop, read_rooms
from benchvoice.benchmarks.ear_measure.sound import RATE, Clip
from benchvoice.benchmarks.hours import MOMENT_S, Count, _Build, _ShopRoom, main, moments
from benchvoice.session.entries import StepClosed
from benchvoice.session.events import Utterance


def noise(seconds, seed):
    return np.random.default_rng(seed).standard_normal(int(seconds * RATE)).astype(np.float32) * 3000


def shop(seed=1):
    talk = [Clip("?", f"reader {k % 3}", "libri", noise(2.0, k)) for k in range(6)]
    return Shop(talk, [noise(3.0, 9)], [np.exp(-np.arange(800) / 100).astype(np.float32)], seed)


@pytest.fixture(scope="module")
def places():
    return moments(find_procedure("launch-bottom-end"))


def test_the_same_seed_gives_the_same_tape_and_another_seed_another():
    first, again, other = (list(islice(shop(seed).tape(), 3)) for seed in (1, 1, 2))
    assert all(np.array_equal(a, b) for a, b in zip(first, again, strict=True))
    assert not np.array_equal(first[0], other[0])
    assert all(len(stretch) == TAPE_S * RATE for stretch in first)


def test_the_tape_counts_who_stands_behind_it():
    told = shop()
    list(islice(told.tape(), 6))
    assert told.voices == {"reader 0", "reader 1", "reader 2"}
    assert told.noises_used == {0}
    assert told.rooms_used == {0}
    assert 0 < told.speech_s < 6 * TAPE_S


def test_noise_alone_and_talk_alone_make_a_tape_too():
    assert np.any(next(Shop([], [noise(1.0, 1)], [], 1).tape()))
    assert np.any(next(Shop([Clip("?", "a", "libri", noise(1.0, 1))], [], [], 1).tape()))


def test_a_build_stands_at_every_kind_of_step_that_it_has(places):
    kinds = {f"step {each.kind}" for each in places[0].state.procedure.steps}
    told = {place.what for place in places}
    assert {"step measure", "step check", "step mark", "step tighten"} <= told & kinds
    assert "question who is on" in told


def heard(build, text, doubtful=None):
    build.hear(Utterance(now=build.now(), text=text, via="voice", doubtful=doubtful))


def test_what_is_accepted_asked_and_written_is_counted_and_put_back(places):
    tell = next(place for place in places if place.what == "step tell")
    build = _Build([tell, places[1]], _ShopRoom(shop(), 1.0))
    heard(build, "done", doubtful="I am not sure of the words")
    assert (build.count.accepted, build.count.done_heard, build.count.changed) == (0, 0, 0)
    assert build.count.asked >= 1
    heard(build, "yes")  # somebody else's yes confirms it: that is what must be seen
    assert (build.count.accepted, build.count.changed) == (1, 1)
    assert build.count.written[StepClosed.model_fields["kind"].default] == 1
    assert build.state().talk == places[1].state.talk
    heard(build, "the weather is fine")
    assert build.count.changed == 1


def test_a_false_done_is_counted_alone(places):
    tell = next(place for place in places if place.what == "step tell")
    build = _Build([tell], _ShopRoom(shop(), 1.0))
    heard(build, "done")
    assert (build.count.done_heard, build.count.done_written) == (1, 1)


def test_the_build_moves_on_after_a_while(places):
    room = _ShopRoom(shop(), 1.0)
    build = _Build(places, room)
    room.heard_s = MOMENT_S + 1.0
    assert build.state() is places[1].state


def test_rates_have_bounds():
    count = Count(seconds=3600.0, accepted=1)
    assert any("utterances accepted: 1 in 1.00 h = 1.0 an hour [0.0, 5.6]" in line for line in count.lines())


def test_rooms_have_unit_energy(tmp_path):
    soundfile = pytest.importorskip("soundfile")
    soundfile.write(tmp_path / "r.wav", np.array([0.5, 0.25, 0.1] * 99, np.float32), RATE)
    (tmp_path / "rir.tsv").write_text("file\tstart\tn\trate\tsplit\nr.wav\t\t\t16000\ttest\n")
    (room,) = read_rooms(tmp_path, "test")
    assert (room.astype(float) ** 2).sum() == pytest.approx(1.0, abs=1e-3)
    assert read_rooms(tmp_path, "dev") == []


def test_a_minute_is_heard_the_whole_way(tmp_path, capsys):
    soundfile = pytest.importorskip("soundfile")
    soundfile.write(tmp_path / "x.wav", noise(2.0, 1) / 32768, RATE, subtype="PCM_16")
    (tmp_path / "manifest.tsv").write_text("file\ttext\tspeaker\tset\tsplit\nx.wav\t?\ta\tlibri\ttest\n")
    out = tmp_path / "counts.json"
    assert main(["0.01", "--speech", str(tmp_path), "--json", str(out)]) == 0
    told = capsys.readouterr().out
    assert "0.01 h of sound" in told
    assert "1 voices" in told
    assert '"done_written": 0' in out.read_text(encoding="utf-8")


def test_a_folder_without_recordings_is_said(tmp_path, capsys):
    assert main(["1", "--speech", str(tmp_path)]) == 2
    assert "manifest" in capsys.readouterr().err
