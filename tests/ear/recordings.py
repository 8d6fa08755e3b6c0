"""Recordings of real people for tests, from the folder that BENCHVOICE_SPEECH names or one beside the checkout."""

import csv
import functools
import os
from pathlib import Path

import numpy as np
import pytest
import soundfile
import soxr
from numpy.typing import NDArray

from benchvoice.ear.decode import RATE, Samples

FOLDER = Path(os.environ.get("BENCHVOICE_SPEECH") or Path(__file__).parents[2] / "../shared/speech")
REASON = "no recorded speech: name its folder in BENCHVOICE_SPEECH"


def need_recordings() -> None:
    """Skips a test where there are no recordings; in CI that is a failure."""
    if (FOLDER / "manifest.tsv").is_file():
        return
    if os.environ.get("CI") == "true":
        pytest.fail(REASON)
    pytest.skip(REASON)


def rows(manifest: str = "manifest.tsv", **wanted: str) -> list[dict[str, str]]:
    """Lines of a manifest whose columns hold what is wanted."""
    need_recordings()
    with (FOLDER / manifest).open(encoding="utf-8", newline="") as file:
        lines = csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE)
        return [row for row in lines if all(row[column] == value for column, value in wanted.items())]


def sound_of(row: dict[str, str]) -> Samples:
    """The recording of a manifest's line, as int16 at 16 kHz."""
    container, start, count, rate = FOLDER / row["file"], int(row["start"]), int(row["n"]), int(row["rate"])
    if container.suffix == ".opus":  # its seeking is not exact to the sample
        sound = _whole(container)[start : start + count]
    else:
        sound = soundfile.read(container, dtype="float32", start=start, frames=count)[0]
    if rate != RATE:
        sound = soxr.resample(sound, rate, RATE)
    return np.clip(np.rint(sound * 32767), -32768, 32767).astype(np.int16)


@functools.lru_cache(maxsize=1)
def _whole(container: Path) -> NDArray[np.float32]:
    return np.asarray(soundfile.read(container, dtype="float32")[0])
