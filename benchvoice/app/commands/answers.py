"""How commands answer: JSON for programs, and the option that asks for it."""

import json
from typing import Annotated, Any

import typer

Json = Annotated[bool, typer.Option("--json", help="Answer in JSON, for programs.")]


def print_json(answer: Any, *, indent: int | None = 1) -> None:
    """An answer as JSON; without an indent, on one line."""
    typer.echo(json.dumps(answer, indent=indent, ensure_ascii=False))
