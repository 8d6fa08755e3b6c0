"""Reading a log: whole lines, what a torn write left after them, and the first thing that is wrong.

A process or a power supply that dies while writing leaves a line without its newline: half of its JSON, or zero bytes
where the length reached the disk and the text didn't. Nobody was told of such a line, so it doesn't count. Anything
else that is wrong was once acknowledged, and is refused by its line number.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from benchvoice.errors import MachineError
from benchvoice.log.line import FIRST_PREV, BadLine, Line, decode
from benchvoice.log.storage import DiskStorage, Storage, refusal

LOG_NAME = "log.jsonl"


@dataclass(frozen=True, slots=True)
class Fault:
    """The first thing that is wrong with a log: the line, from 1, and what is wrong with it."""

    line: int
    what: str

    def __str__(self) -> str:
        return f"line {self.line} {self.what}"


@dataclass(frozen=True, slots=True)
class LogContents:
    """What a log holds. `torn` is the unfinished last write, None when there is none."""

    lines: tuple[Line, ...]
    torn: bytes | None

    @property
    def head(self) -> str:
        """SHA-256 of the last line: vouches for the whole log, and is what the next line's `prev` must be."""
        return self.lines[-1].digest if self.lines else FIRST_PREV


def before_first_line(torn: bytes | None) -> str:
    """What a log without a whole line holds, in words: nobody was told of it, and it may be all that is left."""
    if torn is None:
        return "its log is empty"
    if not torn.strip(b"\0"):
        return f"its log holds {len(torn)} zero bytes, and no text"
    found = (_FROM.search(torn), _TITLE.search(torn))
    legible = ", ".join(each[1].decode(errors="replace") for each in found if each is not None)
    what = f"the beginning of its first line, {len(torn)} bytes" + (f" ({legible})" if legible else "")
    return f"its log holds {what}, which was cut off before it was whole"


_FROM = re.compile(rb'"at":"([^"]+)"')
_TITLE = re.compile(rb'"title":"([^"]+)"')


class LogDamaged(MachineError):
    """A line that once counted is not as it was written."""

    def __init__(self, path: Path, fault: Fault) -> None:
        super().__init__(
            f"{path}: {fault}; nothing was changed: put back a copy of this log, or begin a new build and bring over "
            f"by hand what the {fault.line - 1} lines before it say."
        )
        self.fault = fault


def scan(data: bytes) -> tuple[LogContents, Fault | None]:
    """The lines up to the first fault, and that fault."""
    *whole, torn = data.split(b"\n")
    lines: list[Line] = []
    for number, raw in enumerate(whole, start=1):
        try:
            line = decode(raw)
        except BadLine as reason:
            return LogContents(tuple(lines), None), Fault(number, str(reason))
        fault = _misplaced(line, lines, whole)
        if fault is not None:
            return LogContents(tuple(lines), None), fault
        lines.append(line)
    return LogContents(tuple(lines), torn or None), None


def _misplaced(line: Line, before: Sequence[Line], whole: Sequence[bytes]) -> Fault | None:
    """What is wrong with a sound line at this place of the log, if anything."""
    number = len(before) + 1
    if line.n != number:
        return Fault(number, f"is missing or out of its place: line number n = {line.n} stands there")
    if line.prev == (before[-1].digest if before else FIRST_PREV):
        return None
    if number == 1:
        return Fault(1, "is not the first that was written: it names one before it")
    if _vouched_for(line, whole):
        return Fault(number - 1, "was changed after it was written: the next line names another in its place")
    return Fault(number, "doesn't follow from the line before it: one of the two was changed")


def _vouched_for(line: Line, whole: Sequence[bytes]) -> bool:
    """Whether the line after this one says that this one is as it was written."""
    try:
        return line.n < len(whole) and decode(whole[line.n]).prev == line.digest
    except BadLine:
        return False


def read_bytes(folder: Path, storage: Storage) -> bytes:
    """The log of a build's folder as it is. MachineError in one sentence when it can't be had."""
    path = folder / LOG_NAME
    try:
        if not storage.exists(path):
            raise MachineError(f"There is no build in {folder}: it holds no {LOG_NAME}; check the name of the folder.")
        return storage.read(path)
    except OSError as fault:
        raise refusal("read", path, fault) from fault


def read_log(folder: Path, storage: Storage | None = None) -> LogContents:
    """Every line of a build's log, checked, and its torn tail; changes nothing and needs no lock.

    LogDamaged names the first line that is wrong; MachineError when there is no log or it can't be read.
    """
    contents, fault = scan(read_bytes(folder, storage or DiskStorage()))
    if fault is not None:
        raise LogDamaged(folder / LOG_NAME, fault)
    return contents
