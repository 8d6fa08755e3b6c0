"""`build`: begin a build, or go on with one."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.misuse import Misuse
from benchvoice.app.options import BuildOptions
from benchvoice.app.places import find_procedure


class ClockSort(StrEnum):
    """Which clock a build goes by."""

    REAL = "real"
    SCRIPT = "script"


def build(
    procedure: Annotated[str | None, typer.Argument(help="A file, or the name of a shipped procedure.")] = None,
    resume: Annotated[Path | None, typer.Option(metavar="BUILD", help="Go on with the build in this folder.")] = None,
    typed: Annotated[bool, typer.Option(help="Type instead: an utterance a line in, a prompt a line out.")] = False,
    wav: Annotated[Path | None, typer.Option(help="A sound file in place of the microphone.")] = None,
    out: Annotated[Path | None, typer.Option(metavar="DIR", help="The new build's folder.")] = None,
    clock: Annotated[
        ClockSort, typer.Option(help="script: typed lines such as @+10m move the clock.")
    ] = ClockSort.REAL,
    person: Annotated[list[str] | None, typer.Option(help="A name that may be said; again for more.")] = None,
    model: Annotated[str | None, typer.Option(help="The speech model, by name or path.")] = None,
    voice: Annotated[str | None, typer.Option(help="Whose fitted ear to hear with (see fit).")] = None,
    machine: Annotated[str | None, typer.Option(help="Which machine this is: a name or a number.")] = None,
    instruments: Annotated[
        Path | None, typer.Option(metavar="FILE", help="The shop's instruments; else those in your data folder.")
    ] = None,
    bring: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME=FOLDER", help="A build to bring in, by the step's name for it; again for more."),
    ] = None,
    amend: Annotated[Path | None, typer.Option(help="With --resume: a changed procedure to go on with.")] = None,
    reason: Annotated[str | None, typer.Option(help="Why it was changed; with --amend.")] = None,
) -> int:
    """Build a machine by a procedure: with microphone and loudspeaker, or --typed, or from a sound file.

    Example: benchvoice build launch-bottom-end --person ann --out engine-7
    """
    if (procedure is None) == (resume is None):
        raise Misuse("Name one procedure to begin, or --resume with a build's folder.")
    if typed and wav is not None:
        raise Misuse("--typed and --wav are two ways to be heard: choose one.")
    if voice is not None and (model is not None or typed):
        raise Misuse("--voice names an ear of its own: leave out --model and --typed.")
    if clock is ClockSort.SCRIPT and not typed:
        raise Misuse("--clock script moves the clock from typed lines: add --typed.")
    if resume is not None and (out is not None or machine is not None):
        raise Misuse("--out and --machine are for a new build: a resumed one has its folder and its name.")
    if (amend is None) != (reason is None) or (amend is not None and resume is None):
        raise Misuse("--amend changes a build that is resumed, and needs --reason with the reason.")
    from benchvoice.app.build import build as run_build

    return run_build(
        BuildOptions(
            procedure=None if procedure is None else find_procedure(procedure),
            resume=resume,
            typed=typed,
            wav=wav,
            out=out,
            clock="script" if clock is ClockSort.SCRIPT else "real",
            people=tuple(person or ()),
            model=model,
            voice=voice,
            machine=machine,
            instruments=instruments,
            bring=tuple(bring or ()),
            amend=amend,
            reason=reason,
        )
    )
