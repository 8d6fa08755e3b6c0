"""`builds`: the builds that went to the usual folder."""

from pathlib import Path

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.places import builds_folder
from benchvoice.errors import BenchvoiceError


def builds(as_json: Json = False) -> int:
    """List the builds in your data folder, with where each of them stands.

    Example: benchvoice builds
    """
    from benchvoice.log import list_builds

    found = [(path, _standing(path)) for path in list_builds(builds_folder())]
    if as_json:
        print_json([{"build": str(path), "standing": standing} for path, standing in found])
        return 0
    for path, standing in found:
        typer.echo(f"{path}: {standing}")
    if not found:
        typer.echo(f"No builds in {builds_folder()}.")
    return 0


def _standing(build: Path) -> str:
    """closed, or open since when; or what is wrong with its log."""
    from benchvoice.log import read_log
    from benchvoice.session.entries import Closed

    try:
        lines = read_log(build).lines
    except BenchvoiceError as fault:
        return str(fault)
    if not lines:
        return "never begun"
    last = f"{lines[-1].stamped.at:%Y-%m-%d %H:%M} UTC"
    closed = any(isinstance(line.entry, Closed) for line in lines)
    return f"closed {last}" if closed else f"open, last used {last}"
