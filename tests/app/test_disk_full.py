"""A disk full in the middle of an angle stage: one sentence, nothing counts, and it is asked as after a kill."""

import subprocess
import sys
from pathlib import Path

import pytest

from benchvoice.app.conversation import DISK_REFUSED
from benchvoice.errors import MachineError
from benchvoice.log import open_build, read_log
from benchvoice.session.entries import Tightened
from benchvoice.testing.bench import Bench
from benchvoice.testing.disk import Trouble, VirtualDisk

SMALL = Path(__file__).parents[1] / "conversations" / "small.yaml"
STAGE_TWO = ("ten", "all four", "free", "one done")
"""Said at the step head: four bolts to ten newton metres, then ninety degrees each, the first of them turned."""


def turned(rows: list[Tightened]) -> list[str]:
    return [row.position for row in rows if row.stage == 2 and row.outcome == "done"]


@pytest.fixture
def disk() -> VirtualDisk:
    return VirtualDisk()


@pytest.fixture
def bench(disk: VirtualDisk) -> Bench:
    bench = Bench(SMALL, disk.root / "build", storage=disk)
    bench.work_to("head")
    bench.say(*STAGE_TWO)
    assert turned([row.entry for row in bench.counting("tightened")]) == ["A"]
    return bench


@pytest.mark.parametrize(
    "troubles",
    [
        [Trouble.FULL],  # half of the turn's bytes got in
        [Trouble.SHORT, Trouble.FULL],  # three quarters: one of the lines that count a bolt is whole
        [Trouble.SHORT, Trouble.SHORT, Trouble.SHORT, Trouble.FULL],
    ],
)
def test_a_full_disk_in_an_angle_stage(disk: VirtualDisk, bench: Bench, troubles: list[Trouble]) -> None:
    calls, before = len(disk.calls), bench.state.facts
    disk.trouble = {calls + n: trouble for n, trouble in enumerate(troubles, 1)}
    with pytest.raises(MachineError, match="the disk is full; make room on it and resume"):
        bench.say("two and three done")
    assert bench.heard == [DISK_REFUSED]
    assert bench.state.facts == before
    # Room is made, and the build goes on with what was acknowledged.
    disk.trouble = {}
    disk.kill()
    bench.kill_and_resume()
    assert bench.state.facts.rows()[: before.count] == before.rows()
    assert turned([row.entry for row in bench.counting("tightened")]) == ["A"]
    bench.say("ann")
    asked = "Stage two was broken off after one. Which others have been turned, or is there a painted line?"
    assert bench.heard[-1].endswith(asked)
    bench.say("two by the line")
    assert turned([row.entry for row in bench.counting("tightened")]) == ["A", "C"]


def test_while_it_is_still_full_the_build_is_not_opened_and_not_harmed(disk: VirtualDisk, bench: Bench) -> None:
    kept = disk.read(disk.root / "build" / "log.jsonl")
    disk.trouble = {len(disk.calls) + 1: Trouble.FULL}
    with pytest.raises(MachineError):
        bench.say("two done")
    disk.kill()
    for number in range(1, 5):
        disk.trouble = {len(disk.calls) + number: Trouble.FULL}
        with pytest.raises(MachineError, match="the disk is full; make room on it and resume"):
            open_build(disk.root / "build", disk)
        disk.kill()
        assert disk.read(disk.root / "build" / "log.jsonl") == kept
    disk.trouble = {}
    bench.kill_and_resume()
    assert bench.at == "head"


ANGLE = """\
schema: 1
title: Angle alone
work: metric
groups:
  head: {what: head bolts, positions: [A, B, C, D], order: in turn}
steps:
  - step: head
    tighten: {group: head, stages: [{torque: 10 N_m}, {angle: 90 deg}]}
"""
LIMITED = """\
import resource, signal, sys
from benchvoice.app.main import run
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv.pop(1)), resource.RLIM_INFINITY))
run()
"""
"""The command, in a process whose files can't grow further: as near to a full disk as a test can come without one."""


def command(most: int, *arguments: str | Path, said: tuple[str, ...]) -> "subprocess.CompletedProcess[str]":
    line = [sys.executable, "-c", LIMITED, str(most), "build", *map(str, arguments), "--typed"]
    return subprocess.run(line, input="\n".join(said), capture_output=True, text=True, timeout=120, check=False)


def test_the_command_says_it_and_goes_on(tmp_path: Path) -> None:
    pytest.importorskip("resource", reason="this system can't limit the size of files")
    file, plenty = tmp_path / "angle.yaml", 10**9
    file.write_text(ANGLE, encoding="utf-8")
    said = ("ann", "all four", "one done")
    assert command(plenty, file, "--out", tmp_path / "whole", said=said).returncode == 0
    size = (tmp_path / "whole" / "log.jsonl").stat().st_size
    full = command(size + 500, file, "--out", tmp_path / "build", said=(*said, "two done", "three done"))
    assert full.returncode == 1
    assert full.stdout.splitlines()[-1] == DISK_REFUSED
    assert full.stderr.startswith("Can't write to ")
    kept = read_log(tmp_path / "build")
    assert kept.torn is None
    assert turned([line.entry for line in kept.lines if isinstance(line.entry, Tightened)]) == ["A"]
    resumed = command(plenty, "--resume", tmp_path / "build", said=("ann", "none"))
    assert "Stage two was broken off after one. Which others have been turned" in resumed.stdout
