"""The same checks on the real disk and on the virtual one: what the log relies on holds for both."""

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from benchvoice.log.storage import DiskStorage, Storage, make_folders, refusal, write_all, write_durably
from benchvoice.testing.disk import Trouble, VirtualDisk

Place = tuple[Storage, Path]


@pytest.fixture(params=["disk", "virtual"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    if request.param == "disk":
        return DiskStorage(), tmp_path
    return VirtualDisk(tmp_path), tmp_path


def test_bytes_come_back_in_order(place: Place) -> None:
    storage, root = place
    file = storage.append(root / "log")
    assert file.write(b"one ") == 4
    file.fsync()
    file.close()
    again = storage.append(root / "log")
    again.write(b"two")
    again.close()
    storage.fsync_folder(root)
    assert storage.read(root / "log") == b"one two"
    assert storage.exists(root / "log")


def test_create_empties_what_was_there(place: Place) -> None:
    storage, root = place
    write_durably(storage, root / "a", b"old")
    storage.create(root / "a").close()
    assert storage.read(root / "a") == b""


def test_bytes_are_bytes(place: Place) -> None:
    storage, root = place
    every = bytes(range(256)) + b"\r\n\x1a\n"
    write_durably(storage, root / "a", every)
    assert storage.read(root / "a") == every


def test_a_file_is_cut_and_gone_on_with(place: Place) -> None:
    storage, root = place
    file = storage.append(root / "log")
    file.write(b"one two")
    file.cut(4)
    file.write(b"three")
    file.fsync()
    file.close()
    assert storage.read(root / "log") == b"one three"


def test_names_replace_and_remove(place: Place) -> None:
    storage, root = place
    write_durably(storage, root / "b", b"1")
    write_durably(storage, root / "a", b"2")
    assert storage.names(root) == ["a", "b"]
    storage.replace(root / "a", root / "b")
    assert (storage.names(root), storage.read(root / "b")) == (["b"], b"2")
    storage.remove(root / "b")
    assert storage.names(root) == []


def test_folders_are_made_one_in_another_and_twice_is_fine(place: Place) -> None:
    storage, root = place
    make_folders(storage, root / "x" / "y" / "z")
    make_folders(storage, root / "x" / "y")
    storage.make_folder(root / "x" / "y")
    write_durably(storage, root / "x" / "y" / "a", b"")
    assert storage.names(root / "x" / "y") == ["a", "z"]


@pytest.mark.parametrize(
    ("call", "number"),
    [
        (lambda storage, root: storage.read(root / "none"), errno.ENOENT),
        (lambda storage, root: storage.remove(root / "none"), errno.ENOENT),
        (lambda storage, root: storage.replace(root / "none", root / "a"), errno.ENOENT),
        (lambda storage, root: storage.names(root / "none"), errno.ENOENT),
        (lambda storage, root: storage.create(root / "none" / "a"), errno.ENOENT),
        (lambda storage, root: storage.append(root / "none" / "a"), errno.ENOENT),
        (lambda storage, root: storage.fsync_folder(root / "none"), errno.ENOENT),
        (lambda storage, root: storage.names(root / "file"), errno.ENOTDIR),
        (lambda storage, root: storage.create(root / "file" / "a"), errno.ENOTDIR),
        (lambda storage, root: storage.read(root), errno.EISDIR),
    ],
)
def test_what_is_not_there_is_an_oserror(place: Place, call: Callable[[Storage, Path], object], number: int) -> None:
    storage, root = place
    write_durably(storage, root / "file", b"")
    with pytest.raises(OSError, match="Errno") as fault:
        call(storage, root)
    if os.name != "nt":
        assert fault.value.errno == number


def test_a_lock_is_held_once_and_can_be_had_again(place: Place) -> None:
    storage, root = place
    lock = storage.lock(root / "lock")
    assert lock is not None
    assert storage.lock(root / "lock") is None
    lock.release()
    again = storage.lock(root / "lock")
    assert again is not None
    again.release()


def test_a_lock_file_that_was_left_behind_means_nothing(place: Place) -> None:
    storage, root = place
    write_durably(storage, root / "lock", b"")
    lock = storage.lock(root / "lock")
    assert lock is not None
    lock.release()


def test_a_folder_that_may_not_be_written_is_no_held_lock(tmp_path: Path) -> None:
    with pytest.raises(OSError, match="Errno"):
        DiskStorage().lock(tmp_path / "none" / "lock")


def test_a_short_write_is_gone_on_with() -> None:
    disk = VirtualDisk(trouble={2: Trouble.SHORT, 3: Trouble.SHORT})
    file = disk.create(disk.root / "a")
    write_all(file, b"abcdefgh")
    assert disk.read(disk.root / "a") == b"abcdefgh"
    assert [call for call, _ in disk.calls] == ["create", "write", "write", "write"]


def test_a_disk_that_takes_nothing_is_full() -> None:
    class Stuck:
        def write(self, data: bytes) -> int:
            return 0

        def fsync(self) -> None: ...

        def close(self) -> None: ...

    with pytest.raises(OSError, match="no more bytes"):
        write_all(Stuck(), b"abc")


@pytest.mark.parametrize(
    ("number", "rest"),
    [
        (errno.ENOSPC, "the disk is full; make room on it and resume."),
        (errno.EROFS, "it may not be written or read there; allow it for this folder, or choose another folder."),
        (errno.EACCES, "it may not be written or read there; allow it for this folder, or choose another folder."),
        (errno.ENOENT, "it isn't there; check the name."),
        (errno.EIO, f"the disk refused ({os.strerror(errno.EIO)}); look after the disk, then resume."),
    ],
)
def test_a_refusal_is_one_sentence_with_a_remedy(number: int, rest: str) -> None:
    assert str(refusal("write to", Path("x"), OSError(number, os.strerror(number)))) == f"Can't write to x: {rest}"
