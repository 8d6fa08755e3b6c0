"""`fit`: have a person read aloud, and fit the ear to them."""

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.commands.misuse import Misuse

if TYPE_CHECKING:
    from benchvoice.app.fitting.fitting import Outcome


def fit(
    name: Annotated[str, typer.Argument(help="Whose voice it is: a name of your own.")],
    wav: Annotated[Path | None, typer.Option(help="A sound file of the reading, in place of the microphone.")] = None,
    folder: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Clips in place of reading: with list.tsv (file, text).")
    ] = None,
    reviewed: Annotated[bool, typer.Option(help="Use what was gathered from builds too (see gather).")] = False,
    model: Annotated[str | None, typer.Option(help="The speech model to start from, by name or path.")] = None,
    as_json: Json = False,
) -> int:
    """Fit the ear to one person and their microphone: they read about two minutes aloud, shown line by line.

    Everything stays on this machine. Stopped in its middle, the same command goes on. The fitted ear is kept only if it
    hears clips of theirs better that it never had; the status is 1 when it doesn't. Use it with build --voice.

    Example: benchvoice fit ann
    """
    if wav is not None and folder is not None:
        raise Misuse("--wav and --folder are two ways to bring sound: choose one.")
    from benchvoice.app.ears import model_folder
    from benchvoice.app.fitting.fitting import fit_voice
    from benchvoice.app.fitting.voices import voice_folder

    home, base = voice_folder(name), model_folder(model)
    _collect(home, base, wav, folder)
    outcome = fit_voice(home, base, reviewed=reviewed, progress=_show, tell=_tell)
    if as_json:
        print_json({**asdict(outcome), "model": None if outcome.model is None else str(outcome.model)})
    else:
        _report(home.name, outcome)
    return 1 if outcome.model is None else 0


def _collect(home: Path, base: Path, wav: Path | None, folder: Path | None) -> None:
    """Clips from a folder, or prompts read aloud."""
    from benchvoice.app.fitting.prompts import PROMPTS
    from benchvoice.app.fitting.reading import read_aloud, take_folder
    from benchvoice.app.fitting.voices import READ, clips_of
    from benchvoice.ear.model import load_model
    from benchvoice.room import DeviceRoom, Room, WavRoom

    if folder is not None:
        _tell(f"{take_folder(folder, home)} clips taken from {folder}.")
        return
    if {clip.text for clip in clips_of(home) if clip.source == READ} >= set(PROMPTS):
        return
    room: Room = WavRoom(wav) if wav is not None else DeviceRoom()
    _tell("Read each line aloud as you would at the bench. Ctrl-C stops; the same command goes on.")
    try:
        read_aloud(room, load_model(base), home, PROMPTS, _tell)
    finally:
        room.close()
        _tell(f"{len(clips_of(home))} clips of {home.name} are kept in {home}.")


def _report(name: str, outcome: "Outcome") -> None:
    if outcome.after.tries:
        typer.echo(f"Fitted on {outcome.fitted_on} clips, tried on {outcome.tried_on} others:")
        typer.echo(f"  before: {outcome.before}")
        typer.echo(f"  after:  {outcome.after}")
    if outcome.model is None:
        typer.echo(f"The fit hears {name} no better: nothing was changed.")
    else:
        typer.echo(f"The ear is fitted to {name} ({outcome.hash[:12]}): benchvoice build --voice {name} hears with it.")


def _show(done: int, of: int) -> None:
    typer.echo(f"\rFitting: {done} of {of}", nl=done == of, err=True)


def _tell(text: str) -> None:
    typer.echo(text, err=True)
