"""What pydantic says of a tree that doesn't fit the models, in words for the writer of a procedure."""

import types
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from benchvoice.procedure.faults import Fault, listed, nearest
from benchvoice.procedure.fields import shorten
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.source import Path, Source, Tree

Words = tuple[str, str]
"""What, and the remedy."""


def faults_of(
    problems: Iterable[ErrorDetails], tree: Tree, source: Source, root: type[BaseModel] = Procedure
) -> tuple[Fault, ...]:
    """The faults as the writer of the document sees them; `root` is the model of such a document."""
    return tuple(_fault_of(problem, tree, source, root) for problem in problems if not _follows(problem))


def _follows(problem: ErrorDetails) -> bool:
    """A list that is too short only because its items have faults, which are told for themselves."""
    return problem["type"] == "too_short" and len(problem["input"]) >= problem["ctx"]["min_length"]


def _fault_of(problem: ErrorDetails, tree: Tree, source: Source, root: type[BaseModel]) -> Fault:
    path = _written(problem["loc"], tree)
    kind = problem["type"]
    if kind == "missing":
        return source.fault(path, *_missing(problem["loc"]))
    if kind == "extra_forbidden":
        return source.fault(path, *_unknown(path, root))
    return source.fault(path, *_WORDS.get(kind, _as_said)(problem))


def _unknown(path: Path, root: type[BaseModel]) -> Words:
    name = str(path[-1]) if path else ""
    what = f"there is no {shorten(name)} here"
    if " " in name:
        return what, "put quotes round a text that has a comma or a colon in it"
    return what, nearest(name, known_names(path[:-1], root))


def _written(loc: tuple[int | str, ...], tree: Tree) -> Path:
    """The part of a location that the document itself has: tags of unions and names of short forms drop out."""
    path: list[str | int] = []
    here: Any = tree
    for part in loc:
        inside = isinstance(here, dict) and part in here
        listed_ = isinstance(here, list) and isinstance(part, int) and part < len(here)
        if inside or listed_:
            here = here[part]
            path.append(part)
    return tuple(path)


def known_names(path: Path, root: type[BaseModel] = Procedure) -> tuple[str, ...]:
    """The names that a document may write at a path."""
    found: list[Any] = [root]
    for part in path:
        found = [inner for each in found for inner in _inside(each, part)]
    return tuple(dict.fromkeys(name for each in found for model in _models(each) for name in _fields(model)))


def _fields(model: type[BaseModel]) -> Mapping[str, Any]:
    return {field.alias or name: field.annotation for name, field in model.model_fields.items()}


def _models(annotation: Any) -> tuple[type[BaseModel], ...]:
    """The models that a value of this type may be, containers left closed."""
    found = []
    for each in _choices(annotation):
        if isinstance(each, type) and issubclass(each, BaseModel):
            found.append(each)
    return tuple(found)


def _choices(annotation: Any) -> tuple[Any, ...]:
    """A type without its annotations; a union as its members."""
    if hasattr(annotation, "__metadata__"):
        return _choices(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        return tuple(inner for each in get_args(annotation) for inner in _choices(each))
    return (annotation,)


def _inside(annotation: Any, part: str | int) -> tuple[Any, ...]:
    """The types that lie one step further in."""
    found: list[Any] = []
    for each in _choices(annotation):
        if isinstance(each, type) and issubclass(each, BaseModel):
            found.extend(inner for name, inner in _fields(each).items() if name == part)
        elif get_origin(each) is dict:
            found.append(get_args(each)[1])
        elif get_origin(each) is tuple:
            found.append(get_args(each)[0])
    return tuple(found)


def _missing(loc: tuple[int | str, ...]) -> Words:
    if isinstance(loc[-1], int):
        return "a list of two is needed", "write [least, most], null where an end is open"
    return f"{loc[-1]} is missing", "add it"


def _as_said(problem: ErrorDetails) -> Words:
    """A sentence of our own: what, then the remedy after the last semicolon or colon."""
    said = str(problem.get("ctx", {}).get("error", problem["msg"]))
    for mark in ("; ", ": "):
        what, found, remedy = said.rpartition(mark)
        if found:
            return what, remedy
    return said, "correct it"


def _literal(problem: ErrorDetails) -> Words:
    wanted = [each.strip("'") for each in str(problem["ctx"]["expected"]).replace(" or ", ", ").split(", ")]
    return f"{_found(problem['input'])} can't stand here", nearest(str(problem["input"]), wanted)


def _pattern(problem: ErrorDetails) -> Words:
    what = _found(problem["input"])
    if r"\d{4}" in problem["ctx"]["pattern"]:
        return f"{what} is not a date", "write year, month and day like 2027-03-01"
    return f"{what} is not a name", "write lower-case letters, digits and underscores, a letter first"


def _too_few(problem: ErrorDetails) -> Words:
    least = problem["ctx"]["min_length"]
    return f"{_found(problem['input'])} where at least {least} {'is' if least == 1 else 'are'} needed", "add to it"


def _too_many(problem: ErrorDetails) -> Words:
    return f"{_found(problem['input'])} where at most {problem['ctx']['max_length']} may be", "take some out"


def _wants(what: str, remedy: str) -> Callable[[ErrorDetails], Words]:
    return lambda problem: (f"{_found(problem['input'])} where {what} is needed", remedy)


def _out_of_range(problem: ErrorDetails) -> Words:
    (sign, bound), *_ = problem["ctx"].items()
    return f"{problem['input']} can't stand here", f"write {'at least' if sign in ('ge', 'gt') else 'at most'} {bound}"


def _found(value: object) -> str:
    """What was written, in a few words."""
    match value:
        case None:
            return "nothing"
        case str():
            return repr(shorten(value))
        case dict():
            return f"a table of {listed(list(value), 4)}" if value else "an empty table"
        case list() | tuple():
            return f"a list of {len(value)}" if value else "an empty list"
        case _:
            return shorten(str(value))


_TEXT = _wants("a text", "write plain words")
_TABLE = _wants("a table", "write names with their values, NAME: VALUE")
_LIST = _wants("a list", "write [A, B] or one item a line after a dash")
_NUMBER = _wants("a number", "write figures such as 1.50")

_WORDS: Mapping[str, Callable[[ErrorDetails], Words]] = {
    "string_type": _TEXT,
    "string_too_short": _TEXT,
    "string_too_long": lambda problem: (f"{len(problem['input'])} characters of text", "say it in fewer words"),
    "string_pattern_mismatch": _pattern,
    "literal_error": _literal,
    "dict_type": _TABLE,
    "model_type": _TABLE,
    "model_attributes_type": _TABLE,
    "tuple_type": _LIST,
    "list_type": _LIST,
    "too_short": _too_few,
    "too_long": _too_many,
    "decimal_type": _NUMBER,
    "decimal_parsing": _NUMBER,
    "int_type": _NUMBER,
    "int_parsing": _NUMBER,
    "bool_type": _wants("yes or no", "write yes or no"),
    "bool_parsing": _wants("yes or no", "write yes or no"),
    "greater_than_equal": _out_of_range,
    "less_than_equal": _out_of_range,
    "greater_than": _out_of_range,
    "less_than": _out_of_range,
    "value_error": _as_said,
}
