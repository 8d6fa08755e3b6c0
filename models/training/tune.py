"""Choose the graph's costs for a net on dev: python tune.py NET LEXICON SPEECH --filler 2.0,2.3 --background 2.0,2.5

Packs the net once for every combination, decodes the dev recordings clean and at 10 dB as `benchvoice.benchmarks ear`
does, and prints the errors and the score of README.md's table, the best last. Nothing of the test split is read.
"""

import argparse
import itertools
import tempfile
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path

from benchvoice.benchmarks.ear import GRAMMAR, Material, gather, measure, noise_alone
from benchvoice.benchmarks.ear_measure.engines import Ear
from benchvoice.benchmarks.ear_measure.sound import Sound, read_clips, read_noises
from benchvoice.ear.pack import Costs, pack

CONDITIONS = ((None, 1.0), (10.0, 0.7))
"""Speech over noise in dB, and the weight of the errors in it."""
OUTSIDE_WEIGHT = 0.5
ALONE = "noise alone"
TUNED = ("word", "silence", "filler", "filler_tail", "background", "loop")
"""Costs that can be told on the command line."""
SETS = ("fsdd", "fsdd+", "gsc", "gsc+", "gcompris")


def material_of(speech: Path, limit: int, strings: int) -> tuple[Material, list[Sound]]:
    """The dev clips and noises; other speech is left to `benchvoice.benchmarks hours`."""
    noises = read_noises(speech, "dev")
    material = gather(read_clips(speech / "manifest.tsv", "dev"), GRAMMAR, limit, strings)
    return replace(material, other=noise_alone(noises)), noises


def score(net: Path, lexicon: Path, speech: Path, costs: Costs, limit: int, strings: int) -> tuple[float, str]:
    """The weighted sum of the errors in %, and a line with each of them."""
    material, noises = material_of(speech, limit, strings)
    total, parts = 0.0, []
    with tempfile.TemporaryDirectory() as folder:
        pack(net, lexicon, Path(folder), costs=costs)
        ear = Ear(Path(folder))
        for ratio, weight in CONDITIONS:
            tally = measure(ear, material, GRAMMAR, noises, ratio)
            for name in SETS:
                words = tally.words[name]
                rate = 100 * words.errors / max(1, words.words)
                total += weight * rate
                parts.append(f"{rate:5.1f}")
            outside = tally.outside["words outside, gsc"]
            rate = 100 * outside.said_something / max(1, outside.clips)
            total += weight * OUTSIDE_WEIGHT * rate
            wrong = sum(r.wrong_taken + r.wrong_read_back for r in tally.readings.values())
            right = 100 * sum(r.right for r in tally.readings.values()) / sum(r.total for r in tally.readings.values())
            parts.append(f"{rate:5.1f} ({outside.accepted}) right {right:.0f} wrong {wrong}")
            if ratio is None:
                alone = tally.outside[ALONE]
                parts.append(f"alone {100 * alone.said_something / alone.clips:.0f} ({alone.accepted}) |")
    told = " ".join(f"{name} {getattr(costs, name):g}" for name in TUNED)
    return total, f"{total:6.1f}  {told}: {' '.join(parts)}"


def numbers(text: str) -> list[float]:
    return [float(part) for part in text.split(",")]


def combinations(args: argparse.Namespace) -> list[Costs]:
    tried: Sequence[tuple[float, ...]] = list(itertools.product(*(getattr(args, name) for name in TUNED)))
    return [Costs(**dict(zip(TUNED, each, strict=True))) for each in tried]


def main() -> None:
    plain = Costs()
    p = argparse.ArgumentParser(description="Choose the graph's costs for a net on dev.")
    p.add_argument("net", type=Path)
    p.add_argument("lexicon", type=Path)
    p.add_argument("speech", type=Path)
    p.add_argument("--word", type=numbers, default=[plain.word])
    p.add_argument("--silence", type=numbers, default=[plain.silence])
    p.add_argument("--filler", type=numbers, default=[plain.filler])
    p.add_argument("--filler-tail", type=numbers, default=[plain.filler_tail])
    p.add_argument("--background", type=numbers, default=[plain.background])
    p.add_argument("--loop", type=numbers, default=[plain.loop])
    p.add_argument("--limit", type=int, default=120, help="clips of a set at most")
    p.add_argument("--strings", type=int, default=36)
    p.add_argument("--jobs", type=int, default=2)
    args = p.parse_args()
    print("score  costs: clean", *SETS, "outside (accepted) readings | the same at 10 dB", flush=True)
    found = []
    with ProcessPoolExecutor(args.jobs) as pool:
        waiting = [
            pool.submit(score, args.net, args.lexicon, args.speech, costs, args.limit, args.strings)
            for costs in combinations(args)
        ]
        for each in waiting:
            found.append(each.result())
            print(found[-1][1], flush=True)
    print("best:", min(found)[1])


if __name__ == "__main__":
    main()
