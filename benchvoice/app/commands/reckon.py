"""`reckon`: one computation at the bench."""

from typing import Annotated, Any

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.commands.misuse import Misuse


def reckon(
    name: Annotated[str | None, typer.Argument(help="Which computation; --list names them.")] = None,
    given: Annotated[list[str] | None, typer.Argument(metavar="KEY=VALUE...", help="Its inputs, with units.")] = None,
    every: Annotated[bool, typer.Option("--list", help="List every computation with an example.")] = False,
    as_json: Json = False,
) -> int:
    """Compute something: a torque with an adapter, a clearance, a fit, a bolt's preload.

    Example: benchvoice reckon adapter torque=30ft_lb lever=12in adapter=6in
    """
    from benchvoice.app.reckoning import BadReckoning, listing, reckoning_of
    from benchvoice.app.reckoning import reckon as compute

    if every == (name is not None):
        raise Misuse("Name one computation with its inputs, or ask for --list.")
    if name is None:
        _print_list(listing(), as_json)
        return 0
    try:
        reckoning_of(name)
    except BadReckoning as fault:
        raise Misuse(str(fault)) from fault
    answer = compute(name, _inputs(given or []))
    if as_json:
        print_json(answer)
    else:
        _tell(answer)
    return 0


def _inputs(given: list[str]) -> dict[str, str]:
    from benchvoice.app.reckoning import BadReckoning

    inputs: dict[str, str] = {}
    for text in given:
        key, equals, value = text.partition("=")
        if not equals or not key:
            raise BadReckoning(f"{text!r} is no input: write key=value, such as torque=30ft_lb")
        if key in inputs:
            raise BadReckoning(f"{key} is given twice: give it once")
        inputs[key] = value
    return inputs


def _print_list(entries: list[dict[str, Any]], as_json: bool) -> None:
    if as_json:
        print_json(entries)
        return
    for entry in entries:
        inputs = "; ".join(f"{key}: {meaning}" for key, meaning in entry["inputs"].items())
        typer.echo(f"benchvoice reckon {entry['example']}\n    {inputs}\n    {entry['formula']} [{entry['source']}]")


def _tell(answer: dict[str, Any]) -> None:
    for key, value in answer["results"].items():
        typer.echo(f"{key}: {_plain(value)}")
    typer.echo(f"by {answer['formula']} [{answer['source']}]")
    if "caution" in answer:
        typer.echo(f"caution: {answer['caution']}")


def _plain(value: Any) -> str:
    """A result in words: 28.2 ft_lb; 1.5 to 3.0 thou; yes."""
    match value:
        case {"value": number, "unit": unit}:
            return f"{number} {unit}"
        case {"low": low, "high": high, "unit": unit}:
            return f"{'any' if low is None else low} to {'any' if high is None else high} {unit}"
        case bool():
            return "yes" if value else "no"
        case list():
            return _BETWEEN[min(_depth(value), 3)].join(_plain(one) for one in value)
        case None:
            return "none"
        case _:
            return str(value)


_BETWEEN = {1: ", ", 2: " | ", 3: "; "}
"""Between things, between groups of things (the pieces of two packs), between ways."""


def _depth(value: Any) -> int:
    return 1 + max((_depth(one) for one in value), default=0) if isinstance(value, list) else 0
