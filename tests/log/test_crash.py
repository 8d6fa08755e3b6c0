"""Nothing that was acknowledged is lost: the power fails in the first, second, third ... call, until a run survives.

The same checks must see the loss when any one fsync is left out; that they do is the last test here.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import numpy as np
import pytest

from benchvoice.errors import MachineError
from benchvoice.log import (
    Line,
    add_procedure_version,
    clip_bytes,
    create_build,
    drop_clip,
    keep_grammar,
    open_build,
    procedure_bytes,
    read_grammar,
    read_log,
    verify,
    write_clip,
)
from benchvoice.log.clips import is_dropped
from benchvoice.log.line import digest
from benchvoice.testing.disk import Loss, PowerCut, Trouble, VirtualDisk

from .samples import finding, turn

ROOT = Path("bench")
BUILD = ROOT / "builds" / "engine"
NOISE = np.arange(64, dtype=np.int16)
OLD, NEW = b"schema: 1\n", b"schema: 1\ntitle: amended\n"


@dataclass
class Told:
    """What was acknowledged before the power failed."""

    made: bool = False
    lines: list[Line] = field(default_factory=list)
    clips: dict[str, str] = field(default_factory=dict)
    dropped: list[str] = field(default_factory=list)
    grammars: dict[str, list[str]] = field(default_factory=dict)
    amended: list[str] = field(default_factory=list)


def work(disk: VirtualDisk, told: Told) -> None:
    """An evening at the bench: every way that the log writes, each twice at least."""
    with create_build(BUILD, OLD, disk) as build:
        told.made = True
        for number in range(2):
            told.lines += build.append(turn(number))
        for phrases in (["yes", "no"], ["done"], ["yes", "no"]):
            told.grammars[keep_grammar(BUILD, phrases, disk)] = phrases
            clip = write_clip(BUILD, NOISE, disk)
            told.clips[clip.file] = clip.sha256
            told.lines += build.append([finding(1)])
        told.amended.append(add_procedure_version(build, NEW))
        told.lines += build.append(turn(2))
    with open_build(BUILD, disk) as build:
        assert build.contents.lines == tuple(told.lines)
        told.lines += build.append(turn(3))
        last = max(told.clips)
        del told.clips[last]
        drop_clip(BUILD, last, disk)
        told.dropped.append(last)
        clip = write_clip(BUILD, NOISE[:7], disk)
        assert clip.file not in told.dropped
        told.clips[clip.file] = clip.sha256
        told.lines += build.append([finding(4)])


def check(disk: VirtualDisk, told: Told) -> None:
    """All that was told is there; the build opens, takes ten more entries, and verifies."""
    if not told.lines:
        begin_again(disk)
        return
    for file, sha256 in told.clips.items():
        assert digest(clip_bytes(BUILD, file, disk)) == sha256
    assert all(is_dropped(BUILD, file, disk) and not disk.exists(BUILD / file) for file in told.dropped)
    assert all(read_grammar(BUILD, file, disk) == phrases for file, phrases in told.grammars.items())
    assert procedure_bytes(BUILD, "procedure.yaml", disk) == OLD
    assert all(procedure_bytes(BUILD, file, disk) == NEW for file in told.amended)
    with open_build(BUILD, disk) as build:
        found = build.contents.lines
        assert list(found[: len(told.lines)]) == told.lines
        assert len(found) - len(told.lines) <= 3, "no more than the turn that was being written"
        told.lines = list(found)
        for number in range(10):
            told.lines += build.append([finding(number)])
    assert list(read_log(BUILD, disk).lines) == told.lines
    assert verify(BUILD, storage=disk).fault is None


def begin_again(disk: VirtualDisk) -> None:
    """Nobody was told of a build: it may be begun in the same folder, unless its first turn did get out whole."""
    log = BUILD / "log.jsonl"
    begun = disk.exists(log) and b"\n" in disk.read(log)
    build = open_build(BUILD, disk) if begun else create_build(BUILD, OLD, disk)
    with build:
        build.append(turn(0))
    assert verify(BUILD, storage=disk).fault is None


def crashes(loss: Loss, **options: Callable[[str, Path], bool]) -> Iterator[tuple[VirtualDisk, Told]]:
    """The disk and what was told, after a crash in each call of the work in turn."""
    for number in count(1):
        disk = VirtualDisk(ROOT, crash_at=number, seed=number, **options)
        told = Told()
        try:
            work(disk, told)
        except PowerCut:
            disk.restart(loss)
            yield disk, told
        else:
            return


@pytest.mark.parametrize("loss", Loss)
def test_the_power_fails_in_every_call(loss: Loss) -> None:
    survived = 0
    for disk, told in crashes(loss):
        check(disk, told)
        survived += 1
    assert survived > 80


@pytest.mark.parametrize("loss", Loss)
def test_the_power_fails_again_while_the_build_is_opened(loss: Loss) -> None:
    whole = VirtualDisk(ROOT)
    work(whole, Told())
    writes = [number for number, call in enumerate(whole.calls, start=1) if call == ("write", BUILD / "log.jsonl")]
    for first in writes[-4:]:
        for second in count(1):
            disk = VirtualDisk(ROOT, crash_at=first, seed=first)
            told = Told()
            with pytest.raises(PowerCut):
                work(disk, told)
            disk.restart(loss)
            disk.crash_at = len(disk.calls) + second
            try:
                open_build(BUILD, disk).close()
            except PowerCut:
                disk.restart(loss)
                check(disk, told)
            else:
                break
        assert second > 3


@pytest.mark.parametrize("loss", Loss)
def test_what_a_killed_process_left_is_safe_before_it_is_told_again(loss: Loss) -> None:
    """A line that reached only the system's memory is read back, spoken of, and must not vanish after that."""
    for number in count(1):
        disk = VirtualDisk(ROOT, crash_at=number)
        told = Told()
        try:
            work(disk, told)
        except PowerCut:
            disk.kill()
        else:
            break
        if not told.lines:
            continue
        with open_build(BUILD, disk) as build:
            told.lines = list(build.contents.lines)
        disk.restart(loss)
        check(disk, told)


