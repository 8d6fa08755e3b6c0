"""Sounds that belong to entries: 16 kHz mono int16, kept without loss as FLAC, in a build's `clips/`.

A clip is on the disk before the entry that names it. Its number is never used twice: when a clip is dropped at a
person's wish an empty mark (`000123.dropped`) takes its place, so that no later sound can pass for it.
"""

import io
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from benchvoice.errors import MachineError
from benchvoice.log.folder import CLIPS_NAME
from benchvoice.log.line import digest
from benchvoice.log.storage import DiskStorage, Storage, refusal, write_durably

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

RATE = 16_000
"""Samples per second of every clip."""

_SOUND, _MARK = ".flac", ".dropped"
_FILE = re.compile(rf"{CLIPS_NAME}/[0-9]{{6,}}\.flac")


@dataclass(frozen=True, slots=True)
class Clip:
    """A sound that was kept: its file inside the build's folder, and the SHA-256 of that file."""

    file: str
    sha256: str


def write_clip(folder: Path, samples: "npt.NDArray[np.int16]", storage: Storage | None = None) -> Clip:
    """Keep a sound (mono int16 at 16 kHz) durably. MachineError when the disk refuses."""
    import numpy as np
    import soundfile

    storage = storage or DiskStorage()
    if samples.dtype != np.int16 or samples.ndim != 1 or not len(samples):
        raise ValueError(f"a clip is a row of int16 samples, not {samples.dtype} of the shape {samples.shape}")
    # Into memory first: a FLAC file that was cut off has no length in its header and reads as nothing.
    flac = io.BytesIO()
    soundfile.write(flac, samples, RATE, format="FLAC", subtype="PCM_16")
    data = flac.getvalue()
    try:
        name = f"{_next_number(folder, storage):06d}{_SOUND}"
        write_durably(storage, folder / CLIPS_NAME / name, data)
    except OSError as fault:
        raise refusal("keep the sound in", folder / CLIPS_NAME, fault) from fault
    return Clip(f"{CLIPS_NAME}/{name}", digest(data))


def read_clip(folder: Path, file: str, storage: Storage | None = None) -> "npt.NDArray[np.int16]":
    """The samples of a clip. MachineError when it was dropped, isn't there, or is no sound."""
    import soundfile

    data = clip_bytes(folder, file, storage)
    try:
        samples, rate = soundfile.read(io.BytesIO(data), dtype="int16")
    except soundfile.SoundFileError:
        samples, rate = None, 0
    if samples is None or rate != RATE or samples.ndim != 1:
        raise MachineError(f"{folder / file} is no clip of this program: put back a copy of it, or go without it.")
    whole: npt.NDArray[np.int16] = samples
    return whole


def clip_bytes(folder: Path, file: str, storage: Storage | None = None) -> bytes:
    """The FLAC file as it is. MachineError when it was dropped, isn't there, or is no clip's name (a log that came
    from elsewhere must not lead to any other file of this machine)."""
    storage = storage or DiskStorage()
    if not _FILE.fullmatch(file):
        raise MachineError(f"{file!r} is no clip of the build in {folder}: a clip is named like clips/000123.flac.")
    if is_dropped(folder, file, storage):
        raise MachineError(f"The sound {folder / file} was dropped at the person's wish: there is nothing to hear.")
    try:
        return storage.read(folder / file)
    except OSError as fault:
        raise refusal("read the sound", folder / file, fault) from fault


def drop_clip(folder: Path, file: str, storage: Storage | None = None) -> None:
    """Take a sound away for good; its entry stays. MachineError when there is no such sound or the disk refuses."""
    storage = storage or DiskStorage()
    clip_bytes(folder, file, storage)
    path = folder / file
    try:
        write_durably(storage, _mark(path), b"")
        storage.remove(path)
        storage.fsync_folder(path.parent)
    except OSError as fault:
        raise refusal("drop the sound", path, fault) from fault


def is_dropped(folder: Path, file: str, storage: Storage | None = None) -> bool:
    """Whether this sound was dropped at a person's wish."""
    return (storage or DiskStorage()).exists(_mark(folder / file))


def _mark(path: Path) -> Path:
    return path.with_suffix(_MARK)


def _next_number(folder: Path, storage: Storage) -> int:
    stems = [name.split(".")[0] for name in storage.names(folder / CLIPS_NAME) if name.endswith((_SOUND, _MARK))]
    return 1 + max((int(stem) for stem in stems if stem.isascii() and stem.isdigit()), default=0)
