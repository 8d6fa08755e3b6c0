"""What the commands `build` and `demo` are told, as plain data."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildOptions:
    """How a build is begun or resumed."""

    procedure: Path | None = None
    resume: Path | None = None
    typed: bool = False
    wav: Path | None = None
    out: Path | None = None
    clock: Literal["real", "script"] = "real"
    people: tuple[str, ...] = ()
    model: str | None = None
    voice: str | None = None
    """The person whose fitted ear hears; see `benchvoice fit`."""
    machine: str | None = None
    instruments: Path | None = None
    """The shop's register; without it, the one in the user's data folder, where there is one."""
    bring: tuple[str, ...] = ()
    """Builds that steps may bring in, as NAME=FOLDER; the name is what the procedure calls them."""
    amend: Path | None = None
    reason: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoOptions:
    """How the demonstration build runs."""

    out: Path | None = None
    realtime: bool = False
    seed: int = 1
    silence: bool = False
    """The person's sound is swapped for silence: nothing must be heard."""
    procedure: Path | None = None
