"""`builds`: builds, where they stand, and what is left of each for later and after hand-over."""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.places import builds_folder


def builds(
    folders: Annotated[
        list[Path] | None, typer.Argument(metavar="[FOLDER]...", help="A build, or a folder of builds; else your own.")
    ] = None,
    as_json: Json = False,
) -> int:
    """List builds: what each is, where it stands, what is left for later, and what is owed after hand-over.

    Example: benchvoice builds
    """
    from dataclasses import asdict

    from benchvoice.app.standing import standing_of, those_in

    found = [standing_of(path) for folder in folders or [builds_folder()] for path in those_in(folder)]
    if as_json:
        print_json([{**asdict(each), "standing": each.words} for each in found])
        return 0
    for each in found:
        typer.echo(f"{each.build}: {each.words}")
        for name, items in (("left for later", each.left_for_later), ("owed", each.owed)):
            for item in items:
                typer.echo(f"    {name}: {item}")
    if not found:
        typer.echo(f"No builds in {', '.join(map(str, folders or [builds_folder()]))}.")
    return 0
