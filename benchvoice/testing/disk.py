"""A disk in memory that takes every promise literally: it keeps what was synced, and may lose all the rest.

Use it wherever a `benchvoice.log.storage.Storage` is asked for:

    disk = VirtualDisk(crash_at=7)          # the power fails in the 7th call that changes anything
    try:
        work(disk)
    except PowerCut:
        pass
    disk.restart(Loss.TORN)                 # what a reader finds afterwards

The model, per file: `data` is what any process reads (the system's memory), `safe` what the platters hold; `fsync`
makes them equal. Names are kept apart from files: a name that was made, moved or removed is safe only once its folder
is synced. After a failed fsync the bytes are gone for good though they can still be read, and later fsyncs succeed
without them, as Linux does it.
"""

import errno
import os
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path


class PowerCut(BaseException):
    """The power failed in the middle of a call. No `except Exception` survives it, as no program does."""


class Loss(StrEnum):
    """What a power cut leaves of bytes and names that were never synced."""

    DROP = "drop"
    """Nothing."""
    TORN = "torn"
    """A beginning of the bytes, and the first few of the name changes: any of them may have got out."""
    ZEROS = "zeros"
    """The files' lengths, and a beginning of the bytes; zero bytes for the rest."""


class Trouble(StrEnum):
    """How a call fails without a power cut."""

    FULL = "disk full"
    """A write takes half of its bytes, and then there is no room. Any other call: no room."""
    SHORT = "short write"
    """A write takes half of its bytes and says so: no error."""
    FAILED = "failed sync"
    """An input/output error, which for an fsync means that the bytes are gone."""
    READ_ONLY = "read-only"


_ERRNO = {Trouble.FULL: errno.ENOSPC, Trouble.FAILED: errno.EIO, Trouble.READ_ONLY: errno.EROFS}


@dataclass(eq=False)
class _Inode:
    data: bytearray = field(default_factory=bytearray)
    safe: bytes = b""
    gone_from: int | None = None  # a failed fsync: bytes from here on never get out

    def sync(self) -> None:
        self.safe = bytes(self.data if self.gone_from is None else self.data[: self.gone_from])


class _Folder:
    """Stands for a folder among the names."""


_Names = dict[Path, _Inode | _Folder]
_Change = dict[Path, _Inode | _Folder | None]  # what each name becomes; None: it goes


def _apply(change: _Change, names: _Names) -> None:
    for path, what in change.items():
        if what is None:
            names.pop(path, None)
        else:
            names[path] = what


