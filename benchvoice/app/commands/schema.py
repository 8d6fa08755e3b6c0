"""`schema`: the JSON Schemas of procedures and of the log."""

from enum import StrEnum
from typing import Annotated

import typer


class Which(StrEnum):
    """What there is a schema of."""

    PROCEDURE = "procedure"
    LOG = "log"


def schema(which: Annotated[Which, typer.Argument(help="Of what.")]) -> int:
    """Print the JSON Schema of a procedure, for editors, or of one line of a build's log.

    Example: benchvoice schema procedure > procedure.schema.json
    """
    if which is Which.PROCEDURE:
        from benchvoice.procedure.schema import schema_text as text
    else:
        from benchvoice.log.schema import schema_text as text
    typer.echo(text(), nl=False)
    return 0
