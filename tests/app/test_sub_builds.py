"""Builds on the disk that bring in others: found by name and beside, checked, killed, verified and shown."""

from pathlib import Path

import pytest

from benchvoice.app.conversation import facts_of
from benchvoice.app.judging import judge_for
from benchvoice.app.sub_builds import named_builds
from benchvoice.errors import InputError
from benchvoice.log import read_log, verify
from benchvoice.session.entries import BroughtIn, BroughtInChanged
from benchvoice.testing.bench import Bench
from tests.app.conftest import Command

PROCEDURES = Path(__file__).parents[2] / "procedures"
HERE = Path(__file__).parents[1] / "conversations"


def rotor(folder: Path) -> Bench:
    bench = Bench(HERE / "sub-rotor.yaml", folder, machine="hull 7")
    bench.work_to(None)
    bench.close()
    return bench


def test_the_valve_lash_brings_in_the_bottom_end_beside_it(tmp_path: Path, benchvoice: Command) -> None:
    bottom = Bench(PROCEDURES / "launch-bottom-end.yaml", tmp_path / "bottom")
    bottom.work_to(None)
    bottom.close()
    lash = Bench(PROCEDURES / "launch-valve-lash.yaml", tmp_path / "lash")
    lash.say("ann", "bottom end")
    assert "Bottom end: launch diesel, closed" in lash.say("yes")[0]
    lash.kill_and_resume()
    lash.say("ann", "yes")
    assert "Gasket notches: two notches. The engine number: hotel four one seven." in lash.heard[0]
    lash.work_to(None)
    lash.close()
    answered = {entry.question: entry.brought_in for entry in lash.log("answered")}  # type: ignore[attr-defined]
    assert answered["gasket_notches"] is not None
    assert verify(tmp_path / "lash", judge_for(tmp_path / "lash")).fault is None
    assert benchvoice("record", tmp_path / "lash").status == 0
    page = (tmp_path / "lash" / "record.html").read_text(encoding="utf-8")
    front = page[: page.index("Step by step")] if "Step by step" in page else page
    assert "Brought in: bottom end: bottom, Launch diesel, bottom end on launch diesel, closed (head " in front
    head = read_log(tmp_path / "bottom").head
    assert head[:12] in page
    assert head not in page


def test_a_build_is_named_on_the_command_line(tmp_path: Path, benchvoice: Command) -> None:
    rotor(tmp_path / "far" / "away")
    asked = ("build", HERE / "sub-pump.yaml", "--typed", "--clock", "script", "--out", tmp_path / "pump")
    assert "I find no rotor to bring in" in benchvoice(*asked, stdin="ann\n").out
    again = ("build", "--resume", tmp_path / "pump", "--typed", "--clock", "script")
    done = benchvoice(*again, "--bring", f"rotor={tmp_path / 'far' / 'away'}", stdin="ann\nbring in the rotor\nyes\n")
    assert "Rotor brought in." in done.out
    (row,) = facts_of(read_log(tmp_path / "pump").lines).all(BroughtIn)
    assert row.entry.folder == "../far/away"
    assert "has changed" not in benchvoice(*again, stdin="ann\n").out
    benchvoice("build", "--resume", tmp_path / "far" / "away", "--typed", stdin="")
    assert "Rotor has changed since it was brought in" in benchvoice(*again, stdin="ann\n").out
    assert benchvoice("verify", tmp_path / "pump").status == 0


def test_folders_that_move_together_find_each_other(tmp_path: Path, benchvoice: Command) -> None:
    rotor(tmp_path / "shop" / "rotor")
    pump = tmp_path / "shop" / "pump"
    begin = ("build", HERE / "sub-pump.yaml", "--typed", "--clock", "script", "--out", pump)
    benchvoice(*begin, stdin="ann\nhull seven\n")
    assert [row.entry.build for row in facts_of(read_log(pump).lines).all(BroughtIn)] == ["rotor"]
    (tmp_path / "shop").rename(tmp_path / "other shop")
    done = benchvoice("build", "--resume", tmp_path / "other shop" / "pump", "--typed", "--clock", "script", stdin="")
    assert "can't be found" not in done.out
    assert "has changed" not in done.out


def test_a_changed_line_of_the_other_build_is_found(tmp_path: Path, benchvoice: Command) -> None:
    rotor(tmp_path / "rotor")
    pump = tmp_path / "pump"
    benchvoice("build", HERE / "sub-pump.yaml", "--typed", "--clock", "script", "--out", pump, stdin="ann\nyes\n")
    log = tmp_path / "rotor" / "log.jsonl"
    log.write_bytes(log.read_bytes().replace(b"H417", b"H418", 1))
    done = benchvoice("build", "--resume", pump, "--typed", "--clock", "script", stdin="ann\nstands because it fell\n")
    assert "The record of rotor is damaged: line " in done.out
    (row,) = facts_of(read_log(pump).lines).all(BroughtInChanged)
    assert (row.entry.trouble, row.entry.head) == ("damaged", "")
    assert "Noted, on page one" in done.out
    benchvoice("record", pump)
    page = (pump / "record.html").read_text(encoding="utf-8")
    assert "stands as it was brought in, decided by ann: it fell" in page


def test_a_folder_without_a_build_is_told_before_there_is_one(tmp_path: Path, benchvoice: Command) -> None:
    (tmp_path / "empty").mkdir()
    done = benchvoice(
        "build", HERE / "sub-pump.yaml", "--typed", "--out", tmp_path / "b", "--bring", f"rotor={tmp_path / 'empty'}"
    )
    assert (done.status, (tmp_path / "b").exists()) == (1, False)
    assert done.err == f"There is no build in {tmp_path / 'empty'}, which was to be brought in as rotor.\n"


@pytest.mark.parametrize("text", ["rotor", "rotor=", "=there", " = "])
def test_names_without_a_folder(text: str) -> None:
    with pytest.raises(InputError, match="write it like"):
        named_builds([text])
