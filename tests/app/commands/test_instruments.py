"""The register at the command line: in a build, and listed with its uses and overrides afterwards."""

import shutil
from pathlib import Path

import pytest

from benchvoice.app.conversation import facts_of
from benchvoice.app.instruments import instrument_words
from benchvoice.log import read_log
from benchvoice.procedure.load import load_document
from benchvoice.session.entries import Opened, Reading, Resumed
from benchvoice.session.facts import Facts
from benchvoice.session.instruments import instrument_of, tool
from benchvoice.session.state import State
from tests.app.conftest import Command

HERE = Path(__file__).parents[2] / "conversations"
SHOP, TOOLS = HERE / "shop-instruments.yaml", HERE / "tools.yaml"
WORDS = """ann
old dial
point one one zero
point one one five
point one one six
use it because there is no other
point one one seven
use it because it is my own
"""


@pytest.fixture
def used(benchvoice: Command, tmp_path: Path) -> Path:
    """A build in the usual folder that read four times with an instrument due after three uses."""
    folder = tmp_path / "data" / "benchvoice" / "builds" / "one"
    done = benchvoice("build", TOOLS, "--typed", "--out", folder, "--instruments", SHOP, stdin=WORDS)
    assert done.status == 0
    return folder


def test_the_register_is_frozen_into_the_log_and_verified(benchvoice: Command, used: Path) -> None:
    opened = read_log(used).lines[0].entry
    assert isinstance(opened, Opened)
    assert [each.id for each in opened.instruments][:2] == ["dial_one", "dial_two"]
    assert benchvoice("verify", used).status == 0


def test_uses_and_overrides_are_listed(benchvoice: Command, used: Path) -> None:
    found = benchvoice("instruments", "--instruments", SHOP, "--json").answer["instruments"]
    old = next(each for each in found if each["id"] == "old_dial")
    assert (old["uses"], old["builds"]) == (4, [str(used)])
    assert old["overdue"] == ["calibration was due after 3 uses"]
    (override,) = old["overrides"]
    assert (override["by"], override["reason"]) == ("ann", "there is no other")
    text = benchvoice("instruments", "--instruments", SHOP).out
    assert "old_dial: dial indicator, 0 to 10 mm" in text
    assert "due after 3 uses, 4 uses in 1 builds since" in text
    assert f"  overridden in {used}, line {override['line']}, " in text


def test_only_the_overdue(benchvoice: Command, used: Path, tmp_path: Path) -> None:
    names = [
        each["id"]
        for each in benchvoice("instruments", "--instruments", SHOP, "--overdue", "--json").answer["instruments"]
    ]
    assert "old_dial" in names
    assert "dial_two" in names
    fresh = tmp_path / "fresh.yaml"
    fresh.write_text("schema: 1\ninstruments:\n  mike: {kind: micrometer, unit: mm}\n", encoding="utf-8")
    assert benchvoice("instruments", "--instruments", fresh, "--overdue").out == "None is overdue.\n"
    assert benchvoice("instruments", "--instruments", fresh).out.startswith("mike: micrometer, never due, 0 uses in 0")


def test_uses_of_other_builds_count_in_the_next(benchvoice: Command, used: Path, tmp_path: Path) -> None:
    folder = tmp_path / "two"
    words = "ann\nold dial\n"
    done = benchvoice("build", TOOLS, "--typed", "--out", folder, "--instruments", SHOP, stdin=words)
    assert "calibration was due after three uses" in done.out
    opened = read_log(folder).lines[0].entry
    assert isinstance(opened, Opened)
    assert next(each.used for each in opened.instruments if each.id == "old_dial") == 4


def test_the_register_of_the_data_folder_is_found(benchvoice: Command, tmp_path: Path) -> None:
    home = tmp_path / "data" / "benchvoice"
    home.mkdir(parents=True)
    done = benchvoice("instruments")
    assert (done.status, "There is no register" in done.err) == (2, True)
    shutil.copy(SHOP, home / "instruments.yaml")
    assert benchvoice("instruments").out.startswith("dial_one: dial indicator")
    done = benchvoice("build", TOOLS, "--typed", "--out", tmp_path / "b", stdin="ann\n")
    assert "Which dial indicator: dial one, dial two, old dial or another?" in done.out


def test_a_resumed_build_takes_up_a_changed_register(benchvoice: Command, used: Path, tmp_path: Path) -> None:
    benchvoice("build", "--resume", used, "--typed", "--instruments", SHOP, stdin="")
    resumed = [line.entry for line in read_log(used).lines if isinstance(line.entry, Resumed)]
    assert [each.instruments for each in resumed] == [None]
    changed = tmp_path / "changed.yaml"
    changed.write_text(SHOP.read_text(encoding="utf-8").replace("uncertainty: 0.012", "uncertainty: 0.004"))
    benchvoice("build", "--resume", used, "--typed", "--instruments", changed, stdin="ann\n")
    resumed = [line.entry for line in read_log(used).lines if isinstance(line.entry, Resumed)]
    assert resumed[-1].instruments is not None
    assert str(resumed[-1].instruments[0].uncertainty) == "0.004"
    assert benchvoice("verify", used).status == 0


def test_a_calibration_since_then_changes_nothing_that_was_read(
    benchvoice: Command, used: Path, tmp_path: Path
) -> None:
    changed = tmp_path / "changed.yaml"
    worse = SHOP.read_text(encoding="utf-8").replace("resolution: 0.01, calibrated", "resolution: 0.02, calibrated")
    changed.write_text(worse, encoding="utf-8")
    benchvoice("build", "--resume", used, "--typed", "--instruments", changed, stdin="ann\n")
    lines = read_log(used).lines
    state = State(load_document(TOOLS).procedure, facts_of(lines))
    first = next(row for row in state.facts.all(Reading) if row.entry.instrument == "old_dial")
    then, now = instrument_of(state, first), tool(state, "dial")
    assert then is not None
    assert now is not None
    assert (str(then.resolution), str(now.instrument.resolution)) == ("0.01", "0.02")


def test_the_ear_is_taught_what_instruments_are_called(used: Path) -> None:
    words = {"dial", "one", "two", "old", "wrench"}
    assert set(instrument_words(SHOP, Facts())) == words
    assert set(instrument_words(None, facts_of(read_log(used).lines))) == words


def test_a_faulty_register_is_told_before_the_build(benchvoice: Command, tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("schema: 1\ninstruments:\n  a: {kind: dial, unit: mm, k: 0}\n", encoding="utf-8")
    done = benchvoice("build", TOOLS, "--typed", "--out", tmp_path / "b", "--instruments", bad, stdin="ann\n")
    assert not (tmp_path / "b").exists()
    assert (done.status, done.err) == (1, f"{bad}:3: instruments.a.k: 0 can't be the k; write more than nothing\n")


def test_the_record_tells_which_instruments(benchvoice: Command, used: Path) -> None:
    assert benchvoice("record", used).status == 0
    page = (used / "record.html").read_text(encoding="utf-8")
    assert "Used as dial: old dial, of the register" in page
    assert "because there is no other" in page.split("Overrides")[1]
    assert "after 3 uses" in page
