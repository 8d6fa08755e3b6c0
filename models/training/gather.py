"""Pack further recordings from snapshots of public repositories, beside a speech folder.

    python gather.py SPEECH MORE SNAPSHOT…

A snapshot is a git directory. Taken are the single words of the Speech Commands (CC BY 4.0) and the
Free Spoken Digit Dataset (CC BY-SA 4.0). Speakers that SPEECH keeps for dev or test are left out, and no sound is
taken twice. MORE gets manifest.tsv with the same columns and Opus files of about 30 kbit/s.
"""

import csv
import io
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

import numpy as np
from recordings import trim_span
from shards import RATE, to_16k

COMMANDS, DIGITS = "CC-BY-4.0", "CC-BY-SA-4.0"
NAMES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
OTHERS = frozenset(
    {
        *("backward", "bed", "bird", "cat", "dog", "follow", "forward", "happy"),
        *("house", "learn", "marvin", "sheila", "tree", "visual", "wow"),
    }
)
"""Words of the Speech Commands that no grammar of the bench has: they teach what is to be refused."""
PER_FILE = 1500
GAP = 800


@dataclass(frozen=True, slots=True)
class Clip:
    """One word by one speaker."""

    word: str
    speaker: str
    licence: str
    set: str
    samples: np.ndarray


def described(path: str) -> tuple[str, str, str] | None:
    """The word, the speaker and the licence of a file by its path; None for what is not wanted."""
    commands = re.search(r"(?:(\w+)/|/(\w+)_)([0-9a-f]{8})_nohash_\d+\.wav(?:\.wav)?$", path)
    if commands:
        word = commands[2] if commands[1] in (None, "_unknown_") else commands[1]
        return word, f"gsc-{commands[3]}", COMMANDS
    digits = re.search(r"recordings/(\d)_(\w+)_\d+\.wav$", path)
    return (NAMES[int(digits[1])], f"fsdd-{digits[2]}", DIGITS) if digits else None


def _files(snapshot: Path) -> Iterator[tuple[str, bytes]]:
    """Path and content of every wanted file of a snapshot; files that it lists and lacks are passed over."""
    git = ["git", "-C", str(snapshot)]
    listed = subprocess.run([*git, "ls-tree", "-r", "HEAD"], capture_output=True, text=True, check=True).stdout
    wanted = [line.split(None, 2)[2].split("\t") for line in listed.splitlines() if described(line) is not None]
    batch = subprocess.Popen([*git, "cat-file", "--batch"], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert batch.stdin is not None
    assert batch.stdout is not None
    for digest, path in wanted:
        batch.stdin.write(f"{digest}\n".encode())
        batch.stdin.flush()
        head = batch.stdout.readline().split()
        if head[1] == b"blob":
            yield path, batch.stdout.read(int(head[2]) + 1)[:-1]
    batch.stdin.close()
    batch.wait()


def clips(snapshot: Path, kept_back: frozenset[str]) -> Iterator[Clip]:
    """The wanted clips of a snapshot, trimmed to the spoken part and a tenth of a second beside it."""
    import soundfile

    for path, content in _files(snapshot):
        found = described(path)
        assert found is not None
        word, speaker, licence = found
        if speaker in kept_back:
            continue
        try:
            samples, rate = soundfile.read(io.BytesIO(content), dtype="int16")
        except soundfile.LibsndfileError:
            continue
        samples = to_16k(samples, rate) if rate != RATE else samples
        if samples.ndim != 1 or len(samples) < RATE // 8 or np.abs(samples).max() < 200:
            continue
        start, length = trim_span(samples, 0.1)
        name = "fsdd" if licence == DIGITS else "gscother" if word in OTHERS else "gsc"
        yield Clip(word, speaker, licence, name, samples[start : start + length])


def _is_new(clip: Clip, seen: set[bytes]) -> bool:
    """Whether the same sound was not taken from another snapshot."""
    digest = sha256(clip.samples.tobytes()).digest()
    if digest in seen:
        return False
    seen.add(digest)
    return True


def _pack(path: Path, clips: list[Clip], table: "csv.DictWriter[str]") -> None:
    import soundfile

    parts, total = [], 0
    for clip in clips:
        table.writerow(
            {
                "file": path.name, "start": total, "n": len(clip.samples), "rate": RATE, "text": clip.word,
                "speaker": clip.speaker, "set": clip.set, "licence": clip.licence, "split": "train",
                "seconds": round(len(clip.samples) / RATE, 2), "group": "",
            }
        )  # fmt: skip
        parts += [clip.samples, np.zeros(GAP, np.int16)]
        total += len(clip.samples) + GAP
    soundfile.write(path, np.concatenate(parts), RATE, format="OGG", subtype="OPUS", compression_level=0.9)


def main() -> None:
    """Read the snapshots named on the command line and pack what is wanted."""
    speech, more, *snapshots = (Path(each) for each in sys.argv[1:])
    with (speech / "manifest.tsv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE))
    kept_back = frozenset(row["speaker"] for row in rows if row["split"] != "train")
    more.mkdir(parents=True, exist_ok=True)
    found: list[Clip] = []
    seen: set[bytes] = set()
    for snapshot in snapshots:
        taken = [clip for clip in clips(snapshot, kept_back) if _is_new(clip, seen)]
        print(f"{snapshot}: {len(taken)} clips", flush=True)
        found += taken
    found.sort(key=lambda clip: (clip.set, clip.word))
    with (more / "manifest.tsv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]), delimiter="\t", quoting=csv.QUOTE_NONE, lineterminator="\n")
        table.writeheader()
        for number in range(0, len(found), PER_FILE):
            _pack(more / f"more_{number // PER_FILE:02d}.opus", found[number : number + PER_FILE], table)
    hours = sum(len(clip.samples) for clip in found) / RATE / 3600
    print(f"{len(found)} clips, {len({clip.speaker for clip in found})} speakers, {hours:.2f} h")


if __name__ == "__main__":
    main()
