"""Published values of what the log stands on: times, hashes, canonical JSON and their chain.

Each adapter takes a case's `inputs` and gives what stands under `expected` in a file like check-values.json.
"""

import json
import struct
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any

from benchvoice.log.line import FIRST_PREV, canonical, digest
from benchvoice.log.times import NotATime, to_utc

Adapter = Callable[[Mapping[str, Any]], dict[str, Any]]


def rfc3339(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """`text`: whether it is a time of RFC 3339, and which in UTC."""
    try:
        return {"valid": True, "utc": to_utc(inputs["text"])}
    except NotATime:
        return {"valid": False, "utc": None}


def sha256(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """`text`, `repeat` times: its digest in hex."""
    return {"hex": digest(inputs["text"].encode() * inputs.get("repeat", 1))}


def jcs(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """`json` text, or a double by its bits in hex (`ieee754`): its canonical form by RFC 8785."""
    if "ieee754" in inputs:
        (number,) = struct.unpack(">d", bytes.fromhex(inputs["ieee754"]))
        return {"canonical": canonical(number).decode()}
    raw = canonical(json.loads(inputs["json"]))
    return {"canonical": raw.decode(), "sha256": digest(raw)}


def hash_chain(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """`entries`, each hashed after the hash before it (the case's recipe; the log's lines carry theirs inside)."""
    chain = [FIRST_PREV]
    for entry in inputs["entries"]:
        chain.append(digest(chain[-1].encode() + canonical(entry)))
    return {"chain": chain[1:]}


KINDS: Mapping[str, Adapter] = MappingProxyType(
    {"rfc3339": rfc3339, "sha256": sha256, "jcs": jcs, "hash_chain": hash_chain}
)
"""Kind of case -> what runs it."""
