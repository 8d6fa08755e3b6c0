import jsonschema

from benchvoice.log.schema import log_schema
from benchvoice.procedure.schema import schema
from tests.app.conftest import Command


def test_both_schemas_are_printed_and_sound(benchvoice: Command) -> None:
    for which, wanted in (("procedure", schema()), ("log", log_schema())):
        printed = benchvoice("schema", which).answer
        assert printed == wanted
        jsonschema.Draft202012Validator.check_schema(printed)
