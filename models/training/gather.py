"""Pack further recordings from snapshots of public repositories, beside a speech folder.

    python gather.py SPEECH MORE SNAPSHOT…

A snapshot is a git directory. Taken are the single words and sentences of the corpora in RULES, known by the paths of
their files. Speakers that SPEECH keeps for dev or test are left out, and no sound is taken twice. MORE gets
manifest.tsv with the same columns (one speaker in ten of the sentences has the split "dev") and Opus files of about
14 kbit/s.
"""

import csv
import io
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

import numpy as np
from recordings import trim_span
from shards import RATE, to_16k

NAMES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
ALPHABET = (
    "alpha bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar papa quebec romeo "
    "sierra tango uniform victor whiskey x-ray yankee zulu"
)
OTHERS = frozenset(
    {
        *("backward", "bed", "bird", "cat", "dog", "follow", "forward", "happy"),
        *("house", "learn", "marvin", "sheila", "tree", "visual", "wow"),
    }
)
"""Words of the Speech Commands that no grammar of the bench has: they teach what is to be refused."""
PER_FILE = 1500
GAP = 800
SENTENCES = 10
"""Sentences taken of one speaker, those with numbers first: so that all the sound to carry stays under 60 MiB."""
COMPRESSION = 0.968
"""What the sound library calls 14 kbit/s."""


@dataclass(frozen=True, slots=True)
class Described:
    """What the path of a file tells of its sound; a word "?" is speech that is none of the words (garbage).

    Where `utterance` is not empty, a table of the corpus tells the words under this name.
    """

    word: str
    speaker: str
    licence: str
    set: str
    utterance: str = ""


def _commands(found: re.Match[str]) -> Described:
    word = found[2] if found[1] in (None, "_unknown_") else found[1]
    return Described(word, f"gsc-{found[3]}", "CC-BY-4.0", "gscother" if word in OTHERS else "gsc")


def _digits(found: re.Match[str]) -> Described:
    return Described(NAMES[int(found[1])], f"fsdd-{found[2]}", "CC-BY-SA-4.0", "fsdd")


def _spelt(found: re.Match[str]) -> Described:
    sign = found[1]
    word = NAMES[int(sign)] if sign.isdigit() else ALPHABET.split()[ord(sign) - ord("a")]
    return Described(word, "natospell", "CC-BY-4.0", "natospell")


def _students(found: re.Match[str]) -> Described | None:
    """English words of Chinese students, four takes of twenty each, and one take of each Chinese word."""
    english = {"12": "speech", "15": "process", "16": "print", "17": "open", "18": "close", "19": "project"}
    word, take = english.get(found[2]), found[3]
    speaker = "dsp-" + sha256(found[1].encode()).hexdigest()[:6]
    if word is not None:
        return Described(word, speaker, "MIT", "dspspeech") if take in ("02", "07", "12", "17") else None
    return Described("?", speaker, "MIT", "dspspeechother") if found[2] < "12" and take == "10" else None


def _sentence(found: re.Match[str]) -> Described:
    return Described("", f"speechocean-{found[1]}", "free, commercial use too", "speechocean", found[2])


@dataclass(frozen=True, slots=True)
class Clip:
    """One word or sentence by one speaker."""

    of: Described
    samples: np.ndarray


RULES: tuple[tuple[str, Callable[[re.Match[str]], Described | None]], ...] = (
    (r"(?:(\w+)/|/(\w+)_)([0-9a-f]{8})_nohash_\d+\.wav(?:\.wav)?$", _commands),  # Speech Commands, P. Warden
    (r"recordings/(\d)_(\w+)_\d+\.wav$", _digits),  # Free Spoken Digit Dataset, Z. Jackson and others
    (r"^nato_spell/sounds/([0-9a-z])\.wav$", _spelt),  # sounds of nato-spell, T. Kahn
    (r"^speech_data/(\d+)/\d+-(\d\d)-(\d\d)\.wav$", _students),  # DSPSpeech-20, Z. Chen
    (r"^WAVE/SPEAKER(\d+)/(\d+)\.WAV$", _sentence),  # speechocean762, J. Zhang and others
)
"""How the files of each corpus are named, and what a name tells."""


def described(path: str) -> Described | None:
    """What is known of a file by its path; None for what is not wanted."""
    for pattern, tell in RULES:
        if found := re.search(pattern, path):
            return tell(found)
    return None


