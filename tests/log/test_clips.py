import io
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import soundfile
from hypothesis import given
from hypothesis.extra import numpy as nps

from benchvoice.errors import MachineError
from benchvoice.log.clips import clip_bytes, drop_clip, is_dropped, read_clip, write_clip
from benchvoice.log.line import digest
from benchvoice.log.storage import make_folders
from benchvoice.testing.disk import Trouble, VirtualDisk

ROOT = Path("bench")
NOISE = np.random.default_rng(0).integers(-(2**15), 2**15, 16_000, dtype=np.int16)


def fresh() -> VirtualDisk:
    disk = VirtualDisk(ROOT)
    make_folders(disk, ROOT / "clips")
    return disk


@given(nps.arrays(np.int16, nps.array_shapes(max_dims=1, max_side=400)))
def test_any_sound_comes_back_sample_by_sample(samples: npt.NDArray[np.int16]) -> None:
    disk = fresh()
    clip = write_clip(ROOT, samples, disk)
    assert np.array_equal(read_clip(ROOT, clip.file, disk), samples)
    assert digest(clip_bytes(ROOT, clip.file, disk)) == clip.sha256


def test_a_clip_on_the_real_disk_is_a_flac_file_that_anyone_can_play(tmp_path: Path) -> None:
    (tmp_path / "clips").mkdir()
    clip = write_clip(tmp_path, NOISE)
    assert clip.file == "clips/000001.flac"
    assert os.listdir(tmp_path / "clips") == ["000001.flac"]
    info = soundfile.info(tmp_path / clip.file)
    assert (info.format, info.subtype, info.samplerate, info.channels) == ("FLAC", "PCM_16", 16_000, 1)
    assert np.array_equal(read_clip(tmp_path, clip.file), NOISE)


def test_the_same_sound_is_the_same_file() -> None:
    disk = fresh()
    first, second = write_clip(ROOT, NOISE, disk), write_clip(ROOT, NOISE, disk)
    assert (first.file, second.file) == ("clips/000001.flac", "clips/000002.flac")
    assert first.sha256 == second.sha256


def test_a_dropped_sound_is_gone_and_its_number_is_not_used_again() -> None:
    disk = fresh()
    write_clip(ROOT, NOISE, disk)
    last = write_clip(ROOT, NOISE, disk)
    drop_clip(ROOT, last.file, disk)
    assert is_dropped(ROOT, last.file, disk)
    assert not disk.exists(ROOT / last.file)
    with pytest.raises(MachineError, match="was dropped at the person's wish"):
        read_clip(ROOT, last.file, disk)
    assert write_clip(ROOT, NOISE, disk).file == "clips/000003.flac"
    assert not is_dropped(ROOT, "clips/000001.flac", disk)


@pytest.mark.parametrize(
    "file", ["../../secret.flac", "/etc/passwd", "clips/../log.jsonl", "clips/1.flac", "clips/000001.flac\n"]
)
def test_a_log_from_elsewhere_leads_to_no_other_file(file: str) -> None:
    for call in (read_clip, clip_bytes, drop_clip):
        with pytest.raises(MachineError, match="is no clip of the build"):
            call(ROOT, file, fresh())


def test_a_clip_that_is_not_there_is_one_sentence() -> None:
    for call in (read_clip, clip_bytes, drop_clip):
        with pytest.raises(MachineError, match=r"^Can't read the sound .*: it isn't there; check the name\.$"):
            call(ROOT, "clips/000001.flac", fresh())


def _stereo() -> bytes:
    out = io.BytesIO()
    soundfile.write(out, np.zeros((9, 2), dtype=np.int16), 16_000, format="FLAC")
    return out.getvalue()


@pytest.mark.parametrize("data", [b"", b"fLaC", b"\0" * 999, _stereo()])
def test_a_file_that_is_no_clip_is_one_sentence(data: bytes) -> None:
    disk = fresh()
    disk.create(ROOT / "clips" / "000001.flac").write(data)
    with pytest.raises(MachineError, match="is no clip of this program"):
        read_clip(ROOT, "clips/000001.flac", disk)


@pytest.mark.parametrize("samples", [NOISE.astype(np.float32), NOISE.reshape(2, -1), NOISE.astype(np.int32), NOISE[:0]])
def test_only_a_row_of_int16_is_a_clip(samples: npt.NDArray[np.int16]) -> None:
    with pytest.raises(ValueError, match="a row of int16"):
        write_clip(ROOT, samples, fresh())


def test_a_full_disk_is_one_sentence() -> None:
    disk = fresh()
    disk.trouble = {len(disk.calls) + 2: Trouble.FULL}
    with pytest.raises(MachineError, match=r"^Can't keep the sound in .*: the disk is full; make room on it"):
        write_clip(ROOT, NOISE, disk)
    assert write_clip(ROOT, NOISE, disk).file == "clips/000001.flac"


def test_the_log_is_there_without_soundfile_and_numpy() -> None:
    code = "import sys, benchvoice.log; print(sorted({'soundfile', 'numpy'} & set(sys.modules)))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout == "[]\n"
