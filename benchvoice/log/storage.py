"""The disk, as the log needs it: everything durable goes through a `Storage`.

What a disk promises, and what it doesn't (a test disk, `benchvoice.testing.disk`, takes all of it literally):

- A write may take fewer bytes than were given, and what it took is safe only after `fsync`.
- `fsync` of a file does not make its *name* safe: the folder needs its own after a file is made, renamed or removed.
- A failed `fsync` is final. The system may have dropped the bytes, and the next `fsync` then succeeds without them.
  So nobody here tries one again.

All paths are absolute or relative as the caller likes; errors are OSError, turned into sentences by `refusal`.
"""

import errno
import os
import sys
from pathlib import Path
from typing import Protocol

from filelock import FileLock, Timeout

from benchvoice.errors import MachineError

_NO_SUCH_CALL = (errno.EINVAL, errno.ENOTSUP, errno.ENOTTY)
"""How some drives and mounted file systems (network, some USB) say that they don't have a kind of sync at all."""


class File(Protocol):
    """An open file that is written from front to back."""

    def write(self, data: bytes) -> int:
        """Hand bytes over; how many were taken (perhaps fewer)."""

    def fsync(self) -> None:
        """Return only when everything written so far would survive a power cut."""

    def cut(self, length: int) -> None:
        """Keep only the first bytes; safe after `fsync`."""

    def close(self) -> None:
        """Give the file back. Promises nothing about its bytes."""


class Lock(Protocol):
    """A held lock. It also ends with the process, however that ends."""

    def release(self) -> None: ...


class Storage(Protocol):
    """What the log asks of a disk."""

    def append(self, path: Path) -> File:
        """Open for writing at the end; the file is made where there is none."""

    def create(self, path: Path) -> File:
        """Open an empty file of that name, whatever was there."""

    def read(self, path: Path) -> bytes: ...

    def exists(self, path: Path) -> bool: ...

    def names(self, folder: Path) -> list[str]:
        """The names in a folder, sorted."""

    def make_folder(self, path: Path) -> None:
        """Make one folder inside one that is there; fine if it is there already."""

    def replace(self, old: Path, new: Path) -> None:
        """Rename in one step, over whatever has the new name."""

    def remove(self, path: Path) -> None: ...

    def fsync_folder(self, path: Path) -> None:
        """Return only when the names in this folder would survive a power cut."""

    def lock(self, path: Path) -> Lock | None:
        """Take the exclusive lock on this file; None when someone else holds it."""


class _DiskFile:
    def __init__(self, path: Path, flags: int) -> None:
        self._handle = os.open(path, os.O_WRONLY | os.O_CREAT | flags | getattr(os, "O_BINARY", 0), 0o644)

    def write(self, data: bytes) -> int:
        return os.write(self._handle, data)

    def fsync(self) -> None:
        _fsync(self._handle)

    def cut(self, length: int) -> None:
        os.ftruncate(self._handle, length)

    def close(self) -> None:
        os.close(self._handle)


def _fsync(handle: int) -> None:
    if sys.platform == "darwin":
        import fcntl

        # There os.fsync leaves the bytes in the drive's own cache; this call empties that too.
        try:
            fcntl.fcntl(handle, fcntl.F_FULLFSYNC)
            return
        except OSError as fault:
            if fault.errno not in _NO_SUCH_CALL:
                raise
    os.fsync(handle)


class DiskStorage:
    """The real disk."""

    def append(self, path: Path) -> File:
        return _DiskFile(path, os.O_APPEND)

    def create(self, path: Path) -> File:
        return _DiskFile(path, os.O_TRUNC)

    def read(self, path: Path) -> bytes:
        return path.read_bytes()

    def exists(self, path: Path) -> bool:
        return path.exists()

    def names(self, folder: Path) -> list[str]:
        return sorted(os.listdir(folder))

    def make_folder(self, path: Path) -> None:
        path.mkdir(exist_ok=True)

    def replace(self, old: Path, new: Path) -> None:
        os.replace(old, new)

    def remove(self, path: Path) -> None:
        path.unlink()

    def fsync_folder(self, path: Path) -> None:
        if os.name == "nt":  # folders can't be opened there; NTFS journals names by itself
            return
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        except OSError as fault:
            if fault.errno not in _NO_SUCH_CALL:
                raise
        finally:
            os.close(handle)

    def lock(self, path: Path) -> Lock | None:
        # Opened by hand first: a folder that can't be written to must say so, and not look like a held lock.
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o644))
        lock = FileLock(path, thread_local=False)
        try:
            lock.acquire(timeout=0)
        except Timeout:
            return None
        return lock


def refusal(doing: str, path: Path, fault: OSError) -> MachineError:
    """The disk's refusal as one sentence that names the place and the remedy."""
    if fault.errno in (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)):
        why, remedy = "the disk is full", "make room on it and resume"
    elif fault.errno in (errno.EROFS, errno.EACCES, errno.EPERM):
        why, remedy = "it may not be written or read there", "allow it for this folder, or choose another folder"
    elif fault.errno == errno.ENOENT:
        why, remedy = "it isn't there", "check the name"
    elif fault.errno in (errno.ENOTDIR, errno.EISDIR, errno.EEXIST):
        why, remedy = f"something else is in the way ({fault.strerror})", "choose another folder"
    else:
        why, remedy = f"the disk refused ({fault.strerror or fault})", "look after the disk, then resume"
    return MachineError(f"Can't {doing} {path}: {why}; {remedy}.")


def write_all(file: File, data: bytes) -> None:
    """Write every byte, however few the disk takes at a time (usually all at once)."""
    taken = file.write(data)
    while taken < len(data):
        more = file.write(data[taken:])
        if more == 0:
            raise OSError(errno.ENOSPC, "the disk takes no more bytes")
        taken += more


def write_durably(storage: Storage, path: Path, data: bytes) -> None:
    """Put a whole file in place so that a power cut leaves the old one or the new one and nothing between.

    Bytes, fsync, rename, fsync of the folder: in this order, since a rename may reach the disk before the bytes do.
    """
    half_done = path.with_name(f".{path.name}.new")  # one that a crash left behind is written over
    file = storage.create(half_done)
    try:
        write_all(file, data)
        file.fsync()
    finally:
        file.close()
    storage.replace(half_done, path)
    storage.fsync_folder(path.parent)


def make_folders(storage: Storage, path: Path) -> None:
    """Make a folder and the missing ones above it, each safe in the one that holds it."""
    if not storage.exists(path):
        make_folders(storage, path.parent)
        storage.make_folder(path)
        storage.fsync_folder(path.parent)
