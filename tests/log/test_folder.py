import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchvoice.errors import MachineError
from benchvoice.log.folder import add_procedure_version, create_build, list_builds, open_build, procedure_bytes
from benchvoice.log.read import LogDamaged, before_first_line, read_log
from benchvoice.log.storage import DiskStorage
from benchvoice.testing.disk import Trouble, VirtualDisk

from .samples import finding, turn

PROCEDURE = b"schema: 1\r\ntitle: caf\xc3\xa9\n"


def begin(path: Path) -> None:
    with create_build(path, PROCEDURE) as build:
        build.append(turn(0))


def test_a_build_is_a_folder(tmp_path: Path) -> None:
    home = tmp_path / "builds" / "engine"
    begin(home)
    assert sorted(os.listdir(home)) == ["clips", "lock", "log.jsonl", "procedure.yaml"]
    assert (home / "procedure.yaml").read_bytes() == PROCEDURE
    assert procedure_bytes(home, "procedure.yaml") == PROCEDURE
    assert len(read_log(home).lines) == 3


def test_it_is_gone_on_with_where_it_was(tmp_path: Path) -> None:
    begin(tmp_path / "b")
    before = (tmp_path / "b" / "log.jsonl").read_bytes()
    with open_build(tmp_path / "b") as build:
        assert build.set_aside is None
        assert [line.n for line in build.contents.lines] == [1, 2, 3]
        assert [line.n for line in build.append([finding(9)])] == [4]
    assert (tmp_path / "b" / "log.jsonl").read_bytes().startswith(before)
    assert len(read_log(tmp_path / "b").lines) == 4


def test_unfinished_writes_are_set_aside_one_by_one_and_kept(tmp_path: Path) -> None:
    begin(tmp_path / "b")
    for number, tail in enumerate([b'{"at":"2026', b"\0\0\0"], start=1):
        with (tmp_path / "b" / "log.jsonl").open("ab") as log:
            log.write(tail)
        with open_build(tmp_path / "b") as build:
            assert build.set_aside == f"log.torn-{number}"
            assert build.contents.torn == tail
            assert (tmp_path / "b" / build.set_aside).read_bytes() == tail
            build.append([finding(number)])
    assert len(read_log(tmp_path / "b").lines) == 5


def test_a_damaged_log_is_refused_and_left_alone(tmp_path: Path) -> None:
    begin(tmp_path / "b")
    log = tmp_path / "b" / "log.jsonl"
    damaged = log.read_bytes().replace(b"thou", b"mm", 1)
    log.write_bytes(damaged)
    with pytest.raises(LogDamaged, match="line 1 was changed"):
        open_build(tmp_path / "b")
    assert log.read_bytes() == damaged
    log.write_bytes(damaged.replace(b"mm", b"thou", 1))
    open_build(tmp_path / "b").close()  # the lock was given back


def test_a_second_writer_is_kept_out_with_one_sentence(tmp_path: Path) -> None:
    with create_build(tmp_path / "b", PROCEDURE) as build:
        build.append(turn(0))
        for again in (lambda: open_build(tmp_path / "b"), lambda: create_build(tmp_path / "b", PROCEDURE)):
            with pytest.raises(MachineError, match=r"^Another benchvoice has the build in .*: close that one first\.$"):
                again()
        build.append(turn(1))
    assert len(read_log(tmp_path / "b").lines) == 6


def test_a_second_process_is_kept_out_and_a_reader_is_not(tmp_path: Path) -> None:
    code = (
        "import sys; from pathlib import Path; from benchvoice.log import open_build, read_log\n"
        "print(len(read_log(Path(sys.argv[1])).lines), flush=True); open_build(Path(sys.argv[1]))"
    )
    with create_build(tmp_path / "b", PROCEDURE) as build:
        build.append(turn(0))
        other = subprocess.run([sys.executable, "-c", code, str(tmp_path / "b")], capture_output=True, text=True)
    assert other.stdout == "3\n"
    assert "MachineError: Another benchvoice has the build" in other.stderr


def test_a_folder_with_other_things_is_not_taken_over(tmp_path: Path) -> None:
    (tmp_path / "holiday.jpg").write_bytes(b"")
    with pytest.raises(MachineError, match=r"is no place for a build: it holds other things \(holiday\.jpg\)"):
        create_build(tmp_path, PROCEDURE)
    assert os.listdir(tmp_path) == ["holiday.jpg"]


def test_a_build_is_not_begun_over_another(tmp_path: Path) -> None:
    begin(tmp_path / "b")
    with pytest.raises(MachineError, match="holds a build already: resume it"):
        create_build(tmp_path / "b", b"other")
    assert (tmp_path / "b" / "procedure.yaml").read_bytes() == PROCEDURE


