"""How well and how fast speech is understood: `python -m benchvoice.benchmarks ear --speech FOLDER`.

Decodes recordings with the ear's model in vosk and with pocketsphinx, the same clips and the same grammar in one run,
clean and in noises that training never used. Prints word errors, whole-utterance errors, readings (right, asked again,
wrong and accepted), what gets through of other speech and noise, false "done" alone, and speed. Bounds are 95 %:
Clopper-Pearson for shares, Poisson for rates. Nothing is tuned here; choose with --split dev, and run test once.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from benchvoice.benchmarks.ear_measure.engines import Ear, Engine, Sphinx
from benchvoice.benchmarks.ear_measure.scores import Intrusions, Readings, Swaps, Words
from benchvoice.benchmarks.ear_measure.sound import (
    RATE,
    Clip,
    Sound,
    joined,
    read_clips,
    read_noises,
    to_samples,
    with_noise,
)
from benchvoice.ear.model import find_model
from benchvoice.errors import BenchvoiceError


def _words(text: str) -> list[str]:
    return text.split()


GRAMMAR = _words("""
    zero oh nought one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen
    sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred thousand
    point and half quarter quarters third eighth eighths sixteenth sixteenths minus plus thou thousandths tenths
    hundredths millimetre millimetres micron microns inch inches foot pounds newton metres grams kilos bar
    degrees seconds minutes litres p s i r m c left right front rear top bottom inner outer main big end rod
    journal bore cap thrust number next again back skip done yes no correct wrong correction note hold on carry
    stop what where am i how many long torque spec defer reason ready pass fail cancel start finish louder
    slower quieter repeat a b d e
