from pathlib import Path

from benchvoice.app.places import shipped_procedures
from tests.app.conftest import Command

ODD = """\
schema: 1
title: A lid
work: metric
steps:
  - step: lid
    check: {ask: How does it sit?, pass: [flonkhurst], fail: [proud]}
"""


def test_the_shipped_procedures_pass(benchvoice: Command) -> None:
    files = sorted(shipped_procedures().glob("*.yaml"))
    done = benchvoice("check", *files)
    assert (done.status, done.err) == (0, "")
    assert [line for line in done.out.splitlines() if line.endswith(": no faults, no remarks")] == [
        f"{file}: no faults, no remarks" for file in files
    ]


def test_every_fault_of_every_file_is_told_on_standard_error(benchvoice: Command, tmp_path: Path) -> None:
    bad, list_ = tmp_path / "bad.yaml", tmp_path / "list.yaml"
    bad.write_text("schema: 1\nwork: feet\nsteps: []\n")
    list_.write_text("- 1\n")
    done = benchvoice("check", bad, list_, tmp_path / "absent.yaml")
    assert done.status == 1
    told = done.err.splitlines()
    assert [line.partition(": ")[0] for line in told] == [
        *(f"{bad}:{line}" for line in (1, 2, 3)),
        f"{list_}:1",
        str(tmp_path / "absent.yaml"),
    ]


def test_faults_as_json(benchvoice: Command, tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("- 1\n")
    done = benchvoice("check", bad, "--json")
    assert done.status == 1
    assert [answer["file"] for answer in done.answer] == [str(bad)]
    assert done.answer[0]["faults"] == done.err.splitlines()


def test_words_that_the_ear_takes_from_their_spelling_are_told(benchvoice: Command, tmp_path: Path) -> None:
    file = tmp_path / "lid.yaml"
    file.write_text(ODD)
    done = benchvoice("check", file)
    assert done.status == 0
    assert f"{file}: said as they are spelt, so try them aloud: flonkhurst\n" in done.out


def test_without_a_model_the_rest_is_still_checked(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("check", "reduction-gear", "--model", "no-such-model")
    assert done.status == 0
    assert "whether its words can be heard isn't known: There is no speech model named no-such-model" in done.out


ALIKE = """\
schema: 1
title: A lid
work: metric
particulars:
  letter: {ask: Which letter?, choices: [B, D]}
steps:
  - step: which
    choose: {ask: [letter]}
  - step: lid
    check: {ask: How does it sit?, pass: [flat], fail: [tight, light]}
"""


def test_answers_that_sound_alike_are_told_with_their_line(benchvoice: Command, tmp_path: Path) -> None:
    file = tmp_path / "lid.yaml"
    file.write_text(ALIKE)
    done = benchvoice("check", file)
    assert done.status == 0
    told = [line for line in done.out.splitlines() if "sound nearly the same" in line]
    assert [line.split(": ", 2)[2] for line in told] == [
        "b and d sound nearly the same; use words that differ in more than a sound",
        "tight and light sound nearly the same; use words that differ in more than a sound",
    ]
    assert all(line.startswith(f"{file}:{n}: ") for line, n in zip(told, (5, 10), strict=True))