@pytest.mark.parametrize("left", [b"", b'{"at":'])
def test_a_build_that_never_began_is_begun_again(tmp_path: Path, left: bytes) -> None:
    create_build(tmp_path / "b", b"old").close()
    (tmp_path / "b" / "log.jsonl").write_bytes(left)
    with pytest.raises(MachineError, match=r"never began: its log .* Begin it again"):
        open_build(tmp_path / "b")
    begin(tmp_path / "b")
    assert (tmp_path / "b" / "procedure.yaml").read_bytes() == PROCEDURE
    assert (tmp_path / "b" / "procedure.torn-1").read_bytes() == b"old"
    torn = tmp_path / "b" / "log.torn-1"
    assert (torn.read_bytes() if torn.exists() else b"") == left


@pytest.mark.parametrize(
    ("torn", "words"),
    [
        (None, "its log is empty"),
        (b"\0\0\0", "its log holds 3 zero bytes, and no text"),
        (b'{"at":"2026-03', "its log holds the beginning of its first line, 14 bytes, which was cut off before it was "
                            "whole"),
        (b'{"at":"2026-03-02T08:00:00.000Z","kind":"opened","title":"Small pump","up',
         "its log holds the beginning of its first line, 73 bytes (2026-03-02T08:00:00.000Z, Small pump), which was "
         "cut off before it was whole"),
    ],
)  # fmt: skip
def test_what_is_found_before_a_first_line_was_whole(torn: bytes | None, words: str) -> None:
    assert before_first_line(torn) == words


def test_amended_procedures_lie_beside_the_first(tmp_path: Path) -> None:
    with create_build(tmp_path / "b", PROCEDURE) as build:
        assert add_procedure_version(build, b"two") == "procedure-2.yaml"
        assert add_procedure_version(build, b"three") == "procedure-3.yaml"
    assert procedure_bytes(tmp_path / "b", "procedure-3.yaml") == b"three"
    assert procedure_bytes(tmp_path / "b", "procedure.yaml") == PROCEDURE


@pytest.mark.parametrize("file", ["../secret", "lock", "procedure.yaml/..", "procedure-2.yaml\n"])
def test_only_procedures_are_read_as_procedures(tmp_path: Path, file: str) -> None:
    with pytest.raises(MachineError, match="no procedure of the build"):
        procedure_bytes(tmp_path, file)


def test_listing(tmp_path: Path) -> None:
    assert list_builds(tmp_path / "none") == ()
    for name in ("b", "a"):
        begin(tmp_path / name)
    (tmp_path / "c").mkdir()
    (tmp_path / "d").write_bytes(b"")
    assert list_builds(tmp_path) == (tmp_path / "a", tmp_path / "b")
    with pytest.raises(MachineError, match=r"^Can't list the builds in"):
        list_builds(tmp_path / "d")


def test_no_build_there_makes_no_file(tmp_path: Path) -> None:
    for place in (tmp_path, tmp_path / "none"):
        with pytest.raises(MachineError, match="There is no build in"):
            open_build(place)
    assert os.listdir(tmp_path) == []


def test_a_file_in_the_way_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "b").write_bytes(b"")
    for place in (tmp_path / "b", tmp_path / "b" / "c"):
        with pytest.raises(MachineError, match=r"^Can't make a build in .*: something else is in the way"):
            create_build(place, PROCEDURE)


@pytest.mark.parametrize("trouble", [Trouble.READ_ONLY, Trouble.FULL])
def test_a_disk_that_takes_nothing_is_one_sentence(trouble: Trouble) -> None:
    disk = VirtualDisk()
    home = disk.root / "b"
    with create_build(home, PROCEDURE, disk) as build:
        build.append(turn(0))
    before = disk.read(home / "log.jsonl")
    disk.trouble = dict.fromkeys(range(1, 1000), trouble)
    with pytest.raises(MachineError, match=r"^Can't make a build in .*(disk is full; make room|may not be written)"):
        create_build(disk.root / "c", PROCEDURE, disk)
    with pytest.raises(MachineError, match=r"^Can't open the build in .*(disk is full; make room|may not be written)"):
        open_build(home, disk)
    assert disk.read(home / "log.jsonl") == before
    assert len(read_log(home, disk).lines) == 3
    disk.trouble = {}
    open_build(home, disk).close()


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root and Windows may write to any folder")
def test_a_read_only_folder_is_one_sentence(tmp_path: Path) -> None:
    begin(tmp_path / "b")
    (tmp_path / "b").chmod(0o555)
    try:
        with pytest.raises(MachineError, match="may not be written"):
            open_build(tmp_path / "b", DiskStorage())
        assert len(read_log(tmp_path / "b").lines) == 3
    finally:
        (tmp_path / "b").chmod(0o755)
