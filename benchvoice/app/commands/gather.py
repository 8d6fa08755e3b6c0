"""`gather`: what a person confirmed or corrected in builds becomes material for the next fit."""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json


def gather(
    build: Annotated[list[Path], typer.Argument(help="Folders of builds.")],
    voice: Annotated[str, typer.Option(help="Whose words to gather: the name they said in the build.")],
    as_json: Json = False,
) -> int:
    """Gather what one person confirmed or corrected in builds: their clips, the true words and where they come from.

    They are copied to the person's voice in your data folder, and benchvoice fit NAME --reviewed uses them. Builds are
    only read; clips that were dropped at the person's wish are gone and stay so.

    Example: benchvoice gather engine-7 --voice ann
    """
    from benchvoice.app.ears import model_folder
    from benchvoice.app.fitting.review import gather_build
    from benchvoice.app.fitting.voices import voice_folder
    from benchvoice.ear.lexicon import read

    home, lexicon = voice_folder(voice), read(model_folder() / "lexicon.txt")
    answers = []
    for folder in build:
        found = gather_build(folder, home, voice.strip().lower(), lexicon)
        answers.append(
            {"build": str(folder), "confirmed": found.confirmed, "corrected": found.corrected, "gone": found.gone}
        )
    if as_json:
        print_json(answers)
    else:
        for answer in answers:
            typer.echo(
                f"{answer['build']}: {answer['confirmed']} confirmed and {answer['corrected']} corrected clips added, "
                f"{answer['gone']} gone"
            )
        typer.echo(f"benchvoice fit {home.name} --reviewed uses them.")
    return 0
