"""The command line: one module per command, and one place where errors become a sentence and an exit status.

Status 0: fine; 1: what was asked about isn't right; 2: wrong use; 130: interrupted. What a person has to know goes to
standard error, a sentence a fault; answers go to standard output, as JSON with --json.
"""

from importlib import import_module
from types import MappingProxyType
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from benchvoice import __version__
from benchvoice.app.commands.misuse import Misuse
from benchvoice.errors import BenchvoiceError

COMMANDS = MappingProxyType(
    {
        "demo": "Play a whole build by sound alone.",
        "build": "Begin a build, or go on with one.",
        "builds": "List builds, and what is left and owed of each.",
        "instruments": "List the shop's instruments and what is due.",
        "record": "Write a build's page for people.",
        "verify": "Check that a build's record is whole.",
        "check": "Check procedures before the bench.",
        "parse": "Tell what a spoken reading means.",
        "hear": "Hear sound files.",
        "fit": "Fit the ear to one person's voice.",
        "gather": "Gather what was confirmed in builds, for a fit.",
        "reckon": "Compute something, with its formula.",
        "selfcheck": "Try out what a build needs here.",
        "schema": "Print a JSON Schema.",
    }
)
"""In the order of the help, with a line each. Each is a module in `commands` with a function of the same name that
returns the exit status."""


class _Commands(TyperGroup):
    """Runs a command, whose result is the exit status, and says what stopped it."""

    def invoke(self, ctx: Any) -> Any:
        """Raises typer.Exit with the status."""
        try:
            status = super().invoke(ctx)
        except Misuse as fault:
            typer.echo(f"{fault} ({ctx.info_name} {ctx.invoked_subcommand} --help tells more.)", err=True)
            raise typer.Exit(2) from None
        except BenchvoiceError as fault:
            typer.echo(str(fault), err=True)
            raise typer.Exit(1) from None
        raise typer.Exit(status or 0)


def _say_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"benchvoice {__version__}")
        raise typer.Exit(0)


def _benchvoice(
    version: Annotated[
        bool, typer.Option("--version", callback=_say_version, is_eager=True, help="Show the version and stop.")
    ] = False,
) -> None:
    """A voice at the bench: reads procedures aloud, takes readings by ear, keeps the record. All of it offline."""


def command_line() -> typer.Typer:
    """The whole command line, put together."""
    app = typer.Typer(
        cls=_Commands,
        no_args_is_help=True,
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    app.callback()(_benchvoice)
    for name, short_help in COMMANDS.items():
        app.command(name, short_help=short_help)(getattr(import_module(f"benchvoice.app.commands.{name}"), name))
    return app


def run() -> None:
    """What the script `benchvoice` calls."""
    command_line()(prog_name="benchvoice")


if __name__ == "__main__":
    run()
