"""The grammars that the recogniser listened with, kept so that a sound can be decoded again just as it was.

A grammar is a list of phrases; the same list is kept once, in `grammars/`, in a file named by its own SHA-256.
"""

import json
import re
from collections.abc import Sequence
from pathlib import Path

from benchvoice.errors import MachineError
from benchvoice.log.line import canonical, digest
from benchvoice.log.storage import DiskStorage, Storage, make_folders, refusal, write_durably

GRAMMARS_NAME = "grammars"
_FILE = re.compile(rf"{GRAMMARS_NAME}/([0-9a-f]{{64}})\.json")


def keep_grammar(folder: Path, phrases: Sequence[str], storage: Storage | None = None) -> str:
    """Keep a grammar durably; its file inside the build's folder. MachineError when the disk refuses."""
    storage = storage or DiskStorage()
    data = canonical(list(phrases))
    name = f"{GRAMMARS_NAME}/{digest(data)}.json"
    try:
        if storage.exists(folder / name):
            # Its bytes were safe before it got its name; the name may be from a process that died just then.
            storage.fsync_folder(folder / GRAMMARS_NAME)
        else:
            make_folders(storage, folder / GRAMMARS_NAME)
            write_durably(storage, folder / name, data)
    except OSError as fault:
        raise refusal("keep the grammar in", folder / GRAMMARS_NAME, fault) from fault
    return name


def read_grammar(folder: Path, file: str, storage: Storage | None = None) -> list[str]:
    """The phrases of a grammar. MachineError when it isn't there or is not the one that was kept."""
    found = _FILE.fullmatch(file)
    if found is None:
        raise MachineError(f"{file!r} is no grammar of the build in {folder}: check the log with verify.")
    try:
        data = (storage or DiskStorage()).read(folder / file)
    except OSError as fault:
        raise refusal("read the grammar", folder / file, fault) from fault
    if digest(data) != found[1]:
        raise MachineError(f"{folder / file} was changed after it was kept: put back a copy of it.")
    phrases: list[str] = json.loads(data)
    return phrases
