from pathlib import Path

import pytest

from benchvoice.errors import MachineError
from benchvoice.log.append import LogWriter
from benchvoice.log.line import FIRST_PREV, EntryRefused, decode
from benchvoice.session.entries import Finding
from benchvoice.testing.disk import Loss, Trouble, VirtualDisk

from .samples import finding, stamp, turn

LOG = Path("bench") / "log.jsonl"


def writer_on(disk: VirtualDisk) -> LogWriter:
    return LogWriter(disk.append(LOG), LOG, written=0, head=FIRST_PREV)


def test_a_turn_is_one_write_and_one_fsync() -> None:
    disk = VirtualDisk()
    writer = writer_on(disk)
    disk.calls.clear()
    lines = writer.append(turn(0))
    assert disk.calls == [("write", LOG), ("fsync", LOG)]
    assert disk.read(LOG) == b"".join(line.raw + b"\n" for line in lines)


def test_the_lines_that_were_written_come_back_as_they_will_be_read() -> None:
    disk = VirtualDisk()
    writer = writer_on(disk)
    lines = [*writer.append(turn(0)), *writer.append([finding(1)])]
    assert [decode(raw) for raw in disk.read(LOG).splitlines()] == lines
    assert (writer.next_n, writer.head) == (5, lines[-1].digest)


def test_no_entries_touch_no_disk() -> None:
    disk = VirtualDisk()
    writer = writer_on(disk)
    disk.calls.clear()
    assert writer.append([]) == ()
    assert disk.calls == []


def test_one_entry_that_is_refused_keeps_the_whole_turn_out_and_the_log_alive() -> None:
    disk = VirtualDisk()
    writer = writer_on(disk)
    with pytest.raises(EntryRefused, match="finding entry can't be written"):
        writer.append([finding(0), stamp(Finding(text="\ud800"))])
    assert disk.read(LOG) == b""
    assert [line.n for line in writer.append([finding(1)])] == [1]


def test_a_short_write_is_finished() -> None:
    disk = VirtualDisk(trouble={2: Trouble.SHORT, 3: Trouble.SHORT})
    lines = writer_on(disk).append(turn(0))
    assert disk.read(LOG) == b"".join(line.raw + b"\n" for line in lines)


@pytest.mark.parametrize(
    ("call", "trouble", "why"),
    [
        (2, Trouble.FULL, "the disk is full; make room"),
        (2, Trouble.READ_ONLY, "may not be written"),
        (3, Trouble.FULL, "the disk is full; make room"),
        (3, Trouble.FAILED, "the disk refused"),
    ],
)
def test_a_refusal_is_one_sentence_and_the_end_of_the_writer(call: int, trouble: Trouble, why: str) -> None:
    disk = VirtualDisk(trouble={call: trouble})
    writer = writer_on(disk)
    with pytest.raises(MachineError, match=rf"^Can't write to bench.log\.jsonl: .*{why}"):
        writer.append(turn(0))
    asked = len(disk.calls)
    with pytest.raises(MachineError, match=r"^Nothing more is written to bench.log\.jsonl"):
        writer.append(turn(0))
    assert len(disk.calls) == asked


@pytest.mark.parametrize(
    ("troubles", "kept"),
    [
        ([Trouble.FULL], True),
        ([Trouble.SHORT, Trouble.FULL], True),
        ([Trouble.SHORT, Trouble.SHORT, Trouble.SHORT, Trouble.FULL], True),
        ([Trouble.SHORT, Trouble.FAILED], True),
        ([Trouble.SHORT, Trouble.READ_ONLY, Trouble.READ_ONLY], False),
    ],
)
def test_nothing_of_a_turn_that_was_refused_is_left(troubles: list[Trouble], kept: bool) -> None:
    disk = VirtualDisk()
    writer = writer_on(disk)
    writer.append(turn(0))
    disk.fsync_folder(disk.root)
    before, calls = disk.read(LOG), len(disk.calls)
    disk.trouble = {calls + n: trouble for n, trouble in enumerate(troubles, 1)}
    with pytest.raises(MachineError):
        writer.append(turn(1))
    left = disk.read(LOG)
    assert (left == before) is kept  # a disk that can't even be cut keeps it, and it counts as after a kill
    disk.restart(Loss.DROP)
    assert disk.read(LOG) == before


def test_a_closed_writer_takes_nothing() -> None:
    writer = writer_on(VirtualDisk())
    writer.close()
    with pytest.raises(MachineError, match="it was closed"):
        writer.append(turn(0))
