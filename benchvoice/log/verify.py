"""Is this build's record as it was written? The chain, every line's form, the files it names, and the verdicts.

What the chain can't show is a change of the last line alone to another well-formed one, since no later line vouches
for it. `Verified.head` vouches for it too, wherever it was noted down: it stands on the printed record.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from benchvoice.errors import MachineError
from benchvoice.log.clips import clip_bytes, is_dropped
from benchvoice.log.folder import procedure_bytes
from benchvoice.log.grammars import read_grammar
from benchvoice.log.line import Line, digest
from benchvoice.log.read import Fault, LogContents, read_bytes, scan
from benchvoice.log.storage import DiskStorage, Storage
from benchvoice.session.entries import Amended, Heard, Opened, Sound, Unclear

Judge = Callable[[Sequence[Line]], Fault | None]
"""Recomputes what follows from the entries (verdicts, say) and names the first line that differs."""


@dataclass(frozen=True, slots=True)
class Verified:
    """What a check of a build's record found: `fault` is None when nothing is wrong."""

    fault: Fault | None
    contents: LogContents
    """The lines before the fault; `contents.torn` is an unfinished last write, which counts for nothing."""

    @property
    def head(self) -> str:
        """SHA-256 of the last line that is right."""
        return self.contents.head


def verify(folder: Path, judge: Judge | None = None, storage: Storage | None = None) -> Verified:
    """Check a build's whole record; changes nothing and needs no lock. MachineError when it can't be read at all."""
    storage = storage or DiskStorage()
    contents, fault = scan(read_bytes(folder, storage))
    found = [fault, _files(folder, contents.lines, storage), judge(contents.lines) if judge else None]
    return Verified(min((one for one in found if one), key=lambda one: one.line, default=None), contents)


def _files(folder: Path, lines: Sequence[Line], storage: Storage) -> Fault | None:
    """The first line that names a file which is not the one it was."""
    for line in lines:
        try:
            match line.entry:
                case Heard(sound=sound) | Unclear(sound=sound) if sound is not None:
                    what = _sound(folder, sound, storage)
                case Opened() | Amended() as entry:
                    data = procedure_bytes(folder, entry.procedure, storage)
                    what = _other_than(entry.procedure, data, entry.procedure_sha256)
                case _:
                    continue
        except MachineError as reason:
            return Fault(line.n, f"names a file that can't be had: {str(reason).rstrip('.')}")
        if what is not None:
            return Fault(line.n, what)
    return None


def _sound(folder: Path, sound: Sound, storage: Storage) -> str | None:
    """What is wrong with an utterance's files, if anything. One that was dropped on request is rightly gone."""
    read_grammar(folder, sound.grammar, storage)
    if is_dropped(folder, sound.clip, storage):
        return None
    return _other_than(sound.clip, clip_bytes(folder, sound.clip, storage), sound.clip_sha256)


def _other_than(file: str, data: bytes, sha256: str) -> str | None:
    return None if digest(data) == sha256 else f"names {file}, which is not the file it was"