class VirtualDisk:
    """A `Storage` in memory. `root` is there from the start and safe; everything else must be made in it."""

    def __init__(
        self,
        root: Path = Path("bench"),
        *,
        crash_at: int | None = None,
        trouble: Mapping[int, Trouble] | None = None,
        deaf: Callable[[str, Path], bool] | None = None,
        seed: int = 0,
    ) -> None:
        """`crash_at`: the call, from 1, that the power fails in. `trouble`: calls that fail otherwise.

        `deaf(call, path)`: whether this "fsync" or "fsync folder" does nothing at all, as if it had been left out.
        """
        self.root = root
        self.calls: list[tuple[str, Path]] = []
        """Every call so far that changes something or makes it safe."""
        self.crash_at = crash_at
        self.trouble = dict(trouble or {})
        self._deaf = deaf or (lambda call, path: False)
        self.random = random.Random(seed)
        self._names: _Names = {root: _Folder()}
        self._safe_names: _Names = dict(self._names)
        self._unsafe: list[_Change] = []
        self._locks: set[Path] = set()
        self.life = 0
        """How many times the program was killed or the power failed: handles of an earlier life are dead."""

    # What a Storage does -----------------------------------------------------------------------------------------

    def append(self, path: Path) -> "VirtualFile":
        if path not in self._names:
            return self.create(path)
        return VirtualFile(self, path, self._inode(path))

    def create(self, path: Path) -> "VirtualFile":
        self.call("create", path)
        inode = _Inode()
        self._change({path: inode})
        return VirtualFile(self, path, inode)

    def read(self, path: Path) -> bytes:
        return bytes(self._inode(path).data)

    def exists(self, path: Path) -> bool:
        return path in self._names

    def names(self, folder: Path) -> list[str]:
        if not isinstance(self._found(folder), _Folder):
            raise _error(errno.ENOTDIR, folder)
        return sorted(path.name for path in self._names if path.parent == folder and path != folder)

    def make_folder(self, path: Path) -> None:
        if path not in self._names:
            self.call("make folder", path)
            self._change({path: _Folder()})

    def replace(self, old: Path, new: Path) -> None:
        self.call("replace", new)
        self._change({old: None, new: self._inode(old)})

    def remove(self, path: Path) -> None:
        self._inode(path)
        self.call("remove", path)
        self._change({path: None})

    def fsync_folder(self, path: Path) -> None:
        self._found(path)
        self.call("fsync folder", path)
        if self._deaf("fsync folder", path):
            return
        # A journal keeps its order: what was changed here gets out, and what it shares a change with.
        for change in list(self._unsafe):
            if any(name.parent == path for name in change):
                _apply(change, self._safe_names)
                self._unsafe.remove(change)

    def lock(self, path: Path) -> "VirtualLock | None":
        if path not in self._names:
            self.create(path)
        if path in self._locks:
            return None
        self._locks.add(path)
        return VirtualLock(self, path)

    # What happens to it ------------------------------------------------------------------------------------------

    def kill(self) -> None:
        """The program is killed: its handles and locks are gone, but the system's memory lives on."""
        self.life += 1
        self._locks.clear()
        self.crash_at = None

    def restart(self, loss: Loss) -> None:
        """The power failed and came back. What was not safe is lost, as `loss` says."""
        self.kill()
        if loss is not Loss.DROP:
            for change in self._unsafe[: self.random.randint(0, len(self._unsafe))]:
                _apply(change, self._safe_names)
        self._unsafe.clear()
        self._names = {path: what for path, what in self._safe_names.items() if self._reachable(path)}
        self._safe_names = dict(self._names)
        for inode in {what for what in self._names.values() if isinstance(what, _Inode)}:
            self._lose(inode, loss)

    def _lose(self, inode: _Inode, loss: Loss) -> None:
        extra = bytes(inode.data[len(inode.safe) :])
        if inode.gone_from is not None:
            extra = b""
        kept = 0 if loss is Loss.DROP else self.random.randint(0, len(extra))
        filler = bytes(len(extra) - kept) if loss is Loss.ZEROS else b""
        inode.data = bytearray(inode.safe + extra[:kept] + filler)
        inode.safe, inode.gone_from = bytes(inode.data), None

    def _reachable(self, path: Path) -> bool:
        return path == self.root or all(
            isinstance(self._safe_names.get(above), _Folder)
            for above in path.parents
            if above == self.root or self.root in above.parents
        )

    # Inside ------------------------------------------------------------------------------------------------------

    @property
    def is_off(self) -> bool:
        """Whether the power has failed and the disk was not restarted since."""
        return self.crash_at is not None and len(self.calls) >= self.crash_at

    def call(self, what: str, path: Path) -> Trouble | None:
        """Count a call; the power fails, or an OSError is raised, when it is this one's turn.

        Troubles that a file's write or fsync works out for itself are handed back.
        """
        if self.is_off:
            raise PowerCut  # the program is dead: what it still tries while unwinding does nothing
        self.calls.append((what, path))
        if len(self.calls) == self.crash_at:
            raise PowerCut
        trouble = self.trouble.get(len(self.calls))
        if trouble is None or what in ("write", "fsync"):
            return trouble
        if trouble is Trouble.SHORT:
            return None
        raise _error(_ERRNO[trouble], path)

    def deaf(self, what: str, path: Path) -> bool:
        return self._deaf(what, path)

    def release(self, path: Path) -> None:
        self._locks.discard(path)

    def _change(self, change: _Change) -> None:
        for path in change:
            if not isinstance(self._found(path.parent), _Folder):
                raise _error(errno.ENOTDIR, path)
        _apply(change, self._names)
        self._unsafe.append(change)

    def _found(self, path: Path) -> _Inode | _Folder:
        if path not in self._names:
            raise _error(errno.ENOENT, path)
        return self._names[path]

    def _inode(self, path: Path) -> _Inode:
        found = self._found(path)
        if isinstance(found, _Folder):
            raise _error(errno.EISDIR, path)
        return found


class VirtualFile:
    """A handle of one life of the program; when that life is over it is dead."""

    def __init__(self, disk: VirtualDisk, path: Path, inode: _Inode) -> None:
        self._disk, self._path, self._inode, self._life = disk, path, inode, disk.life

    def _call(self, what: str) -> Trouble | None:
        if self._life != self._disk.life:
            raise PowerCut
        return self._disk.call(what, self._path)

    def write(self, data: bytes) -> int:
        was_on = self._life == self._disk.life and not self._disk.is_off
        try:
            trouble = self._call("write")
        except PowerCut:
            if was_on:
                self._inode.data += data[: self._disk.random.randint(0, len(data))]
            raise
        taken = len(data) if trouble is None else len(data) // 2
        if trouble not in (Trouble.FAILED, Trouble.READ_ONLY):
            self._inode.data += data[:taken]
        if trouble in _ERRNO:
            raise _error(_ERRNO[trouble], self._path)
        return taken

    def fsync(self) -> None:
        trouble = self._call("fsync")
        if trouble in _ERRNO:
            if self._inode.gone_from is None:
                self._inode.gone_from = len(self._inode.safe)
            raise _error(_ERRNO[trouble], self._path)
        if not self._disk.deaf("fsync", self._path):
            self._inode.sync()

    def cut(self, length: int) -> None:
        self._call("cut")
        del self._inode.data[length:]

    def close(self) -> None:
        """Nothing: closing promises nothing."""


class VirtualLock:
    """A lock of one life of the program."""

    def __init__(self, disk: VirtualDisk, path: Path) -> None:
        self._disk, self._path, self._life = disk, path, disk.life

    def release(self) -> None:
        if self._life == self._disk.life:
            self._disk.release(self._path)


def _error(number: int, path: Path) -> OSError:
    return OSError(number, os.strerror(number), str(path))