@pytest.mark.parametrize("trouble", Trouble)
def test_the_disk_refuses_in_every_call(trouble: Trouble) -> None:
    """One clear sentence; then the build opens again, on the same running system, and stands a power cut."""
    refusals: list[str] = []
    for number in count(1):
        disk = VirtualDisk(ROOT, trouble={number: trouble})
        told = Told()
        try:
            work(disk, told)
        except MachineError as reason:
            refusals.append(str(reason))
        if len(disk.calls) < number:
            break
        check(disk, told)
        disk.restart(Loss.DROP)
        check(disk, told)
    assert len(refusals) > 80 or trouble is Trouble.SHORT
    assert all(text.startswith("Can't ") and "\n" not in text for text in refusals)


def test_after_one_refusal_nothing_more_is_taken() -> None:
    disk = VirtualDisk(ROOT)
    build = create_build(BUILD, OLD, disk)
    build.append(turn(0))
    disk.trouble = {len(disk.calls) + 2: Trouble.FAILED}  # the fsync
    with pytest.raises(MachineError, match="disk refused"):
        build.append(turn(1))
    asked = len(disk.calls)
    for _ in range(2):
        with pytest.raises(MachineError, match=r"Nothing more is written.*resume the build"):
            build.append(turn(1))
    assert len(disk.calls) == asked, "the disk was not even asked again"


def _syncs() -> list[tuple[str, Path]]:
    """Every fsync in an undisturbed run, of files that hold something."""
    disk = VirtualDisk(ROOT)
    work(disk, Told())
    syncs = {call for call in disk.calls if call[0] in ("fsync", "fsync folder")}
    # A mark holds no bytes that could be lost: its name is all there is.
    return sorted(call for call in syncs if not call[1].name.endswith(".dropped.new"))


@pytest.mark.parametrize("left_out", _syncs(), ids=lambda call: f"{call[0]} {call[1].name}")
def test_these_tests_see_the_loss_when_an_fsync_is_left_out(left_out: tuple[str, Path]) -> None:
    with pytest.raises((AssertionError, MachineError)):
        _crash_everywhere(deaf=lambda call, path: (call, path) == left_out)


def test_and_pass_when_none_is() -> None:
    _crash_everywhere(deaf=lambda call, path: False)


def _crash_everywhere(deaf: Callable[[str, Path], bool]) -> None:
    for loss in Loss:
        for disk, told in crashes(loss, deaf=deaf):
            check(disk, told)
        disk, told = VirtualDisk(ROOT, deaf=deaf), Told()
        work(disk, told)
        disk.restart(loss)  # the power fails after the last call, too
        check(disk, told)
