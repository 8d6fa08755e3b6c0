"""A fit from beginning to end: what is kept of a voice, a model from it, and whether that hears better."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from shutil import rmtree

from benchvoice.app.fitting.prompts import vocabulary
from benchvoice.app.fitting.trial import Score, is_better, tried, with_noisy_copies
from benchvoice.app.fitting.voices import (
    CURRENT,
    MODELS,
    VoiceClip,
    clips_of,
    put_in_force,
    sound_of,
    voice_model,
)
from benchvoice.ear.fit.moving import Example
from benchvoice.ear.fit.personal import fit_model
from benchvoice.ear.model import load_model
from benchvoice.errors import InputError

LEAST_FITTED, LEAST_HELD_BACK = 24, 8
"""Clips that a fit needs, and those that it must be tried on."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a fit came to: `model` is None where it hears no better, and then nothing was changed.

    The scores are empty where the same clips had been fitted before.
    """

    fitted_on: int
    tried_on: int
    before: Score
    after: Score
    model: Path | None
    hash: str
    """Of the model that is in force afterwards."""


def fit_voice(
    folder: Path, base: Path, *, reviewed: bool, progress: Callable[[int, int], None], tell: Callable[[str], None]
) -> Outcome:
    """Fit `base` to the voice in a folder and put the fit in force if it is better than what is in force now.

    InputError when there are too few clips.
    """
    clips = [clip for clip in clips_of(folder) if reviewed or not clip.reviewed]
    learn, held = _sorted_out(folder, clips)
    in_force = load_model(voice_model(folder.name) if (folder / CURRENT).is_file() else base)
    path = fit_model(base, with_noisy_copies(learn), vocabulary(), folder / MODELS, progress)
    fitted = load_model(path)
    if fitted.hash == in_force.hash:
        tell("The same clips make the same ear.")
        return Outcome(len(learn), len(held), Score(), Score(), path, in_force.hash)
    tell(f"Trying it on {len(held)} clips that it never had, as they are and in noise.")
    before, after = (tried(model, held, vocabulary()) for model in (in_force, fitted))
    if not is_better(after, before):
        rmtree(path, ignore_errors=True)
        return Outcome(len(learn), len(held), before, after, None, in_force.hash)
    put_in_force(folder, path, load_model(base).hash)
    return Outcome(len(learn), len(held), before, after, path, fitted.hash)


def _sorted_out(folder: Path, clips: Sequence[VoiceClip]) -> tuple[list[Example], list[Example]]:
    """What the fit learns from, and what it is tried on."""
    examples = [(clip, Example(tuple(clip.text.split()), sound_of(folder, clip))) for clip in clips]
    learn = [example for clip, example in examples if not clip.held_back]
    held = [example for clip, example in examples if clip.held_back]
    if len(learn) < LEAST_FITTED or len(held) < LEAST_HELD_BACK:
        raise InputError(
            f"{len(clips)} clips of {folder.name} are too few to fit and try an ear: read on with benchvoice fit "
            f"{folder.name} ({len(learn)} of {LEAST_FITTED} to fit on, {len(held)} of {LEAST_HELD_BACK} to try it on)."
        )
    return learn, held
