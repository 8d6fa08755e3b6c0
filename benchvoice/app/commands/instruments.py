"""`instruments`: the shop's register: what is in it, what is overdue, how often it was used, what was overridden."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.commands.misuse import Misuse
from benchvoice.app.places import builds_folder, register_file

if TYPE_CHECKING:
    from benchvoice.app.instruments import Used


def instruments(
    file: Annotated[Path | None, typer.Option("--instruments", metavar="FILE", help="The register.")] = None,
    builds: Annotated[Path | None, typer.Option(metavar="DIR", help="The folder of builds that used them.")] = None,
    overdue: Annotated[bool, typer.Option(help="Only those whose calibration is due.")] = False,
    as_json: Json = False,
) -> int:
    """List the shop's instruments: range, uncertainty, when they are due, uses since then, and overrides in builds.

    Example: benchvoice instruments --overdue
    """
    from benchvoice.app.instruments import logs_in, usage
    from benchvoice.procedure.register import load_register

    path = file or register_file()
    if path is None:
        raise Misuse("There is no register: name one with --instruments, or put instruments.yaml in your data folder.")
    shop = load_register(path)
    today = datetime.now(UTC).date()
    found = [_answer(each, today) for each in usage(shop, tuple(logs_in(builds or builds_folder())))]
    shown = [each for each in found if each["overdue"] or not overdue]
    if as_json:
        print_json({"register": str(path), "instruments": shown})
        return 0
    for each in shown:
        _tell(each)
    if not shown:
        typer.echo("None is overdue." if overdue else f"No instrument is in {path}.")
    for word in _unheard([name for each in shown for name in each["says"]]):
        typer.echo(f"{path}: the ear has no word {word}: call it otherwise under says")
    return 0


def _answer(used: "Used", today: Any) -> dict[str, Any]:
    from benchvoice.quantity.instruments import due_date, objections

    one = used.instrument
    due = due_date(one)
    return {
        "id": one.id,
        "says": list(one.says),
        "kind": one.kind,
        "unit": one.unit,
        "range": [_text(one.low), _text(one.high)],
        "resolution": _text(one.resolution),
        "uncertainty": _text(one.uncertainty),
        "k": str(one.k),
        "class_percent": _text(one.class_percent),
        "calibrated": _text(one.calibrated),
        "due": _text(due),
        "due_uses": one.due.uses,
        "uses": used.uses,
        "builds": [str(path) for path in used.builds],
        "overdue": objections(one, on=today, uses=used.uses),
        "overrides": [
            {
                "build": str(path),
                "line": row.n,
                "at": row.now.at.isoformat(),
                "by": row.by,
                "what": row.entry.what.partition(": ")[2],
                "reason": row.entry.reason,
                "step": row.entry.step,
            }
            for path, row in used.overrides
        ],
    }


def _text(value: object) -> str | None:
    return None if value is None else str(value)


def _tell(one: dict[str, Any]) -> None:
    low, high = one["range"]
    parts = [one["kind"]]
    if low or high:
        parts.append(f"{low or 'any'} to {high or 'any'} {one['unit']}")
    if one["uncertainty"]:
        parts.append(f"U = {one['uncertainty']} {one['unit']} (k = {one['k']})")
    elif one["resolution"]:
        parts.append(f"resolution {one['resolution']} {one['unit']}")
    if one["class_percent"]:
        parts.append(f"class {one['class_percent']} %")
    if one["calibrated"]:
        parts.append(f"calibrated {one['calibrated']}")
    due = " or ".join(filter(None, (one["due"], f"after {one['due_uses']} uses" if one["due_uses"] else "")))
    parts.append(f"due {due}" if due else "never due")
    parts.append(f"{one['uses']} uses in {len(one['builds'])} builds since")
    typer.echo(f"{one['id']}: {', '.join(parts)}")
    for what in one["overdue"]:
        typer.echo(f"  overdue: {what}")
    for each in one["overrides"]:
        by = f" by {each['by']}" if each["by"] else ""
        where = f"{each['build']}, line {each['line']}, {each['at'][:10]}{by}"
        typer.echo(f"  overridden in {where}: {each['what']}, because {each['reason']}")


def _unheard(names: list[str]) -> list[str]:
    """Words of names that the ear can't hear; none where there is no ear to ask."""
    from benchvoice.app.ears import lacking, model_folder
    from benchvoice.errors import MachineError

    try:
        return list(lacking({word for name in names for word in name.lower().split()}, model_folder(None)).unheard)
    except MachineError:
        return []
