"""`verify`: is a build's record as it was written, and do its verdicts follow from its readings?"""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.commands.answers import Json, print_json


def verify(
    build: Annotated[Path, typer.Argument(help="The build's folder.")],
    as_json: Json = False,
) -> int:
    """Check a build's record, line by line, and recompute its verdicts; prints the hash that vouches for all of it.

    Example: benchvoice verify my-build
    """
    from benchvoice.app.judging import judge_for
    from benchvoice.log import verify as verify_log

    found = verify_log(build, judge_for(build))
    lines = len(found.contents.lines)
    fault, torn = found.fault, found.contents.torn
    if as_json:
        first = None if fault is None else {"line": fault.line, "what": fault.what}
        print_json({"build": str(build), "fault": first, "lines": lines, "head": found.head, "torn": torn is not None})
    elif fault is None:
        typer.echo(f"{lines} lines, all as they were written. Head: {found.head}")
    if torn is not None:
        typer.echo("An unfinished last write stands at the end of the log: nobody was told of it.", err=True)
    if fault is not None:
        typer.echo(f"{build}: {fault}.", err=True)
    return 0 if fault is None else 1
