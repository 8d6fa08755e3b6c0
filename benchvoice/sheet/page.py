"""The record of a build as one HTML file that needs nothing else: no network, no script, sounds and styles inside."""

import base64
from collections.abc import Callable
from pathlib import Path
from tempfile import NamedTemporaryFile

from jinja2 import Environment, PackageLoader, StrictUndefined

from benchvoice.errors import InputError, MachineError
from benchvoice.log import LogContents, clip_bytes, procedure_bytes, read_log
from benchvoice.procedure.load import read_document
from benchvoice.procedure.models import Procedure
from benchvoice.session.entries import Amended, Opened
from benchvoice.session.facts import Facts, Instant, fold
from benchvoice.sheet.bars import time_bar
from benchvoice.sheet.gather import Source, gather
from benchvoice.sheet.maps import stage_map
from benchvoice.sheet.model import Sheet
from benchvoice.sheet.pictures import limits_picture

RECORD_NAME = "record.html"


def write_record(build_folder: Path) -> Path:
    """Write the page of a build into its folder and return its path.

    Reads the log without a lock, so that it can be made while the build goes on. InputError when the build has not
    begun, MachineError when the log is damaged, the procedure is missing or the disk refuses.
    """
    contents = read_log(build_folder)
    facts = _facts(contents)
    procedure = _procedure(build_folder, facts)
    sheet = gather(procedure, facts, Source(len(contents.lines), contents.head))
    page = render(sheet, lambda file: _sound(build_folder, file))
    return _put(build_folder / RECORD_NAME, page)


def render(sheet: Sheet, sound: Callable[[str], str]) -> str:
    """The page as text; `sound` gives the data address of a clip, or "" for one that can't be had."""
    environment = Environment(
        loader=PackageLoader("benchvoice.sheet"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals.update(limits_picture=limits_picture, stage_map=stage_map, time_bar=time_bar)
    data = {file: sound(file) for file in sorted(set(sheet.played().values()))}
    played = {n: data[file] for n, file in sheet.played().items()}
    return environment.get_template("record.html.j2").render(sheet=sheet, played=played)


def _facts(contents: LogContents) -> Facts:
    """The facts of a log. InputError where it doesn't begin with a build."""
    facts = fold(
        (line.entry, Instant(line.stamped.at, line.stamped.elapsed, line.stamped.boot)) for line in contents.lines
    )
    if not facts.all(Opened):
        raise InputError("This build has not begun: there is nothing to make a record of.")
    return facts


def _procedure(folder: Path, facts: Facts) -> Procedure:
    """The procedure in force: as it was begun with, or as it was last amended."""
    amended = facts.last(Amended)
    file = amended.entry.procedure if amended is not None else facts.all(Opened)[0].entry.procedure
    return read_document(procedure_bytes(folder, file), file).procedure


def _sound(folder: Path, file: str) -> str:
    """A clip inside the page; "" for one that was dropped or is gone, since the record is made all the same."""
    try:
        data = clip_bytes(folder, file)
    except MachineError:
        return ""
    return f"data:audio/flac;base64,{base64.b64encode(data).decode('ascii')}"


def _put(path: Path, page: str) -> Path:
    """Write the page whole or not at all: an older record is not lost to a full disk."""
    try:
        with NamedTemporaryFile("w", encoding="utf-8", dir=path.parent, suffix=".html.new", delete=False) as file:
            file.write(page)
        Path(file.name).replace(path)
    except OSError as fault:
        reason = (fault.strerror or "the disk refused").lower()
        raise MachineError(f"{path} can't be written: {reason}; free some room or allow writing there.") from fault
    path.chmod(0o644)
    return path
