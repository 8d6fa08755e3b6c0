"""Proof that a model is whole, and the hash that names it in a log.

Models packed here carry the sums of their files. Others are tried out once in a process of their own, where a crash
harms nothing, and remembered by name, size and time of their files. The hash of a model is a SHA-256 over the sums of
all files that decide what it hears: the same words, net and options give the same hash on every machine.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

from platformdirs import user_cache_path

from benchvoice.ear.layout import ModelError
from benchvoice.ear.pack.directory import SUMS, packed_files

SHIPPED = "bench-en"
"""The name of the model that benchvoice brings."""
TRIAL_S = 300
"""A large model on a slow disk takes a minute; one that takes this long is no use at a bench."""


def cache_folder() -> Path:
    """Where rebuilt models and what is known of others are kept."""
    return user_cache_path("benchvoice", appauthor=False) / "models"


def check_sums(folder: Path) -> str:
    """The hash of a packed model whose files are all as they were packed. ModelError names the first that isn't."""
    again = "put the whole model there again"
    try:
        text = (folder / SUMS).read_bytes()
        listed = {name: digest for digest, name in (line.split("  ", 1) for line in text.decode().splitlines())}
    except (OSError, UnicodeDecodeError, ValueError) as fault:
        raise ModelError(f"The speech model {folder} is incomplete: its {SUMS} can't be used; {again}.") from fault
    if strange := sorted(set(packed_files(folder)) ^ set(listed)):
        raise ModelError(
            f"The speech model {folder} is broken: {strange[0]} is missing or doesn't belong there; {again}."
        )
    for name, digest in listed.items():
        try:
            found = hashlib.sha256((folder / name).read_bytes()).hexdigest()
        except OSError as fault:
            raise ModelError(
                f"The speech model's file {folder / name} can't be read ({fault.strerror}); {again}."
            ) from fault
        if found != digest:
            raise ModelError(f"The speech model {folder} is broken: {name} is not as it was packed; {again}.")
    return hashlib.sha256(text).hexdigest()


def try_out(folder: Path, cache: Path | None = None) -> str:
    """The hash of any other model, once it has loaded and decoded a moment of silence in a process of its own."""
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    known = hashlib.sha256(str(folder.resolve()).encode())
    for path in files:
        known.update(
            f"{path.relative_to(folder).as_posix()} {path.stat().st_size} {path.stat().st_mtime_ns}\n".encode()
        )
    stamp = (cache or cache_folder()) / "tried" / known.hexdigest()
    if stamp.is_file():
        return stamp.read_text(encoding="ascii").strip()
    _decode_elsewhere(folder)
    digest = _hash_files(folder, files)
    try:
        stamp.parent.mkdir(parents=True, exist_ok=True)
        stamp.write_text(digest, encoding="ascii")
    except OSError:
        pass  # it will be tried out again next time: slower, not wrong
    return digest


def _decode_elsewhere(folder: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(path for path in sys.path if path)}
    command = [sys.executable, "-m", "benchvoice.ear.trial", str(folder)]
    try:
        done = subprocess.run(command, capture_output=True, env=environment, timeout=TRIAL_S)
    except (OSError, subprocess.TimeoutExpired) as fault:
        raise ModelError(f"The speech model {folder} can't be tried out ({fault}); use {SHIPPED}.") from fault
    if done.returncode != 0:
        raise ModelError(
            f"The speech model {folder} can't be loaded by vosk; put the whole model there again, or use {SHIPPED}."
        )


def _hash_files(folder: Path, files: list[Path]) -> str:
    total = hashlib.sha256()
    for path in files:
        with path.open("rb") as file:
            digest = hashlib.file_digest(file, "sha256").hexdigest()
        total.update(f"{digest}  {path.relative_to(folder).as_posix()}\n".encode())
    return total.hexdigest()
