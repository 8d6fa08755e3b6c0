"""The build's log: facts appended one turn at a time, chained, durable before they are spoken of, and read back whole.

Written by `benchvoice.log.append`, read by `benchvoice.log.read`, checked by `benchvoice.log.verify`; the form of a
line is in `benchvoice.log.line`, the folder around it in `benchvoice.log.folder`.
"""

from benchvoice.log.append import LogWriter
from benchvoice.log.clips import Clip, clip_bytes, drop_clip, read_clip, write_clip
from benchvoice.log.folder import (
    OpenBuild,
    add_procedure_version,
    create_build,
    list_builds,
    open_build,
    procedure_bytes,
)
from benchvoice.log.grammars import keep_grammar, read_grammar
from benchvoice.log.line import EntryRefused, Line, Stamped
from benchvoice.log.read import Fault, LogContents, LogDamaged, read_log
from benchvoice.log.storage import DiskStorage, Storage
from benchvoice.log.verify import Judge, Verified, verify

__all__ = [
    "Clip",
    "DiskStorage",
    "EntryRefused",
    "Fault",
    "Judge",
    "Line",
    "LogContents",
    "LogDamaged",
    "LogWriter",
    "OpenBuild",
    "Stamped",
    "Storage",
    "Verified",
    "add_procedure_version",
    "clip_bytes",
    "create_build",
    "drop_clip",
    "keep_grammar",
    "list_builds",
    "open_build",
    "procedure_bytes",
    "read_clip",
    "read_grammar",
    "read_log",
    "verify",
    "write_clip",
]
