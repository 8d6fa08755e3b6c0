"""The log's JSON Schema: what every line of a `log.jsonl` looks like, for readers in any language.

`log.schema.json` beside this module is what `log_schema` gives, shipped; a test holds the two together.

    python -m benchvoice.log.schema      writes it anew after an entry kind has changed
"""

import json
from pathlib import Path
from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from benchvoice.log.line import ENVELOPE
from benchvoice.session.entries import ENTRY_MODELS, Entry

SCHEMA_FILE = Path(__file__).with_name("log.schema.json")

_ENVELOPE: dict[str, Any] = {
    "n": {"type": "integer", "minimum": 1, "description": "The line's number in the file, from 1."},
    "at": {
        "type": "string",
        "pattern": r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z$",
        "description": "Wall time, RFC 3339, UTC.",
    },
    "elapsed": {
        "type": "string",
        "pattern": r"^[0-9]+(\.[0-9]+)?$",
        "description": "Monotonic seconds since the process began.",
    },
    "boot": {"type": "string", "pattern": "^[A-Za-z0-9_-]{1,64}$", "description": "Which process wrote the line."},
    "by": {"type": ["string", "null"], "description": "The person on."},
    "prev": {
        "type": "string",
        "pattern": "^[0-9a-f]{64}$",
        "description": "SHA-256 of the line before without its newline; zeros in the first line.",
    },
}


class _AsWritten(GenerateJsonSchema):
    """Numbers as the log writes them; no title for every field, which would only say its name again."""

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def decimal_schema(self, schema: Any) -> dict[str, Any]:
        return {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}


def log_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of one line: one of the kinds, each in the envelope."""
    shared: dict[str, Any] = {}
    kinds: dict[str, Any] = {}
    for kind, model in sorted(ENTRY_MODELS.items()):
        kinds[kind] = _line_schema(kind, model, shared)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a build's log",
        "description": "Canonical JSON (RFC 8785). Measured numbers are text, with the decimals that were said.",
        "oneOf": [{"$ref": f"#/$defs/{kind}"} for kind in kinds],
        "$defs": {**kinds, **shared, "envelope": {"properties": _ENVELOPE, "required": sorted(ENVELOPE)}},
    }


def _line_schema(kind: str, model: type[Entry], shared: dict[str, Any]) -> dict[str, Any]:
    """One kind's fields in the envelope, and nothing else; what kinds share goes into `shared`."""
    own = model.model_json_schema(mode="serialization", schema_generator=_AsWritten)
    shared.update(own.pop("$defs", {}))
    del own["additionalProperties"]
    own["properties"]["kind"] = {"const": kind}
    own["required"] = sorted({"kind", *own.get("required", [])})
    return {"$ref": "#/$defs/envelope", **own, "unevaluatedProperties": False}


def schema_text() -> str:
    """The schema as it is shipped."""
    return json.dumps(log_schema(), indent=2, ensure_ascii=False, sort_keys=True) + "\n"


if __name__ == "__main__":
    SCHEMA_FILE.write_text(schema_text(), encoding="utf-8")
