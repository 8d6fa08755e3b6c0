"""`record`: the page for people."""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json


def record(
    build: Annotated[Path, typer.Argument(help="The build's folder.")],
    as_json: Json = False,
) -> int:
    """Write a build's record into its folder: one HTML page, to look at, to print, to hand over.

    Example: benchvoice record my-build
    """
    from benchvoice.sheet import write_record

    page = write_record(build)
    if as_json:
        print_json({"record": str(page)})
    else:
        typer.echo(f"Record: {page}")
    return 0
