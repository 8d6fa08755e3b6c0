"""`schema`: the JSON Schemas of procedures, of registers of instruments, and of the log."""

from enum import StrEnum
from typing import Annotated

import typer


class Which(StrEnum):
    """What there is a schema of."""

    PROCEDURE = "procedure"
    INSTRUMENTS = "instruments"
    LOG = "log"


def schema(which: Annotated[Which, typer.Argument(help="Of what.")]) -> int:
    """Print the JSON Schema of a procedure or of a register of instruments, for editors, or of a line of a log.

    Example: benchvoice schema procedure > procedure.schema.json
    """
    if which is Which.PROCEDURE:
        from benchvoice.procedure.schema import schema_text as text
    elif which is Which.INSTRUMENTS:
        from benchvoice.procedure.schema import register_schema_text as text
    else:
        from benchvoice.log.schema import schema_text as text
    typer.echo(text(), nl=False)
    return 0
