import numpy as np

from benchvoice.app.fitting.trial import Score
from benchvoice.benchmarks.ear_measure.sound import Clip
from benchvoice.benchmarks.fit import LEAST, by_speaker, main, told


def clips(speaker, text, count):
    return [Clip(text, speaker, "gsc", np.zeros(16_000, np.float32))] * count


def test_speakers_with_clips_enough_of_known_words_are_measured():
    some = [*clips("a", "one", LEAST), *clips("b", "one", LEAST - 1), *clips("b", "bird", 9), *clips("c", "?", LEAST)]
    assert list(by_speaker(some, ["one"])) == ["a"]
    assert len(by_speaker(some, ["one"])["a"]) == LEAST


def test_shares_that_are_wrong_have_bounds():
    assert told(Score(100, 97, 90, 1)) == "right 97/100, accepted 90, wrong and accepted 1 [0.0%, 5.4%]"


def test_without_recordings_it_says_what_is_missing(tmp_path, capsys):
    assert main(["--speech", str(tmp_path)]) == 2
    assert "manifest" in capsys.readouterr().err
