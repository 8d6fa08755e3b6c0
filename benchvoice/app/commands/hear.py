"""`hear`: recordings through the real ear, one JSON line a file."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from benchvoice.app.commands.answers import print_json
from benchvoice.app.commands.misuse import Misuse
from benchvoice.app.commands.parse import High, Low, Unit, What, Work
from benchvoice.errors import InputError

if TYPE_CHECKING:
    from benchvoice.ear.decode import Decoded

UNSURE = "not sure of the words"


class Sort(StrEnum):
    """What is listened for."""

    READING = "reading"
    COMMAND = "command"


@dataclass(frozen=True, slots=True)
class Heeded:
    """What is listened for, and what is made of what was heard (None: nothing)."""

    phrases: tuple[str, ...]
    understand: Callable[["Decoded", bool], Any]
    """Told the words, and whether they can be relied on."""


def hear(
    file: Annotated[list[Path], typer.Argument(help="Sound files: WAV, FLAC, Ogg.")],
    sort: Annotated[Sort | None, typer.Option("--as", help="Listen for a reading or for a command.")] = None,
    words: Annotated[str | None, typer.Option(help="Listen for any sequence of just these: zero,one,two")] = None,
    grammar: Annotated[Path | None, typer.Option(help="Listen as a build did: a file of its grammars/.")] = None,
    model: Annotated[str | None, typer.Option(help="The speech model: name, path, or hash from a log.")] = None,
    unit: Unit = None,
    work: Work = "metric",
    low: Low = None,
    high: High = None,
    what: What = None,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON line a file: always so.")] = True,
) -> int:
    """Hear sound files, each as one utterance: its words with confidences and times, and what they mean.

    Example: benchvoice hear clip.wav --as reading --unit thou --json
    """
    if [sort, words, grammar].count(None) != 2:
        raise Misuse("Say what to listen for: one of --as, --words or --grammar.")
    from benchvoice.app.ears import model_folder
    from benchvoice.ear.hear import SoundFileError, grammar_of_words
    from benchvoice.ear.hear import hear as hear_file
    from benchvoice.ear.model import load_model

    heeded = _heeded(sort, words, grammar, {"unit": unit, "work": work, "low": low, "high": high, "what": what})
    loaded = load_model(model_folder(model))
    listened_for = grammar_of_words(loaded, heeded.phrases)
    status = 0
    for path in file:
        try:
            printed, decoded = hear_file(loaded, path, listened_for)
        except SoundFileError as fault:
            typer.echo(str(fault), err=True)
            status = 1
            continue
        level = _trust(decoded, loaded.policy)
        understood = None if level == "refuse" else heeded.understand(decoded, level == "accept")
        print_json({**printed, "understood": understood, "trust": level}, indent=None)
    return status


def _trust(decoded: "Decoded", policy: Any) -> str:
    """accept, doubt or refuse."""
    from benchvoice.ear.confidence import trust

    return str(trust(decoded, policy))


def _heeded(sort: Sort | None, words: str | None, grammar: Path | None, step: dict[str, Any]) -> Heeded:
    if words is not None:
        return Heeded(tuple(word.strip() for word in words.split(",") if word.strip()), _text)
    if grammar is not None:
        from benchvoice.log import read_grammar

        folder = grammar.absolute().parent.parent
        return Heeded(tuple(read_grammar(folder, f"{grammar.absolute().parent.name}/{grammar.name}")), _text)
    return _command() if sort is Sort.COMMAND else _reading(step)


def _text(decoded: "Decoded", sure: bool) -> str | None:
    return " ".join(decoded.known) if sure else None


def _command() -> Heeded:
    from benchvoice.session.commands import COMMANDS, find

    def understand(decoded: "Decoded", sure: bool) -> str | None:
        found = find(COMMANDS, " ".join(decoded.known)) if sure else None
        return None if found is None else found.command.name

    return Heeded(tuple(phrase for each in COMMANDS for phrase in (*each.says, *each.leads)), understand)


def _reading(step: dict[str, Any]) -> Heeded:
    from benchvoice.speech.homophones import settle_homophones
    from benchvoice.speech.parse_output import parse_as
    from benchvoice.speech.readings import Context
    from benchvoice.speech.vocabulary import reading_words

    try:
        parse_as("one", **step)
    except InputError as fault:
        raise Misuse(str(fault)) from fault

    def understand(decoded: "Decoded", sure: bool) -> dict[str, object]:
        meaning = parse_as(" ".join(settle_homophones(decoded.known)), **step)
        if sure or meaning["action"] not in ("take", "bound"):
            return meaning
        return {**meaning, "action": "read back", "reason": UNSURE}

    context = Context(unit=step["unit"], work=step["work"], what=step["what"])
    return Heeded(tuple(sorted(reading_words(context))), understand)
