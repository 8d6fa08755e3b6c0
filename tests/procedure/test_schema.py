"""The JSON Schema that ships is the one that the models give, and takes what editors read."""

import json
import re
from pathlib import Path
from typing import Any, ClassVar

import jsonschema
import pytest
import yaml

from benchvoice.procedure.schema import SHIPPED, schema, schema_text

PROCEDURES = sorted((Path(__file__).parents[2] / "procedures").glob("*.yaml"))


class CoreLoader(yaml.SafeLoader):
    """YAML 1.2's core schema, as editors read it: on, yes and dates stay text."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


CoreLoader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"^(?:true|false)$"), list("tf"))
CoreLoader.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"^[-+]?\d+$"), list("-+0123456789"))
CoreLoader.add_implicit_resolver("tag:yaml.org,2002:float", re.compile(r"^[-+]?\d+\.\d+$"), list("-+0123456789"))
CoreLoader.add_implicit_resolver("tag:yaml.org,2002:null", re.compile(r"^(?:~|null|)$"), ["~", "n", ""])


def faults(tree: Any) -> list[str]:
    return [error.message for error in jsonschema.Draft202012Validator(schema()).iter_errors(tree)]


def test_what_ships_is_what_the_models_give() -> None:
    assert SHIPPED.read_text(encoding="utf-8") == schema_text(), "write schema_text() to procedure.schema.json"


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json.loads(schema_text()))


@pytest.mark.parametrize("path", PROCEDURES, ids=lambda path: path.stem)
def test_an_editor_finds_no_fault_in_what_ships(path: Path) -> None:
    assert faults(yaml.load(path.read_text(encoding="utf-8"), CoreLoader)) == []


@pytest.mark.parametrize("path", PROCEDURES, ids=lambda path: path.stem)
def test_what_ships_names_the_schema_by_a_relative_path(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert (path.parent / first.partition("$schema=")[2]).resolve() == SHIPPED.resolve()


def test_an_editor_sees_a_misspelt_field() -> None:
    tree = {"schema": 1, "title": "x", "work": "inch", "steps": [{"step": "a", "tel": "Go."}]}
    assert faults(tree) == ["Additional properties are not allowed ('tel' was unexpected)"]


def test_fields_are_described() -> None:
    stage = schema()["$defs"]["Stage"]["properties"]
    assert stage["most"]["description"].startswith("Past this the fastener is spent")
