"""What a fit to one person does: `python -m benchvoice.benchmarks fit --speech FOLDER [--split dev]`.

Every speaker with clips enough is split in two halves: fitted on one, tried on the other, and the other way round.
Printed are the tries with the model as it is and with the fitted one, by kind of noise, with 95 % bounds on what is
accepted wrongly, and what becomes of other people's words that no grammar has. Choose with --split dev, run test once.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from benchvoice.app.fitting.prompts import vocabulary
from benchvoice.app.fitting.trial import Score, with_noisy_copies
from benchvoice.benchmarks.ear import GRAMMAR, LETTERS
from benchvoice.benchmarks.ear_measure.bounds import share_bounds
from benchvoice.benchmarks.ear_measure.sound import Clip, Sound, read_clips, read_noises, to_samples, with_noise
from benchvoice.ear.confidence import Trust, trust
from benchvoice.ear.decode import decode, grammar_for
from benchvoice.ear.fit.moving import Example
from benchvoice.ear.fit.personal import fit_model
from benchvoice.ear.model import Model, find_model, load_model
from benchvoice.errors import BenchvoiceError

LEAST = 24
"""Clips that a speaker must have."""


def by_speaker(clips: Sequence[Clip], words: Sequence[str]) -> dict[str, list[Clip]]:
    """Speakers with clips enough whose words are all in the grammar, in an order drawn by a fixed seed."""
    found: dict[str, list[Clip]] = {}
    for clip in clips:
        if clip.words and all(word in words for word in clip.words):
            found.setdefault(clip.speaker, []).append(clip)
    for own in found.values():
        random.Random(1).shuffle(own)
    return {speaker: own for speaker, own in sorted(found.items()) if len(own) >= LEAST}


def heard(
    model: Model, clips: Sequence[Clip], words: Sequence[str], noises: Sequence[Sound], ratio: float | None
) -> Score:
    """Tries of clips, as they are or in noise that no fit had."""
    grammar, total = grammar_for(model, words), Score()
    for number, clip in enumerate(clips):
        mixed = clip if ratio is None else with_noise(clip, noises, ratio, number)
        decoded = decode(model, to_samples(mixed.sound), grammar)
        right, accepted = list(decoded.known) == clip.words, trust(decoded, model.policy) is Trust.ACCEPT
        total += Score(1, int(right), int(right and accepted), int(accepted and not right))
    return total


def outside(model: Model, clips: Sequence[Clip], words: Sequence[str]) -> tuple[int, int]:
    """Of other people's words that the grammar lacks: taken for a word, and accepted as one."""
    grammar = grammar_for(model, words)
    decoded = [decode(model, to_samples(clip.sound), grammar) for clip in clips]
    return sum(bool(each.known) for each in decoded), sum(trust(each, model.policy) is Trust.ACCEPT for each in decoded)


def told(score: Score) -> str:
    low, high = share_bounds(score.wrong, score.tries)
    return (
        f"right {score.right}/{score.tries}, accepted {score.accepted}, wrong and accepted {score.wrong} "
        f"[{low:.1%}, {high:.1%}]"
    )


def run(args: argparse.Namespace) -> int:
    clips = read_clips(args.speech / "manifest.tsv", args.split)
    noises = read_noises(args.speech, args.split)
    words = list(dict.fromkeys([*GRAMMAR, *(LETTERS if args.letters else [])]))
    others = [clip for clip in clips if clip.group == "gsc" and not any(word in words for word in clip.words)]
    base_path = find_model(args.model)
    base = load_model(base_path)
    print(f"{base.name} ({base.hash[:12]}), split {args.split}, {len(noises)} noises, {len(words)} words")
    print(f"as it is: other words {outside(base, others, words)} of {len(others)} taken, accepted", flush=True)
    totals: dict[tuple[str, str], Score] = {}
    with tempfile.TemporaryDirectory() as home:
        for speaker, own in by_speaker(clips, words).items():
            halves = own[::2], own[1::2]
            for fit_on, try_on in (halves, halves[::-1]):
                examples = [Example(tuple(clip.words), to_samples(clip.sound)) for clip in fit_on]
                fitted = load_model(fit_model(base_path, with_noisy_copies(examples), vocabulary(), Path(home)))
                for name, model in (("as it is", base), ("fitted", fitted)):
                    for condition in ("clean", "10"):
                        ratio = None if condition == "clean" else float(condition)
                        score = heard(model, try_on, words, noises, ratio)
                        key = name, f"{speaker} {condition}"
                        totals[key] = totals.get(key, Score()) + score
            taken = outside(fitted, others, words)
            for condition in ("clean", "10"):
                for name in ("as it is", "fitted"):
                    print(f"{speaker:18} {condition:6} {name:9} {told(totals[name, f'{speaker} {condition}'])}")
            print(f"{speaker:18} fitted: other words {taken} of {len(others)} taken, accepted", flush=True)
    return 0


def main(argv: Sequence[str]) -> int:
    """Run the benchmark; 2 when it could not be run."""
    p = argparse.ArgumentParser(
        prog="python -m benchvoice.benchmarks fit", description=__doc__.splitlines()[0] if __doc__ else ""
    )
    p.add_argument("--speech", type=Path, required=True, help="folder with manifest.tsv and noise.tsv")
    p.add_argument("--split", default="dev", choices=["test", "dev"])
    p.add_argument("--model", default="bench-en", help="name or folder of the ear's model")
    p.add_argument("--letters", action="store_true", help="listen for all letters too")
    try:
        return run(p.parse_args(list(argv)))
    except BenchvoiceError as fault:
        print(fault, file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
