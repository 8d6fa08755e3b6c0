from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.app.fitting import fitting
from benchvoice.app.fitting.fitting import Outcome
from benchvoice.app.fitting.trial import Score
from tests.app.conftest import Command


def test_two_ways_to_bring_sound_are_wrong_use(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("fit", "ann", "--wav", tmp_path / "a.wav", "--folder", tmp_path)
    assert done.status == 2
    assert "--wav and --folder are two ways to bring sound: choose one." in done.err


def test_a_folder_with_too_few_clips_is_told_and_keeps_them(benchvoice: Command, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.zeros(8000, np.int16), 16_000)
    (tmp_path / "list.tsv").write_text("file\ttext\na.wav\tdone\n")
    done = benchvoice("fit", "ann", "--folder", tmp_path)
    assert done.status == 1
    assert f"1 clips taken from {tmp_path}." in done.err
    assert "1 clips of ann are too few to fit and try an ear: read on with benchvoice fit ann" in done.err


def test_a_recording_that_ends_early_keeps_what_was_read(benchvoice: Command, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "quiet.wav", np.zeros(32_000, np.int16), 16_000)
    done = benchvoice("fit", "ann", "--wav", tmp_path / "quiet.wav")
    assert done.status == 1
    assert "1 of 52: zero one two three four" in done.err
    assert "0 clips of ann are kept in" in done.err


@pytest.mark.parametrize("better", [True, False])
def test_what_came_of_it_is_told(
    benchvoice: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, better: bool
) -> None:
    (tmp_path / "list.tsv").write_text("file\ttext\n")
    model = tmp_path / "0123456789ab" if better else None
    outcome = Outcome(40, 12, Score(36, 30, 25, 1, 2), Score(36, 33, 30, 1, 1), model, "0123456789abcdef")
    monkeypatch.setattr(fitting, "fit_voice", lambda *_, **__: outcome)
    done = benchvoice("fit", "ann", "--folder", tmp_path)
    assert done.status == (0 if better else 1)
    assert "Fitted on 40 clips, tried on 12 others:" in done.out
    assert "  after:  of 36: 33 right, 30 of them accepted; 1 wrong and accepted; 1 accepted where" in done.out
    told = (
        "benchvoice build --voice ann hears with it." if better else "The fit hears ann no better: nothing was changed."
    )
    assert told in done.out
    assert benchvoice("fit", "ann", "--folder", tmp_path, "--json").answer["after"]["right"] == 33


def test_a_build_with_the_voice_of_nobody_is_refused_before_it_begins(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("build", "launch-bottom-end", "--voice", "ann", "--wav", "x.wav", "--out", tmp_path / "b")
    assert done.status == 1
    assert done.err == "No ear is fitted to ann, only to nobody: run benchvoice fit ann.\n"
    assert not (tmp_path / "b").exists()


@pytest.mark.parametrize("also", [["--model", "bench-en"], ["--typed"]])
def test_a_voice_names_an_ear_of_its_own(benchvoice: Command, also: list[str]) -> None:
    done = benchvoice("build", "launch-bottom-end", "--voice", "ann", *also)
    assert done.status == 2
    assert "--voice names an ear of its own: leave out --model and --typed." in done.err
