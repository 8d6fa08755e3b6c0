from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest

from benchvoice.errors import MachineError
from benchvoice.log.clips import drop_clip, write_clip
from benchvoice.log.folder import add_procedure_version, create_build
from benchvoice.log.grammars import keep_grammar
from benchvoice.log.line import Line, digest
from benchvoice.log.read import Fault
from benchvoice.log.verify import verify
from benchvoice.session.entries import Amended, Heard, Opened, Sound, Unclear, Verdict
from benchvoice.testing.disk import VirtualDisk

from .samples import stamp, turn

BUILD = Path("bench") / "b"
OLD, NEW = b"schema: 1\n", b"schema: 1\ntitle: new\n"


def evening() -> VirtualDisk:
    """A build of 7 lines: 1 opened, 2 heard and 3 unclear with their sounds, 4 amended, 5 to 7 a typed turn."""
    disk = VirtualDisk()
    with create_build(BUILD, OLD, disk) as build:
        opened = Opened(title="x", procedure="procedure.yaml", procedure_sha256=digest(OLD), program="0")
        build.append([stamp(opened)])
        grammar = keep_grammar(BUILD, ["yes", "no"], disk)
        for number, kind in enumerate((Heard, Unclear)):
            clip = write_clip(BUILD, np.arange(99, dtype=np.int16) + np.int16(number), disk)
            sound = Sound(clip=clip.file, clip_sha256=clip.sha256, grammar=grammar, model="0")
            rest = {"understood": "yes"} if kind is Heard else {"reason": "two numbers"}
            build.append([stamp(kind(text="yes", sound=sound, **rest))])  # type: ignore[arg-type]
        file = add_procedure_version(build, NEW)
        build.append([stamp(Amended(procedure=file, procedure_sha256=digest(NEW), reason="r", difference="d"))])
        build.append(turn(0))
    return disk


def change(disk: VirtualDisk, file: str, old: bytes, new: bytes) -> None:
    data = disk.read(BUILD / file)
    assert old in data
    disk.create(BUILD / file).write(data.replace(old, new, 1))


def test_an_untouched_build_is_fine() -> None:
    verified = verify(BUILD, storage=evening())
    assert verified.fault is None
    assert len(verified.contents.lines) == 7
    assert verified.head == digest(verified.contents.lines[-1].raw)


def test_the_first_bad_line_is_named() -> None:
    disk = evening()
    change(disk, "log.jsonl", b'"understood":"yes"', b'"understood":"no"')
    verified = verify(BUILD, storage=disk)
    assert verified.fault is not None
    assert str(verified.fault).startswith("line 2 was changed after it was written")
    assert len(verified.contents.lines) >= 1


def test_a_torn_last_line_is_told_and_no_fault() -> None:
    disk = evening()
    disk.append(BUILD / "log.jsonl").write(b'{"n":')
    verified = verify(BUILD, storage=disk)
    assert (verified.fault, verified.contents.torn) == (None, b'{"n":')


@pytest.mark.parametrize(
    ("file", "old", "new", "line"),
    [
        ("procedure.yaml", b"1", b"2", 1),
        ("procedure-2.yaml", b"new", b"old", 4),
        ("clips/000001.flac", b"fLaC", b"FLAC", 2),
        ("clips/000002.flac", b"fLaC", b"FLAC", 3),
    ],
)
def test_a_changed_file_is_named_by_the_line_that_vouches_for_it(file: str, old: bytes, new: bytes, line: int) -> None:
    disk = evening()
    change(disk, file, old, new)
    assert verify(BUILD, storage=disk).fault == Fault(line, f"names {file}, which is not the file it was")


@pytest.mark.parametrize(("file", "line"), [("procedure.yaml", 1), ("procedure-2.yaml", 4), ("clips/000001.flac", 2)])
def test_a_file_that_is_gone_is_named(file: str, line: int) -> None:
    disk = evening()
    disk.remove(BUILD / file)
    fault = verify(BUILD, storage=disk).fault
    assert fault is not None
    assert fault.line == line
    assert "names a file that can't be had: Can't read" in fault.what


def test_a_changed_grammar_is_found() -> None:
    disk = evening()
    change(disk, f"grammars/{disk.names(BUILD / 'grammars')[0]}", b"no", b"NO")
    fault = verify(BUILD, storage=disk).fault
    assert fault is not None
    assert fault.line == 2
    assert "was changed after it was kept" in fault.what


def test_a_sound_that_was_dropped_on_request_is_no_fault() -> None:
    disk = evening()
    drop_clip(BUILD, "clips/000001.flac", disk)
    assert verify(BUILD, storage=disk).fault is None


def test_the_judge_sees_the_lines_and_is_heard() -> None:
    def judge(lines: Sequence[Line]) -> Fault | None:
        bad = [line.n for line in lines if isinstance(line.entry, Verdict)]
        return Fault(bad[0], "says in limits; over by 1") if bad else None

    assert verify(BUILD, judge, evening()).fault == Fault(7, "says in limits; over by 1")


def test_of_two_faults_the_earlier_is_named() -> None:
    disk = evening()
    change(disk, "procedure-2.yaml", b"new", b"old")
    for line, first in ((3, 3), (6, 4)):
        fault = verify(BUILD, lambda lines, line=line: Fault(line, "differs"), disk).fault  # type: ignore[misc]
        assert fault is not None
        assert fault.line == first


def test_no_build_is_one_sentence() -> None:
    with pytest.raises(MachineError, match="There is no build"):
        verify(Path("bench"), storage=VirtualDisk())
