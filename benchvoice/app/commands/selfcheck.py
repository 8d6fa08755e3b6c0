"""`selfcheck`: does everything that a build needs work here?"""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json


def selfcheck(
    procedure: Annotated[
        list[str] | None, typer.Option(metavar="FILE", help="Whose words must be heard: a file or a shipped name.")
    ] = None,
    instruments: Annotated[
        Path | None, typer.Option("--instruments", metavar="FILE", help="The shop's register; else your own.")
    ] = None,
    model: Annotated[str | None, typer.Option(help="The speech model, by name or path.")] = None,
    as_json: Json = False,
) -> int:
    """Try out the ear, the voice and the folders, list the sound devices, look at the shop's register of instruments,
    and tell the versions.

    The status is 1 when something that every spoken build needs doesn't work, or the register can't be read. A missing
    microphone or loudspeaker is only told, since a build can also be typed, and so is an overdue calibration.

    Example: benchvoice selfcheck --procedure launch-bottom-end
    """
    from benchvoice.app.selfcheck import check_machine

    findings = check_machine(model, tuple(procedure or ()), instruments)
    if as_json:
        print_json(
            [{"what": each.what, "fine": each.fine, "needed": each.needed, "told": each.told} for each in findings]
        )
    else:
        for each in findings:
            typer.echo(f"{'ok  ' if each.fine else 'BAD ' if each.needed else 'note'} {each.what}: {each.told}")
    bad = [each for each in findings if each.needed and not each.fine]
    for each in bad:
        typer.echo(f"{each.what}: {each.told}", err=True)
    return 1 if bad else 0
