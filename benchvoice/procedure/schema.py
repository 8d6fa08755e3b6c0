"""The JSON Schema of procedure documents, for editors: exported from the models, shipped beside them.

Editors read YAML 1.2, where 1.50 is a number and yes a text; the loader reads every scalar as text. The schema takes
what either may write. Each field's docstring becomes its description.
"""

import ast
import inspect
import json
import textwrap
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from benchvoice.procedure.fields import Part
from benchvoice.procedure.models import Procedure
from benchvoice.procedure.register import RegisterDocument

SHIPPED = Path(__file__).with_name("procedure.schema.json")


def schema(root: type[BaseModel] = Procedure) -> dict[str, Any]:
    """The schema of a kind of document as a tree."""
    found = root.model_json_schema(by_alias=True)
    for model in _models(Part):
        part = found if model is root else found["$defs"].get(model.__name__, {})
        _describe(part.get("properties", {}), model)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **found}


def schema_text() -> str:
    """The schema of procedures as the text that ships."""
    return _text(schema())


def register_schema_text() -> str:
    """The schema of registers of instruments as a text."""
    return _text(schema(RegisterDocument))


def _text(tree: dict[str, Any]) -> str:
    return json.dumps(tree, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def _models(base: type[BaseModel]) -> list[type[BaseModel]]:
    return [model for direct in base.__subclasses__() for model in (direct, *_models(direct))]


def _describe(properties: dict[str, Any], model: type[BaseModel]) -> None:
    """Put the docstring under each field of a model into the field's schema."""
    for name, text in _docstrings(model).items():
        alias = model.model_fields[name].alias or name if name in model.model_fields else name
        if alias in properties:
            properties[alias]["description"] = text


def _docstrings(model: type[BaseModel]) -> dict[str, str]:
    body = ast.parse(textwrap.dedent(inspect.getsource(model))).body[0]
    assert isinstance(body, ast.ClassDef)
    found = {}
    for field, after in zip(body.body, body.body[1:], strict=False):
        text = after.value.value if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant) else None
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name) and isinstance(text, str):
            found[field.target.id] = " ".join(text.split())
    return found
