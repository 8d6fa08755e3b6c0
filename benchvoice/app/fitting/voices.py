"""What is kept of each person's voice, in the user's own data folder and nowhere else.

voices/NAME/clips/000001.flac …   what they read aloud, or confirmed in a build
voices/NAME/clips.tsv             a line a clip: file, SHA-256, the words, where they come from
voices/NAME/models/…              every ear that was fitted to them; none is deleted, for logs name them
voices/NAME/voice.json            which of those is in force, and the hash of the model that it was made from
"""

import csv
import io
import json
import os
import re
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from platformdirs import user_data_path

from benchvoice.errors import InputError, MachineError
from benchvoice.log import read_clip, write_clip

CLIPS, LIST, CURRENT, MODELS = "clips", "clips.tsv", "voice.json", "models"
READ, FOLDER = "read", "folder"
"""Sources of clips, besides lines of builds."""
_NAME = re.compile(r"[a-z0-9]+(?:[ _-][a-z0-9]+)*")
_COLUMNS = ("file", "sha256", "text", "source")


@dataclass(frozen=True, slots=True)
class VoiceClip:
    """A clip, its words, and where it comes from."""

    file: str
    sha256: str
    text: str
    source: str

    @property
    def reviewed(self) -> bool:
        """Whether it was confirmed or corrected in a build."""
        return self.source not in (READ, FOLDER)

    @property
    def held_back(self) -> bool:
        """One in four, always the same ones: no fit ever has them, so that every fit can be tried on them."""
        return int(self.sha256[:8], 16) % 4 == 0


def voices_folder() -> Path:
    return user_data_path("benchvoice", appauthor=False) / "voices"


def voice_folder(name: str) -> Path:
    """The folder of a person's voice, there or not. InputError when the name can't be one."""
    plain = name.strip().lower()
    if not _NAME.fullmatch(plain):
        raise InputError(f"{name!r} can't name a voice: use letters and figures, as in ann or bay-2.")
    return voices_folder() / plain.replace(" ", "-")


def voice_model(name: str) -> Path:
    """The folder of the ear that is fitted to a person. InputError when there is none."""
    folder = voice_folder(name)
    try:
        model = json.loads((folder / CURRENT).read_text(encoding="utf-8"))["model"]
    except FileNotFoundError:
        known = ", ".join(voice_names()) or "nobody"
        raise InputError(
            f"No ear is fitted to {folder.name}, only to {known}: run benchvoice fit {folder.name}."
        ) from None
    except (OSError, ValueError, KeyError, TypeError) as fault:
        raise MachineError(f"{folder / CURRENT} can't be read ({fault}): run benchvoice fit {folder.name}.") from fault
    return folder / MODELS / str(model)


def made_from(name: str) -> str | None:
    """The hash of the model that a person's ear was made from, where one is known."""
    try:
        return str(json.loads((voice_folder(name) / CURRENT).read_text(encoding="utf-8"))["base"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def voice_names() -> list[str]:
    """People to whom an ear is fitted."""
    return sorted(path.parent.name for path in voices_folder().glob(f"*/{CURRENT}"))


def put_in_force(folder: Path, model: Path, base: str) -> None:
    """Have builds hear with this model from now on. MachineError when the disk refuses; then all is as it was."""
    _replace(folder / CURRENT, json.dumps({"model": model.name, "base": base}) + "\n")


def clips_of(folder: Path) -> list[VoiceClip]:
    """The clips that are kept, in the order in which they came."""
    try:
        text = (folder / LIST).read_text(encoding="utf-8")
    except FileNotFoundError:
        return []
    except (OSError, UnicodeDecodeError) as fault:
        raise MachineError(f"{folder / LIST} can't be read ({fault}): put back a copy of it.") from fault
    rows = csv.DictReader(io.StringIO(text), delimiter="\t", quoting=csv.QUOTE_NONE)
    whole = [row for row in rows if all(row.get(column) for column in _COLUMNS)]  # a line that was cut off is no clip
    return [VoiceClip(*(row[column] for column in _COLUMNS)) for row in whole]


def keep_clip(folder: Path, samples: NDArray[np.int16], text: str, source: str) -> bool:
    """Keep a clip with its words, durably; False when the same sound is kept already."""
    known = {clip.sha256 for clip in clips_of(folder)}
    digest = sha256(samples.astype("<i2").tobytes()).hexdigest()
    if digest in known:
        return False
    try:
        (folder / CLIPS).mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise MachineError(f"{folder / CLIPS} can't be made ({fault.strerror}): make room there.") from fault
    file = write_clip(folder, samples).file
    line = "\t".join((file, digest, text, source))
    old = (folder / LIST).read_text(encoding="utf-8") if (folder / LIST).is_file() else "\t".join(_COLUMNS) + "\n"
    _replace(folder / LIST, old + ("" if old.endswith("\n") else "\n") + line + "\n")
    return True


def sound_of(folder: Path, clip: VoiceClip) -> NDArray[np.int16]:
    return read_clip(folder, clip.file)


def _replace(path: Path, text: str) -> None:
    """Write a file beside its place, then put it there: whoever reads sees the old one or the new one."""
    draft = path.with_suffix(".draft")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with draft.open("w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        draft.replace(path)
    except OSError as fault:
        raise MachineError(f"{path} can't be written ({fault.strerror}): make room there.") from fault
