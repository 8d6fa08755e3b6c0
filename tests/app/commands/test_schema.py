import jsonschema

from benchvoice.log.schema import log_schema
from benchvoice.procedure.register import RegisterDocument
from benchvoice.procedure.schema import schema
from tests.app.conftest import Command


def test_every_schema_is_printed_and_sound(benchvoice: Command) -> None:
    sorts = (("procedure", schema()), ("instruments", schema(RegisterDocument)), ("log", log_schema()))
    for which, wanted in sorts:
        printed = benchvoice("schema", which).answer
        assert printed == wanted
        jsonschema.Draft202012Validator.check_schema(printed)


def test_the_register_that_the_guide_shows_is_in_its_schema() -> None:
    dial = {"kind": "dial indicator", "says": ["dial two"], "unit": "mm", "range": [0, 10], "resolution": 0.01}
    due = {"calibrated": "2031-01-05", "due": {"by": "2032-01-05", "uses": 2000}}
    jsonschema.validate({"schema": 1, "instruments": {"dial_two": dial | due}}, schema(RegisterDocument))
