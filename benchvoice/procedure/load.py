"""Loading a procedure document: bytes → tree → models → cross-checks, with every fault told at once."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from benchvoice.errors import InputError
from benchvoice.procedure.checks import check, check_parts
from benchvoice.procedure.faults import DocumentFaults, Fault
from benchvoice.procedure.fields import NAME
from benchvoice.procedure.models import SCHEMA, Procedure
from benchvoice.procedure.source import LARGEST, Source, Tree, read_tree
from benchvoice.procedure.wording import faults_of

_STAND_IN = {"title": "no title", "work": "metric"}
"""Stands in for what is missing or broken, so that the rest can be checked."""


@dataclass(frozen=True, slots=True)
class Document:
    """A procedure without faults, where its parts stand in the file, and what is legal in it and unwise."""

    procedure: Procedure
    source: Source
    advice: tuple[Fault, ...]


def load(path: FilePath | str) -> Procedure:
    """The procedure in a file. DocumentFaults for a faulty one, InputError for a file that can't be read."""
    return load_document(path).procedure


def load_text(text: str, name: str) -> Procedure:
    """The procedure in a text; faults call the file by this name."""
    return read_document(text.encode(), name).procedure


def load_document(path: FilePath | str) -> Document:
    """The procedure in a file, with its source and advice."""
    file = FilePath(path)
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except OSError as problem:
        said = problem.strerror or "it can't be read"
        raise InputError(f"{path}: {said.lower()}; give the path of a procedure, a YAML file") from None
    return read_document(data, str(path))


def read_document(data: bytes, name: str) -> Document:
    """The procedure in the bytes of a file of that name."""
    tree, source = read_tree(data, name)
    _refuse_other_schema(tree, source)
    try:
        procedure = Procedure.model_validate(tree)
    except ValidationError as problem:
        errors = problem.errors(include_url=False)
        faults = faults_of(errors, tree, source)
        raise DocumentFaults({*faults, *_faults_of_the_rest(tree, errors, source)}) from None
    found = check(procedure, source)
    if found.faults:
        raise DocumentFaults(found.faults)
    return Document(procedure, source, found.advice)


def _refuse_other_schema(tree: Tree, source: Source) -> None:
    """The version comes first: what another version means by its names isn't known here."""
    if not isinstance(tree, dict):
        what = "this is no table of names and values" if tree else "there is nothing in it"
        raise DocumentFaults([source.fault((), what, f"begin with schema: {SCHEMA}")])
    version = tree.get("schema", str(SCHEMA))
    if version != str(SCHEMA):
        what = f"schema {version} is not known here" if isinstance(version, str) else "schema is not a number"
        raise DocumentFaults([source.fault(("schema",), what, f"write schema: {SCHEMA}")])


def _faults_of_the_rest(tree: Tree, errors: list[ErrorDetails], source: Source) -> tuple[Fault, ...]:
    """Cross-check what is sound in a document that has faults, each broken part left out or stood in for."""
    assert isinstance(tree, dict)
    rest: dict[str, Any] = {**_STAND_IN, **tree, "schema": str(SCHEMA)}
    unsure = {name for error in errors for name in _mend(rest, error["loc"])}
    try:
        procedure = Procedure.model_validate(rest)
    except ValidationError:
        return ()
    return check_parts(procedure, source, frozenset(unsure)).faults


def _mend(rest: dict[str, Any], loc: tuple[int | str, ...]) -> Iterator[str]:
    """Take the broken part at a place out of a tree; the names of what is now unsure."""
    head, inner = str(loc[0]), loc[1] if len(loc) > 1 else None
    section = rest.get(head)
    if head == "steps" and isinstance(section, list) and isinstance(inner, int):
        step = section[inner]
        rest[head] = [*section[:inner], _stand_in(step, inner), *section[inner + 1 :]]
        yield from _names_in(step)
    elif isinstance(section, dict) and inner in section:
        rest[head] = {name: part for name, part in section.items() if name != inner}
        yield str(inner)
    else:
        rest.pop(head, None)
        if head in _STAND_IN:
            rest[head] = _STAND_IN[head]
        yield from section if isinstance(section, dict) else ()


def _names_in(step: object) -> Iterator[str]:
    """What others may refer to in a broken step: itself, and what it chooses."""
    if isinstance(step, dict):
        choose = step.get("choose")
        names = (step.get("step"), choose.get("name") if isinstance(choose, dict) else None)
        yield from (name for name in names if isinstance(name, str))


def _stand_in(step: object, at: int) -> dict[str, str]:
    """A sound step of the same name in place of a broken one; of a name of its own where it has none."""
    name = step.get("step") if isinstance(step, dict) else None
    known = isinstance(name, str) and re.fullmatch(NAME, name) is not None
    return {"step": str(name) if known else f"unnamed_{at}", "tell": "stands in"}
