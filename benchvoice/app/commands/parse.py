"""`parse`: what a spoken reading means."""

from typing import Annotated, Any

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.commands.misuse import Misuse
from benchvoice.errors import InputError

Unit = Annotated[str | None, typer.Option(help="The step's unit: in, thou, mm, N_m, ft_lb, degC, psi, 1 ...")]
Work = Annotated[str, typer.Option(help="inch or metric: what bare fractions and thousandths are parts of.")]
Low = Annotated[str | None, typer.Option(help="The step's low limit, in --unit.")]
High = Annotated[str | None, typer.Option(help="The step's high limit, in --unit.")]
What = Annotated[str | None, typer.Option(help="What is measured: torque, clearance, deviation, height ...")]


def parse(
    text: Annotated[str, typer.Argument(help="The words, as they were said.")],
    unit: Unit = None,
    work: Work = "metric",
    low: Low = None,
    high: High = None,
    what: What = None,
    as_json: Json = False,
) -> int:
    """Tell what a spoken reading means, and whether it would be taken, read back or asked for again.

    Example: benchvoice parse "four and a half thou" --unit in
    """
    from benchvoice.speech.parse_output import parse_as

    try:
        meaning = parse_as(text, unit=unit, work=work, low=low, high=high, what=what)
    except InputError as fault:
        raise Misuse(_sentence(str(fault))) from fault
    if as_json:
        print_json(meaning)
    else:
        typer.echo(_in_words(meaning))
    return 0


def _in_words(meaning: dict[str, Any]) -> str:
    """take: 0.0045 in"""
    value, low, high, unit = (meaning[key] for key in ("value", "low", "high", "unit"))
    what = "" if value is None else f" {value} {unit}"
    if low != high:
        what = f" between {low or 'any'} and {high or 'any'} {unit}"
    candidates = ", ".join(meaning["candidates"]) if len(meaning["candidates"]) > 1 else ""
    remarks = "; ".join(part for part in (meaning["reason"], candidates) if part)
    return f"{meaning['action']}:{what}" + (f" ({remarks})" if remarks else "")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."