""")
LETTERS = list("abcdefghijklmnopqrstuvwxyz")
SPELLED = {"gcompris", "klettres", "asteriskgb"}
"""Sets with letters: these are added to what is listened for."""
OTHER_SPEECH = {"libri", "libriother", "s2i", "wake"}
JOINED = {"fsdd", "gsc"}
NOISE_ALONE, NOISE_PIECE_S = "noise alone", 5


@dataclass(slots=True)
class Tally:
    """All counts of one engine in one condition."""

    words: dict[str, Words] = field(default_factory=dict)
    readings: dict[str, Readings] = field(default_factory=dict)
    outside: dict[str, Intrusions] = field(default_factory=dict)
    added: Words = field(default_factory=Words)
    """Clips of words outside, with those words added to the grammar."""
    swaps: Swaps = field(default_factory=Swaps)
    audio_s: float = 0.0
    compute_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Material:
    """Clips sorted by what they test."""

    inside: list[Clip]
    """every word is in the grammar"""
    outside: list[Clip]
    """single words of which none is"""
    other: list[Clip]
    """continuous other speech, and noise alone"""


def known_words(engines: Sequence[Engine], wanted: Sequence[str]) -> list[str]:
    """The words that every engine has; the rest is named on the standard error."""
    missing = [w for w in wanted if not all(e.knows(w) for e in engines)]
    if missing:
        print("not in every engine's dictionary, left out:", " ".join(missing), file=sys.stderr)
    return [w for w in wanted if w not in missing]


def grammar_of(group: str, words: Sequence[str], added: Sequence[str] = ()) -> list[str]:
    """The bench grammar, with all letters for the sets that spell, and words as a procedure would add them."""
    letters = LETTERS if group.rstrip("+") in SPELLED else []
    return list(dict.fromkeys([*words, *letters, *added]))


def gather(clips: Sequence[Clip], words: Sequence[str], limit: int, strings: int) -> Material:
    """Sort clips, at most `limit` of a set (drawn with a fixed seed), and join strings from the sets with digits."""
    r = random.Random(0)
    shuffled = list(clips)
    r.shuffle(shuffled)
    inside: list[Clip] = []
    outside: list[Clip] = []
    other: list[Clip] = []
    count: dict[tuple[str, int], int] = {}
    for clip in shuffled:
        known = [w in grammar_of(clip.group, words) for w in clip.words]
        if clip.text == "?" or clip.group in OTHER_SPEECH:
            kind, pile = 2, other
        elif all(known):
            kind, pile = 0, inside
        elif not any(known):
            kind, pile = 1, outside
        else:
            continue
        count[clip.group, kind] = count.get((clip.group, kind), 0) + 1
        if count[clip.group, kind] <= limit:
            pile.append(clip)
    for group in sorted(JOINED):
        whole = [c for c in shuffled if c.group == group and all(w in words for w in c.words)]
        inside += joined(whole, strings)
    return Material(inside, outside, other)


def noise_alone(noises: Sequence[Sound]) -> list[Clip]:
    """The noises cut into pieces, as utterances that hold no speech."""
    step = NOISE_PIECE_S * RATE
    return [
        Clip("?", f"noise {k}", NOISE_ALONE, noise[i : i + step])
        for k, noise in enumerate(noises)
        for i in range(0, max(1, len(noise) - step // 2), step)
    ]


def measure(
    engine: Engine, material: Material, words: Sequence[str], noises: Sequence[Sound], ratio: float | None
) -> Tally:
    """Decode everything in one condition: a ratio of speech to noise in dB, or None for the clips as they are."""
    tally = Tally()
    more = sorted({w for clip in material.outside for w in clip.words if engine.knows(w)})
    tasks: list[tuple[Clip, str, Sequence[str]]] = [
        (clip, kind, ()) for kind in ("inside", "outside", "other") for clip in getattr(material, kind)
    ]
    tasks += [(clip, "added", more) for clip in material.outside if all(w in more for w in clip.words)]
    if ratio is not None:  # noise alone is the same in every condition
        tasks = [t for t in tasks if t[0].group != NOISE_ALONE]
    tasks.sort(key=lambda t: (t[1] == "added", grammar_of(t[0].group, words) != list(words)))
    listening: list[str] = []
    for number, (clip, kind, added) in enumerate(tasks):
        grammar = grammar_of(clip.group, words, added)
        if grammar != listening:
            engine.listen_for(grammar)
            listening = grammar
        mixed = clip if ratio is None else with_noise(clip, noises, ratio, number)
        heard = engine.hear(to_samples(mixed.sound))
        seconds = len(mixed.sound) / RATE
        tally.audio_s += seconds
        tally.compute_s += heard.compute_s
        if kind == "inside":
            tally.words.setdefault(clip.group, Words()).add(clip.speaker, clip.words, heard.words)
            tally.readings.setdefault(clip.group, Readings()).add(clip.words, heard)
            tally.swaps.add(clip.words, heard.words)
        elif kind == "added":
            tally.added.add(clip.speaker, clip.words, heard.words)
        else:
            group = f"words outside, {clip.group}" if kind == "outside" else clip.group
            tally.outside.setdefault(group, Intrusions()).add(clip.speaker, seconds, heard)
    return tally


def print_tally(engine: Engine, condition: str, tally: Tally) -> None:
    head = f"{engine.name:22} {condition:6}"
    for group, words in sorted(tally.words.items()):
        print(f"{head} {group:11} {words}")
    everything = Readings()
    for readings in tally.readings.values():
        for name in ("total", "right", "asked", "wrong_taken", "wrong_read_back"):
            setattr(everything, name, getattr(everything, name) + getattr(readings, name))
    print(f"{head} readings    {everything}")
    print(f"{head} heard for another: {tally.swaps}")
    for group, intrusions in sorted(tally.outside.items()):
        print(f"{head} {group}: {intrusions}")
    if tally.added.utterances:
        print(f"{head} words outside, added to the grammar: {tally.added}")
    print(f"{head} {tally.compute_s / max(1e-9, tally.audio_s):.3f} x real time on one core", flush=True)


def as_json(tally: Tally) -> dict[str, Any]:
    """Plain values, sets as their sizes."""
    data = asdict(tally)
    for intrusions in data["outside"].values():
        intrusions["voices"] = len(intrusions["voices"])
    return data


def arguments(argv: Sequence[str]) -> argparse.Namespace:
    p = argparse.ArgumentParser(
        prog="python -m benchvoice.benchmarks ear", description=__doc__.splitlines()[0] if __doc__ else ""
    )
    p.add_argument("folder", nargs="?", type=Path, help="the same as --speech")
    p.add_argument("--speech", type=Path, help="folder with manifest.tsv and noise.tsv")
    p.add_argument(
        "--manifest", type=Path, action="append", default=[], help="a manifest of the same columns; may be repeated"
    )
    p.add_argument("--noise", type=Path, help="folder with noise.tsv (default: that of the speech)")
    p.add_argument("--split", default="test", choices=["test", "dev", "all"])
    p.add_argument("--sets", default="", help="only these sets, with commas between")
    p.add_argument("--snr", default="clean,20,10,5,0", help="conditions: clean, or dB of speech over noise")
    p.add_argument("--limit", type=int, default=1000, help="clips of a set at most")
    p.add_argument("--strings", type=int, default=60, help="strings joined from a set's clips")
    p.add_argument(
        "--model", default="bench-en", help="name or folder of the ear's model; may be several, with commas between"
    )
    p.add_argument("--no-sphinx", action="store_true")
    p.add_argument("--json", type=Path, help="write all counts to this file")
    return p.parse_args(list(argv))


def run(args: argparse.Namespace) -> int:
    speech = args.speech or args.folder
    manifests = [*args.manifest, *([speech / "manifest.tsv"] if speech else [])]
    if not manifests:
        print("say where the recordings are: --speech FOLDER, or --manifest FILE", file=sys.stderr)
        return 2
    engines: list[Engine] = [Ear(find_model(name)) for name in args.model.split(",")]
    if not args.no_sphinx:
        engines.append(Sphinx())
    words = known_words(engines, GRAMMAR)
    sets = [s for s in args.sets.split(",") if s]
    clips = [clip for m in manifests for clip in read_clips(m, args.split, sets)]
    noises = read_noises(args.noise or manifests[0].parent, "dev" if args.split == "dev" else "test")
    material = gather(clips, words, args.limit, args.strings)
    material.other.extend(noise_alone(noises) if not sets or "noise" in sets else [])
    voices = len({c.speaker for c in material.inside})
    print(f"{len(words)} words and [unk]; {len(material.inside)} utterances of {voices} voices; ", end="")
    print(f"{len(noises)} noises, split {args.split}")
    results: dict[str, Any] = {}
    totals: dict[str, Intrusions] = {}
    for condition in args.snr.split(","):
        ratio = None if condition == "clean" else float(condition)
        if ratio is not None and not noises:
            print(f"no noises for {condition} dB: give --noise FOLDER", file=sys.stderr)
            continue
        for engine in engines:
            tally = measure(engine, material, words, noises, ratio)
            print_tally(engine, condition, tally)
            results.setdefault(engine.name, {})[condition] = as_json(tally)
            for intrusions in tally.outside.values():
                totals.setdefault(engine.name, Intrusions()).merge(intrusions)
    for engine in engines:
        print(f"{engine.name}: all conditions, other speech and noise: {totals.get(engine.name, Intrusions())}")
        print(f"{engine.name}: loads in {engine.load_s:.2f} s, {engine.memory_mb:.0f} MB more memory")
    if args.json:
        args.json.write_text(json.dumps(results, indent=1), encoding="utf-8")
    return 0


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; 2 when it could not be run."""
    try:
        return run(arguments(argv))
    except BenchvoiceError as fault:
        print(fault, file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
