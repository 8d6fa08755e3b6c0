"""Speech models: found by name or path, proved whole, and loaded into vosk.

A path or a name is always explicit in what vosk is told: left to itself it would search the home folder and the
network.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from platformdirs import user_data_path

import benchvoice
from benchvoice.ear.confidence import Policy, read_policy
from benchvoice.ear.integrity import SHIPPED, check_sums, try_out
from benchvoice.ear.layout import ModelError, examine, read_words
from benchvoice.ear.lexicon import OTHER
from benchvoice.ear.library import import_vosk

FREE_SPEECH_WORDS = 20_000
"""A model with fewer words than this can't write down free speech, only pick words from a list."""


@dataclass(frozen=True, slots=True)
class Model:
    """A loaded model. It may serve many decoders and threads at once."""

    path: Path
    hash: str
    """SHA-256 over the files that decide what it hears, in hexadecimal."""
    words: frozenset[str]
    runtime_grammar: bool
    """False: its graph is fixed, it decodes all its words and the grammar only sorts out afterwards what was asked
    for."""
    policy: Policy
    handle: Any = field(repr=False)
    """vosk's own object."""

    @property
    def name(self) -> str:
        return self.path.name

    @property
    def free_speech(self) -> bool:
        """Whether it can write down what nobody listed beforehand (a remembered note)."""
        return len(self.words) >= FREE_SPEECH_WORDS

    @property
    def rejects(self) -> bool:
        """Whether it can say that something else was said."""
        return OTHER in self.words


def model_folders() -> list[Path]:
    """Where models are looked for by name: the user's own, then those in the package, then those beside a checkout."""
    package = Path(benchvoice.__file__).parent
    return [
        user_data_path("benchvoice", appauthor=False) / "models",
        package / "data/models",
        package.parent / "models",
    ]


def model_names(folders: Sequence[Path] | None = None) -> list[str]:
    """The names that `find_model` takes now: folders that look like a vosk model."""
    found: dict[str, None] = {}
    for folder in model_folders() if folders is None else folders:
        for path in sorted(folder.glob("*")) if folder.is_dir() else []:
            if any((path / net).is_file() for net in ("am/final.mdl", "final.mdl")):
                found[path.name] = None
    return list(found)


def find_model(name: str | Path = SHIPPED, folders: Sequence[Path] | None = None) -> Path:
    """The folder of a model, by its name or by a path. ModelError, with the names there are, when there is none."""
    places = model_folders() if folders is None else folders
    path = Path(name)
    if path.is_absolute() or len(path.parts) > 1:
        if path.is_dir():
            return path.resolve()
        raise ModelError(f"There is no speech model at {path}; name a folder that holds a vosk model.")
    for place in places:
        if (place / path).is_dir():
            return (place / path).resolve()
    names = ", ".join(model_names(places)) or "none"
    remedy = f"put its folder into {places[0]}" if places else "name the path of its folder"
    raise ModelError(f"There is no speech model named {name}: there is {names}; {remedy}.")


def load_model(path: Path, cache: Path | None = None) -> Model:
    """Loads the model in a folder. ModelError, one sentence with its remedy, whatever is wrong with it.

    Every file is checked before vosk may see it (see `layout` and `integrity`), for vosk ends the process on some
    faults.
    """
    layout = examine(path)
    digest = check_sums(path) if layout.packed else try_out(path, cache)
    words = read_words(layout.words)
    policy = read_policy(path)
    vosk = import_vosk()
    try:
        handle = vosk.Model(str(path))
    except Exception as fault:  # vosk raises nothing more exact
        raise ModelError(
            f"The speech model {path} can't be loaded by vosk; put the whole model there again."
        ) from fault
    return Model(path, digest, words, layout.runtime_grammar, policy, handle)