def with_words(found: dict[str, Described], told: Mapping[str, str]) -> dict[str, Described]:
    """Give sentences their words out of the corpus' table, and choose SENTENCES of each speaker.

    Numbers make a set of their own, and come first. What the table does not tell is left out.
    """
    sentences = []
    for path, each in found.items():
        if each.utterance in told:
            words = told[each.utterance].lower()
            numbers = set(words.split()) <= {*NAMES, "oh"}
            sentences.append((not numbers, path, replace(each, word=words, set=each.set + "numbers" * numbers)))
    taken: Counter[str] = Counter()
    chosen = {}
    for _, path, each in sorted(sentences, key=lambda s: s[:2]):
        taken[each.speaker] += 1
        if taken[each.speaker] <= SENTENCES:
            chosen[path] = each
    return {path: each for path, each in found.items() if not each.utterance} | chosen


def _git(snapshot: Path, *command: str) -> str:
    done = subprocess.run(["git", "-C", str(snapshot), *command], capture_output=True, text=True, check=True)
    return done.stdout


def _files(snapshot: Path) -> Iterator[tuple[Described, bytes]]:
    """What every wanted file of a snapshot is, and its content; files that it lists and lacks are passed over."""
    listed = [line.split(None, 2)[2].split("\t") for line in _git(snapshot, "ls-tree", "-r", "HEAD").splitlines()]
    digests = {path: digest for digest, path in listed}
    tables = [_git(snapshot, "show", f"HEAD:{path}") for path in digests if path in ("train/text", "test/text")]
    told = dict(line.split("\t", 1) for table in tables for line in table.splitlines() if "\t" in line)
    found = {path: each for path in digests if (each := described(path)) is not None}
    batch = subprocess.Popen(
        ["git", "-C", str(snapshot), "cat-file", "--batch"], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
    assert batch.stdin is not None
    assert batch.stdout is not None
    for path, each in with_words(found, told).items():
        batch.stdin.write(f"{digests[path]}\n".encode())
        batch.stdin.flush()
        head = batch.stdout.readline().split()
        if head[1] == b"blob":
            yield each, batch.stdout.read(int(head[2]) + 1)[:-1]
    batch.stdin.close()
    batch.wait()


def clips(snapshot: Path, kept_back: frozenset[str]) -> Iterator[Clip]:
    """The wanted clips of a snapshot, trimmed to the spoken part and a tenth of a second beside it."""
    import soundfile

    for found, content in _files(snapshot):
        if found.speaker in kept_back:
            continue
        try:
            whole, rate = soundfile.read(io.BytesIO(content), dtype="int16", always_2d=True)
        except soundfile.LibsndfileError:
            continue
        samples = whole.mean(axis=1).astype(np.int16)
        samples = to_16k(samples, rate) if rate != RATE else samples
        if len(samples) < RATE // 8 or np.abs(samples).max() < 200:
            continue
        start, length = trim_span(samples, 0.1)
        yield Clip(found, samples[start : start + length])


def _is_new(clip: Clip, seen: set[bytes]) -> bool:
    """Whether the same sound was not taken from another snapshot."""
    digest = sha256(clip.samples.tobytes()).digest()
    if digest in seen:
        return False
    seen.add(digest)
    return True


def split_of(clip: Described) -> str:
    """Every tenth speaker of the sentences is kept for dev."""
    return "dev" if clip.utterance and clip.speaker.endswith("0") else "train"


def _pack(path: Path, clips: list[Clip]) -> list[dict[str, object]]:
    """Write clips into one file; their rows of the manifest."""
    import soundfile

    rows: list[dict[str, object]] = []
    parts, total = [], 0
    for clip in clips:
        rows.append(
            {
                "file": path.name, "start": total, "n": len(clip.samples), "rate": RATE, "text": clip.of.word,
                "speaker": clip.of.speaker, "set": clip.of.set, "licence": clip.of.licence, "split": split_of(clip.of),
                "seconds": round(len(clip.samples) / RATE, 2), "group": "",
            }
        )  # fmt: skip
        parts += [clip.samples, np.zeros(GAP, np.int16)]
        total += len(clip.samples) + GAP
    sound = np.concatenate(parts)
    soundfile.write(path, sound, RATE, format="OGG", subtype="OPUS", compression_level=COMPRESSION)
    return rows


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
    found.sort(key=lambda clip: (clip.of.set, clip.of.word))
    parts = [found[number : number + PER_FILE] for number in range(0, len(found), PER_FILE)]
    names = [more / f"more_{number:02d}.opus" for number in range(len(parts))]
    with ProcessPoolExecutor() as pool, (more / "manifest.tsv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, list(rows[0]), delimiter="\t", quoting=csv.QUOTE_NONE, lineterminator="\n")
        table.writeheader()
        for packed in pool.map(_pack, names, parts):
            table.writerows(packed)
    hours = sum(len(clip.samples) for clip in found) / RATE / 3600
    print(f"{len(found)} clips, {len({clip.of.speaker for clip in found})} speakers, {hours:.2f} h")


if __name__ == "__main__":
    main()
