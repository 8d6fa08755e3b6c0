"""A build's folder: the log, the clips, the procedure as it was begun and as it was amended, and the lock.

    log.jsonl          the truth (benchvoice.log.line)
    log.torn-1 …       unfinished last writes that were set aside, kept as they were found
    clips/000123.flac  sounds (benchvoice.log.clips)
    procedure.yaml     the document as the build began with it; procedure-2.yaml … as it was amended
    procedure.torn-1   the document of a build that never began, where another was begun in its folder
    lock               held by the one process that writes; the file alone means nothing

Making one and opening one both end with everything they made safe on the disk, names included. Until the first entries
are appended the build has not begun, and making it again is allowed: nobody was told of it.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType

from benchvoice.errors import MachineError
from benchvoice.log.append import LogWriter
from benchvoice.log.line import Line, Stamped
from benchvoice.log.read import LOG_NAME, LogContents, LogDamaged, before_first_line, read_bytes, scan
from benchvoice.log.storage import DiskStorage, Lock, Storage, make_folders, refusal, write_durably

PROCEDURE_NAME = "procedure.yaml"
CLIPS_NAME = "clips"
LOCK_NAME = "lock"
_PROCEDURE = re.compile(r"procedure(-[0-9]+)?\.yaml")
_OURS = re.compile(r"\..*\.new|lock|clips|grammars|procedure(-[0-9]+)?\.yaml|log\.jsonl|(log|procedure)\.torn-[0-9]+")


@dataclass(frozen=True, slots=True)
class OpenBuild:
    """A build that this process alone may write. Use it in a `with`, or close it."""

    path: Path
    storage: Storage
    contents: LogContents
    """What the log held when it was opened."""
    set_aside: str | None
    """The file that now holds the last process's unfinished write, when it left one."""
    writer: LogWriter
    lock: Lock

    def append(self, entries: Sequence[Stamped]) -> tuple[Line, ...]:
        """Write the entries of one turn, durably: see LogWriter.append."""
        return self.writer.append(entries)

    def close(self) -> None:
        """Give the lock back. Nothing has to be saved: it was, entry by entry."""
        self.writer.close()
        self.lock.release()

    def __enter__(self) -> "OpenBuild":
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        self.close()


def create_build(path: Path, procedure: bytes, storage: Storage | None = None) -> OpenBuild:
    """Make a build's folder with its frozen procedure and an empty log, and open it.

    The folder may be there already if it is empty or holds a build that never began. MachineError, in one sentence:
    something else is there, another process has it, or the disk refuses.
    """
    storage = storage or DiskStorage()
    try:
        make_folders(storage, path)
        others = [name for name in storage.names(path) if not _OURS.fullmatch(name)]
        if others:
            raise MachineError(f"{path} is no place for a build: it holds other things ({others[0]}); name a new one.")
        lock = _take_lock(path, storage)
        try:
            data = read_bytes(path, storage) if storage.exists(path / LOG_NAME) else b""
            if _has_begun(data):
                raise MachineError(f"{path} holds a build already: resume it, or name a new folder.")
            make_folders(storage, path / CLIPS_NAME)
            _keep_other(path, procedure, storage)
            write_durably(storage, path / PROCEDURE_NAME, procedure)
            return _open(path, data, lock, storage)
        except BaseException:
            lock.release()
            raise
    except OSError as fault:
        raise refusal("make a build in", path, fault) from fault


def open_build(path: Path, storage: Storage | None = None) -> OpenBuild:
    """Open a build to go on with it: the log is checked whole, and a torn last write set aside and reported.

    MachineError, in one sentence: no build there, it never began, another process has it, the disk refuses, or
    (LogDamaged) a line is not as it was written.
    """
    storage = storage or DiskStorage()
    read_bytes(path, storage)  # says that there is no build, before a lock file is made in some other folder
    try:
        lock = _take_lock(path, storage)
        try:
            data = read_bytes(path, storage)
            if not _has_begun(data):
                found = before_first_line(data or None)
                raise MachineError(
                    f"The build in {path} never began: {found}. Begin it again, in this folder (what is there is set "
                    "aside) or a new one."
                )
            return _open(path, data, lock, storage)
        except BaseException:
            lock.release()
            raise
    except OSError as fault:
        raise refusal("open the build in", path, fault) from fault


def _keep_other(path: Path, procedure: bytes, storage: Storage) -> None:
    """Set aside the procedure of a build that never began, where it was another one."""
    if storage.exists(path / PROCEDURE_NAME):
        before = storage.read(path / PROCEDURE_NAME)
        if before not in (procedure, b""):
            write_durably(storage, path / _next_name(path, "procedure.torn-", "", 1, storage), before)


def _take_lock(path: Path, storage: Storage) -> Lock:
    lock = storage.lock(path / LOCK_NAME)
    if lock is None:
        raise MachineError(f"Another benchvoice has the build in {path} open: close that one first.")
    return lock


def _has_begun(data: bytes) -> bool:
    """Whether a line was ever finished; before that nobody was told of the build."""
    return b"\n" in data


def _open(path: Path, data: bytes, lock: Lock, storage: Storage) -> OpenBuild:
    """Check the log, set the torn tail aside, and write the log afresh before a word of it is said aloud.

    Afresh, because what was read may be on no disk yet: a killed process leaves lines that only the system's memory
    has, and after a failed fsync those never get out, however often it is tried again. A new file is not in doubt.
    """
    contents, fault = scan(data)
    if fault is not None:
        raise LogDamaged(path / LOG_NAME, fault)
    set_aside = None
    if contents.torn is not None:
        set_aside = _next_name(path, "log.torn-", "", 1, storage)
        write_durably(storage, path / set_aside, contents.torn)
    log, whole = path / LOG_NAME, b"".join(line.raw + b"\n" for line in contents.lines)
    write_durably(storage, log, whole)
    writer = LogWriter(storage.append(log), log, written=len(contents.lines), head=contents.head, size=len(whole))
    return OpenBuild(path, storage, contents, set_aside, writer, lock)


def _next_name(path: Path, before: str, after: str, first: int, storage: Storage) -> str:
    """The first free numbered name: none that is there is ever written over."""
    taken = set(storage.names(path))
    number = first
    while f"{before}{number}{after}" in taken:
        number += 1
    return f"{before}{number}{after}"


def add_procedure_version(build: OpenBuild, procedure: bytes) -> str:
    """Freeze an amended procedure beside the first one; its file's name, for the entry that says why."""
    try:
        name = _next_name(build.path, "procedure-", ".yaml", 2, build.storage)
        write_durably(build.storage, build.path / name, procedure)
    except OSError as fault:
        raise refusal("keep the amended procedure in", build.path, fault) from fault
    return name


def procedure_bytes(folder: Path, file: str, storage: Storage | None = None) -> bytes:
    """A frozen procedure of a build, by the name in its log. MachineError when it isn't there."""
    if not _PROCEDURE.fullmatch(file):
        raise MachineError(f"{file!r} is no procedure of the build in {folder}: one is named like procedure-2.yaml.")
    try:
        return (storage or DiskStorage()).read(folder / file)
    except OSError as fault:
        raise refusal("read the procedure", folder / file, fault) from fault


def list_builds(home: Path, storage: Storage | None = None) -> tuple[Path, ...]:
    """The builds' folders inside a folder, sorted by name; empty when there is no such folder."""
    storage = storage or DiskStorage()
    try:
        if not storage.exists(home):
            return ()
        return tuple(home / name for name in storage.names(home) if storage.exists(home / name / LOG_NAME))
    except OSError as fault:
        raise refusal("list the builds in", home, fault) from fault
