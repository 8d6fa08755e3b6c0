"""Sub-builds in a document: what another build is called, which procedure it follows, and what of it is used here."""

from typing import Any

from pydantic import GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from benchvoice.procedure.fields import Names, Part, Text


class BringsIn(Part):
    """Another build that is brought in at a step, by its folder and the hash of its last line.

    In a document: what it is called at the bench, such as bottom end; or a table. What is open and owed there comes
    along in any case.
    """

    what: Text
    """What it is called at the bench."""
    procedure: Text | None = None
    """Title of the procedure that it must follow; without it a build of any is taken, where it is named by hand."""
    choices: Names = ()
    """Particulars, options and choices that are answered by its answers to those of the same name."""
    marks: Names = ()
    """Its mark steps: what was read there can be expected here, by `expected: {brought_in: NAME}`."""

    @model_validator(mode="before")
    @classmethod
    def _short_form(cls, value: Any) -> Any:
        return {"what": value} if isinstance(value, str) else value

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        whole = handler.resolve_ref_schema(handler(core))
        return {"anyOf": [{"type": "string"}, whole]}
