import json
from typing import Any

import jsonschema
import pytest
from hypothesis import given

from benchvoice.log.line import FIRST_PREV, Stamped, encode
from benchvoice.log.schema import SCHEMA_FILE, log_schema, schema_text
from benchvoice.session.entries import ENTRY_MODELS

from .samples import STAMPED, turn

VALIDATOR = jsonschema.Draft202012Validator(log_schema())


def test_the_schema_that_ships_is_the_one_the_program_has() -> None:
    """When this fails after an entry kind has changed: python -m benchvoice.log.schema"""
    assert SCHEMA_FILE.read_text(encoding="utf-8") == schema_text()


def test_it_is_a_schema_and_covers_every_kind() -> None:
    jsonschema.Draft202012Validator.check_schema(log_schema())
    assert {ref["$ref"].removeprefix("#/$defs/") for ref in log_schema()["oneOf"]} == set(ENTRY_MODELS)


@given(STAMPED)
def test_every_line_that_is_written_validates(stamped: Stamped) -> None:
    VALIDATOR.validate(json.loads(encode(stamped, 1, FIRST_PREV)))


READING: dict[str, Any] = json.loads(encode(turn(0)[1], 2, FIRST_PREV))


@pytest.mark.parametrize(
    "change",
    [
        {"value": 1.5}, {"value": "much"}, {"value": "1E+2"}, {"kind": "miracle"}, {"colour": "red"},
        {"n": "2"}, {"n": 0}, {"at": "now"}, {"prev": ""}, {"by": 7},
    ],
)  # fmt: skip
def test_what_the_log_would_refuse_does_not_validate(change: dict[str, object]) -> None:
    assert VALIDATOR.is_valid(READING)
    assert not VALIDATOR.is_valid({**READING, **change})


@pytest.mark.parametrize("name", ["n", "at", "elapsed", "boot", "by", "prev", "kind", "step", "unit"])
def test_what_every_reading_has_is_required(name: str) -> None:
    assert not VALIDATOR.is_valid({key: value for key, value in READING.items() if key != name})
