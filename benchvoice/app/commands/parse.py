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
    candidates = ", ".join(meaning["candidates"]) if len(meaning["candidates"]) > 1 else ""
    remarks = "; ".join(part for part in (meaning["reason"], candidates) if part)
    amount = _amount(meaning["low"], meaning["high"])
    told = f"{meaning['action']}: {amount} {meaning['unit']}" if amount else str(meaning["action"])
    return told + (f" ({remarks})" if remarks else "")


def _amount(low: str | None, high: str | None) -> str:
    """The interval that a reading lies in; one figure for a plain reading."""
    if low is None or high is None:
        return f"{low} or more" if low else f"{high} or less" if high else ""
    return low if low == high else f"{low} to {high}"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:].rstrip(".") + "."
