"""`demo`: a whole build by sound alone."""

from pathlib import Path
from typing import Annotated

import typer

from benchvoice.app.options import DemoOptions
from benchvoice.app.places import find_procedure


def demo(
    out: Annotated[Path | None, typer.Option(metavar="DIR", help="The build's folder.")] = None,
    realtime: Annotated[bool, typer.Option(help="At the pace of speech, through the loudspeaker.")] = False,
    seed: Annotated[int, typer.Option(help="Another number, other noise.")] = 1,
    silence: Annotated[bool, typer.Option(help="Swap the person's sound for silence: nothing may be heard.")] = False,
    procedure: Annotated[str | None, typer.Option(help="A file, or the name of a shipped procedure.")] = None,
) -> int:
    """Play a whole build: a scripted person speaks in shop noise, and the real ear has to hear it.

    It prints the conversation, then where the build and its record are.

    Example: benchvoice demo --out demo-build
    """
    from benchvoice.app.demo import demo as play

    return play(
        DemoOptions(
            out=out,
            realtime=realtime,
            seed=seed,
            silence=silence,
            procedure=None if procedure is None else find_procedure(procedure),
        )
    )
