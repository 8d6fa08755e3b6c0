"""How far the ear's confidence can be believed: `python -m benchvoice.benchmarks calibrate --speech FOLDER`.

Decodes recordings of people clean and in noise, with the bench grammar; words outside it and other speech too. Where
words and nothing else were understood, a logistic curve is fitted from the least posterior to the share of utterances
that are right (all words as said). What is printed and plotted was predicted for every speaker by a curve fitted on the
other speakers, in ten parts. --write keeps the curve of all in the model's folder. Fit on dev, look at test once.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from benchvoice.benchmarks.ear import GRAMMAR, Material, gather, grammar_of, noise_alone
from benchvoice.benchmarks.ear_measure.bounds import share_bounds
from benchvoice.benchmarks.ear_measure.engines import Ear
from benchvoice.benchmarks.ear_measure.sound import Sound, read_clips, read_noises, to_samples, with_noise
from benchvoice.ear.confidence import FILE, Policy, log_odds, nothing_else
from benchvoice.ear.model import find_model
from benchvoice.errors import BenchvoiceError

CONDITIONS = (None, 15.0, 10.0, 5.0)
FOLDS = 10
EDGES = (0.0, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 1.0)
ACCEPT, REFUSE = 0.85, 0.3
"""On dev, from 0.85, 1,321 right and 53 wrong; from 0.8, 1,346 and 65: what lies between is not worth its wrong
readings."""
NOISE_SEED = 1000


@dataclass(frozen=True, slots=True)
class Case:
    """An utterance in which words were understood and nothing else was heard."""

    speaker: str
    least: float
    right: bool
    inside: bool
    """Whether all that was said was in the grammar."""


@dataclass(frozen=True, slots=True)
class Bin:
    """Utterances whose probabilities lie together."""

    said: float
    right: int
    count: int


def cases(ear: Ear, material: Material, noises: Sequence[Sound]) -> list[Case]:
    """All clips in all conditions."""
    found: list[Case] = []
    kinds = [(clip, kind) for kind in ("inside", "outside", "other") for clip in getattr(material, kind)]
    kinds.sort(key=lambda each: grammar_of(each[0].group, GRAMMAR) != list(GRAMMAR))
    listening: list[str] = []
    for number, (clip, kind) in enumerate(kinds):
        if (grammar := grammar_of(clip.group, GRAMMAR)) != listening:
            ear.listen_for(grammar)
            listening = grammar
        for ratio in CONDITIONS if noises else (None,):
            mixed = clip if ratio is None else with_noise(clip, noises, ratio, NOISE_SEED + number)
            decoded = ear.hear(to_samples(mixed.sound)).decoded
            if decoded is not None and decoded.known and nothing_else(decoded):
                right = kind == "inside" and list(decoded.known) == clip.words
                least = min(word.confidence for word in decoded.words)
                found.append(Case(clip.speaker, least, right, kind == "inside"))
    return found


def fitted(of: Sequence[Case]) -> tuple[float, float]:
    """Constant and slope of the likeliest curve (Newton's method; the slope is held a little toward 0)."""
    x = np.array([(1.0, log_odds(case.least)) for case in of])
    y = np.array([case.right for case in of], float)
    w: NDArray[np.float64] = np.array([0.0, 1.0])
    hold = np.diag([1e-6, 1.0])
    for _ in range(60):
        p = 1 / (1 + np.exp(-(x @ w)))
        step = np.linalg.solve((x.T * (p * (1 - p))) @ x + hold, x.T @ (y - p) - hold @ w)
        w += step
        if np.abs(step).max() < 1e-9:
            break
    return float(w[0]), float(w[1])


def predicted(of: Sequence[Case], folds: int = FOLDS) -> list[float]:
    """For every case the probability by a curve that its speaker had no part in."""
    speakers = sorted({case.speaker for case in of})
    random.Random(0).shuffle(speakers)
    part = {speaker: number % folds for number, speaker in enumerate(speakers)}
    curves = [fitted([c for c in of if part[c.speaker] != k] or of) for k in range(min(folds, len(speakers)))]
    return [_probability(case.least, curves[part[case.speaker]]) for case in of]


def _probability(least: float, curve: tuple[float, float]) -> float:
    return 1 / (1 + math.exp(-curve[0] - curve[1] * log_odds(least)))


def bins(of: Sequence[Case], said: Sequence[float]) -> list[Bin]:
    found = []
    for low, high in pairwise(EDGES):
        inside = [(p, c.right) for p, c in zip(said, of, strict=True) if low <= p < high or p == high == 1]
        if inside:
            found.append(Bin(sum(p for p, _ in inside) / len(inside), sum(r for _, r in inside), len(inside)))
    return found


def table(of: Sequence[Bin]) -> str:
    lines = ["| it says | utterances | right | 95 % |", "|---|---|---|---|"]
    for each in of:
        low, high = share_bounds(each.right, each.count)
        lines.append(f"| {each.said:.2f} | {each.count} | {each.right / each.count:.2f} | {low:.2f} to {high:.2f} |")
    return "\n".join(lines)


def plot(of: Sequence[Bin]) -> str:
    """A reliability plot as SVG: what it says across, the share that is right upward, bars of 95 %."""

    def at(x: float, y: float) -> tuple[int, int]:
        return round(40 + 240 * x), round(260 - 240 * y)

    marks = []
    for each in of:
        low, high = share_bounds(each.right, each.count)
        (x, y), (_, bottom), (_, top) = (at(each.said, v) for v in (each.right / each.count, low, high))
        marks.append(f'<path d="M{x} {bottom}V{top}"/><circle cx="{x}" cy="{y}" r="4" fill="#06c"/>')
    ticks = "".join(
        f'<text x="{at(v, 0)[0]}" y="275" text-anchor="middle">{v:g}</text>'
        f'<text x="34" y="{at(0, v)[1] + 4}" text-anchor="end">{v:g}</text>'
        for v in (0, 0.5, 1)
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 300" width="300" font-family="sans-serif" '
        'font-size="11">\n<rect width="300" height="300" fill="#fff"/>\n'
        '<path d="M40 20V260H280" fill="none" stroke="#000"/><path d="M40 260L280 20" stroke="#aaa"/>\n'
        f'{ticks}\n<g stroke="#06c">{"".join(marks)}</g>\n'
        '<text x="160" y="292" text-anchor="middle">what it says</text>'
        '<text x="12" y="140" text-anchor="middle" transform="rotate(-90 12 140)">share that is right</text>\n</svg>\n'
    )


def accepted(of: Sequence[Case], said: Sequence[float], least: float) -> str:
    """What a threshold lets through."""
    taken = [case for p, case in zip(said, of, strict=True) if p >= least]
    wrong = [case for case in taken if not case.right]
    outside = sum(not case.inside for case in wrong)
    return (
        f"from {least:g}: {len(taken) - len(wrong)} right, {len(wrong)} wrong ({outside} of them outside the grammar)"
    )


def run(args: argparse.Namespace) -> int:
    clips = read_clips(args.speech / "manifest.tsv", args.split)
    noises = read_noises(args.speech, args.split)
    material = gather(clips, GRAMMAR, args.limit, args.strings)
    material.other.extend(noise_alone(noises))
    path = find_model(args.model)
    ear = Ear(path)
    found = cases(ear, material, noises)
    if not found:
        print("nothing was understood in these recordings: name others", file=sys.stderr)
        return 2
    if args.split == "test":  # the model's own curve is what is tested
        curve = ear.model.policy.constant, ear.model.policy.slope
        said = [_probability(case.least, curve) for case in found]
    else:
        curve, said = fitted(found), predicted(found)
    groups = bins(found, said)
    count = sum(len(getattr(material, kind)) for kind in ("inside", "outside", "other"))
    print(f"{path.name}, split {args.split}: {len(found)} utterances understood of {count} clips", end=" ")
    print(f"in {len(CONDITIONS) if noises else 1} conditions; {len({case.speaker for case in found})} speakers")
    print(f"constant {curve[0]:.3f}, slope {curve[1]:.3f}\n{table(groups)}")
    for least in (0.8, 0.85, 0.9, 0.95):
        print(accepted(found, said, least))
    if args.write:
        policy = Policy(round(curve[0], 3), round(curve[1], 3), ACCEPT, REFUSE)
        values = {name: getattr(policy, name) for name in ("constant", "slope", "accept", "refuse")}
        (path / FILE).write_text(json.dumps(values) + "\n", encoding="utf-8")
    if args.plot:
        args.plot.write_text(plot(groups), encoding="utf-8")
    return 0


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; 2 when it could not be run."""
    p = argparse.ArgumentParser(
        prog="python -m benchvoice.benchmarks calibrate", description=__doc__.splitlines()[0] if __doc__ else ""
    )
    p.add_argument("--speech", type=Path, required=True, help="folder with manifest.tsv and noise.tsv")
    p.add_argument("--split", default="dev", choices=["test", "dev"])
    p.add_argument("--model", default="bench-en", help="name or folder of the ear's model")
    p.add_argument("--limit", type=int, default=1000, help="clips of a set at most")
    p.add_argument("--strings", type=int, default=60, help="strings joined from a set's clips")
    p.add_argument("--write", action="store_true", help="keep the curve in the model's folder (dev alone)")
    p.add_argument("--plot", type=Path, help="write a reliability plot here, as SVG")
    args = p.parse_args(list(argv))
    if args.write and args.split != "dev":
        p.error("a curve is fitted on dev alone")
    try:
        return run(args)
    except BenchvoiceError as fault:
        print(fault, file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
