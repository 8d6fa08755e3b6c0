"""A model for one person: another model's folder with a net that was moved toward them."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from benchvoice.ear.fit.acoustics import read_acoustics
from benchvoice.ear.fit.features import refuse_other_features
from benchvoice.ear.fit.moving import Example, fitted
from benchvoice.ear.integrity import check_sums
from benchvoice.ear.layout import ModelError, examine
from benchvoice.ear.lexicon import read
from benchvoice.ear.pack.directory import SUMS, Packed, sums

NET = "am/final.mdl"


def fit_model(
    base: Path,
    examples: Sequence[Example],
    vocabulary: Iterable[str],
    into: Path,
    progress: Callable[[int, int], None] = lambda _done, _of: None,
) -> Path:
    """Writes a personal model made from `base` below the folder `into`, named by the beginning of its hash.

    It is whole or not there: an interrupted fit leaves nothing. ModelError when `base` can't be fitted or the disk
    refuses.
    """
    if not examine(base).packed:
        raise ModelError(f"The speech model {base} was not packed by benchvoice: only such a model can be fitted.")
    check_sums(base)
    refuse_other_features(base)
    net = read_acoustics(base / NET)
    try:
        packed, lexicon = Packed.read(base), read(base / "lexicon.txt")
    except (OSError, KeyError, TypeError, ValueError) as fault:
        raise ModelError(f"The speech model {base} can't be fitted ({fault}); put the whole model there again.") from (
            fault
        )
    data = net.moved(fitted(net, packed, lexicon, examples, vocabulary, progress))
    try:
        return _write(base, data, into)
    except OSError as fault:
        raise ModelError(f"No model can be written to {into} ({fault.strerror or fault}); make room there.") from fault


def _write(base: Path, net: bytes, into: Path) -> Path:
    into.mkdir(parents=True, exist_ok=True)
    draft = Path(tempfile.mkdtemp(prefix="draft-", dir=into))
    try:
        shutil.copytree(base, draft, dirs_exist_ok=True, ignore=shutil.ignore_patterns("README.md", NET.split("/")[1]))
        (draft / NET).write_bytes(net)
        (draft / SUMS).write_bytes(sums(draft).encode())
        for path in draft.rglob("*"):
            if path.is_file():
                _sync(path)
        path = into / check_sums(draft)[:12]
        draft.chmod(0o755)
        if not path.exists():
            draft.rename(path)
        return path
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _sync(path: Path) -> None:
    with path.open("rb") as file, contextlib.suppress(OSError):
        os.fsync(file.fileno())
