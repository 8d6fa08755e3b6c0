"""Writing a log: all entries of one turn in one write, on the disk before anybody is told."""

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from benchvoice.errors import MachineError
from benchvoice.log.line import Line, Stamped, digest, encode
from benchvoice.log.storage import File, refusal, write_all


class LogWriter:
    """Appends to one log. Its only state is where the chain has got to, and whether the disk has ever refused.

    After one refusal it is dead for good: the system may have dropped what it was given, and would say that the next
    fsync went well. What is truly on the disk is found out by opening the build again.
    """

    def __init__(self, file: File, path: Path, *, written: int, head: str, size: int = 0) -> None:
        """`written` lines stand in the log already, in `size` bytes, and `head` is the digest of the last one."""
        self._file = file
        self._size = size
        self._path = path
        self._written = written
        self._head = head
        self._dead = False

    @property
    def next_n(self) -> int:
        """The number that the next line will have."""
        return self._written + 1

    @property
    def head(self) -> str:
        """SHA-256 of the last line."""
        return self._head

    def append(self, entries: Sequence[Stamped]) -> tuple[Line, ...]:
        """Write the entries of one turn and return them as lines, once they would survive a power cut.

        EntryRefused before anything is written; MachineError when the disk refused, then and ever after.
        """
        if self._dead:
            raise MachineError(
                f"Nothing more is written to {self._path}, since it was closed or the disk refused before: "
                "look after the disk, then resume the build."
            )
        lines: list[Line] = []
        head = self._head
        for n, stamped in enumerate(entries, start=self.next_n):
            raw = encode(stamped, n, head)
            lines.append(Line(n, stamped, head, raw))
            head = digest(raw)
        if lines:
            data = b"".join(line.raw + b"\n" for line in lines)
            self._put(data)
            self._size += len(data)
            self._written += len(lines)
            self._head = head
        return tuple(lines)

    def _put(self, data: bytes) -> None:
        self._dead = True  # until both calls have come back
        try:
            write_all(self._file, data)
            self._file.fsync()
        except OSError as fault:
            self._take_back()
            raise refusal("write to", self._path, fault) from fault
        self._dead = False

    def _take_back(self) -> None:
        """Cut off what the disk took of a turn that it refused, where it still does that: nobody was told of it.

        Otherwise whole lines of it might stand in the log, and count when the build is resumed.
        """
        with suppress(OSError):
            self._file.cut(self._size)
            self._file.fsync()

    def close(self) -> None:
        """Give the file back; nothing is appended after."""
        self._dead = True
        self._file.close()
