"""Loading a procedure document: bytes → tree → models, with every fault told at once."""

from dataclasses import dataclass
from pathlib import Path as FilePath

from pydantic import ValidationError

from benchvoice.errors import InputError
from benchvoice.procedure.faults import DocumentFaults
from benchvoice.procedure.models import SCHEMA, Procedure
from benchvoice.procedure.source import LARGEST, Source, Tree, read_tree
from benchvoice.procedure.wording import faults_of


@dataclass(frozen=True, slots=True)
class Document:
    """A procedure without faults, and where its parts stand in the file."""

    procedure: Procedure
    source: Source


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
        raise DocumentFaults(faults_of(problem.errors(include_url=False), tree, source)) from None
    return Document(procedure, source)


def _refuse_other_schema(tree: Tree, source: Source) -> None:
    """The version comes first: what another version means by its names isn't known here."""
    if not isinstance(tree, dict):
        what = "this is no table of names and values" if tree else "there is nothing in it"
        raise DocumentFaults([source.fault((), what, f"begin with schema: {SCHEMA}")])
    version = tree.get("schema", str(SCHEMA))
    if version != str(SCHEMA):
        what = f"schema {version} is not known here" if isinstance(version, str) else "schema is not a number"
        raise DocumentFaults([source.fault(("schema",), what, f"write schema: {SCHEMA}")])
