"""`check`: is a procedure right, is it wise, and can its words be heard?"""

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from benchvoice.app.commands.answers import Json, print_json
from benchvoice.app.places import find_procedure
from benchvoice.errors import DocumentError, InputError, MachineError

if TYPE_CHECKING:
    from benchvoice.app.ears import Lookalikes

Model = Annotated[str | None, typer.Option(help="The speech model, by name or path.")]


def check(
    procedure: Annotated[list[str], typer.Argument(help="Files, or names of shipped procedures.")],
    model: Model = None,
    as_json: Json = False,
) -> int:
    """Check procedures: every fault, then what is legal and unwise, and words that can't be heard or sound alike.

    Faults go to standard error, advice to standard output; the status is 1 when there is a fault.

    Example: benchvoice check launch-bottom-end my-gearbox.yaml
    """
    answers = [_checked(text, model) for text in procedure]
    if as_json:
        print_json(answers)
    for answer in answers:
        for fault in answer["faults"]:
            typer.echo(fault, err=True)
        if not as_json:
            _tell(answer)
    return 1 if any(answer["faults"] for answer in answers) else 0


def _tell(answer: dict[str, Any]) -> None:
    for advice in answer["advice"]:
        typer.echo(advice)
    if answer["learnt"]:
        typer.echo(f"{answer['file']}: said as they are spelt, so try them aloud: {', '.join(answer['learnt'])}")
    if answer["ear"]:
        typer.echo(f"{answer['file']}: whether its words can be heard isn't known: {answer['ear']}")
    counted = len(answer["faults"]), len(answer["advice"])
    typer.echo(f"{answer['file']}: {_count(counted[0], 'fault')}, {_count(counted[1], 'remark')}")


def _count(number: int, what: str) -> str:
    return f"{number or 'no'} {what}{'' if number == 1 else 's'}"


def _checked(text: str, model: str | None) -> dict[str, Any]:
    """One procedure: its faults or its advice, and what the ear says of its words."""
    from benchvoice.procedure.checks import check as check_document
    from benchvoice.procedure.faults import DocumentFaults
    from benchvoice.procedure.load import load_document

    answer: dict[str, Any] = {"file": text, "faults": [], "advice": [], "learnt": [], "ear": ""}
    try:
        document = load_document(find_procedure(text))
    except DocumentFaults as found:
        return answer | {"faults": str(found).splitlines()}
    except (DocumentError, InputError) as fault:
        return answer | {"faults": [str(fault)]}
    advice = document.advice
    try:
        heard = _Heard(model)
        confused = heard.lookalikes(document.procedure.words).confused
        advice = check_document(document.procedure, document.source, heard.lacking, confused).advice
        answer["learnt"] = heard.learnt
    except MachineError as fault:
        answer["ear"] = str(fault)
    return answer | {"advice": [str(each) for each in advice]}


class _Heard:
    """Asks the ear about words, and notes those that it would learn from their spelling."""

    def __init__(self, model: str | None) -> None:
        from benchvoice.app.ears import model_folder

        self._model: Path = model_folder(model)
        self.learnt: list[str] = []

    def lookalikes(self, told: Mapping[str, Iterable[str]]) -> "Lookalikes":
        """Asks of answers that sound alike."""
        from benchvoice.app.ears import Lookalikes

        return Lookalikes(self._model, told)

    def lacking(self, words: Iterable[str]) -> list[str]:
        """The words that can't be heard, however the model is extended."""
        from benchvoice.app.ears import lacking

        found = lacking(words, self._model)
        self.learnt = list(found.learnt)
        return list(found.unheard)
