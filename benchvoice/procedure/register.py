"""The register of instruments: a document of the shop's own, shared by builds.

A YAML or JSON file, `schema: 1` and under `instruments` each instrument by its id. A procedure names the kind that it
needs; the person at the bench says which of that kind it is. Every fault is told at once, as file:line, like a
procedure's.
"""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path as FilePath
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, ValidationError

from benchvoice.errors import InputError
from benchvoice.procedure.faults import DocumentFaults, Fault
from benchvoice.procedure.fields import Band, Count, Date, Name, Number, Part, Text, Texts, Unit
from benchvoice.procedure.source import LARGEST, Path, Source, read_tree
from benchvoice.procedure.wording import faults_of
from benchvoice.quantity.instruments import Due, Instrument, Register
from benchvoice.quantity.units import kind_of

TORQUE_WRENCH = "torque wrench"
"""The kind that the wrenches of a procedure are of."""


class DueRule(Part):
    """When an instrument is due for calibration: by a date, so many days after the last, or after so many uses."""

    by: Date | None = None
    days: Count | None = None
    uses: Count | None = None


class Registered(Part):
    """An instrument of the shop: what it is, how far and how finely it reads, how well, and when it is due."""

    kind: Text
    """As procedures name it: dial indicator, outside micrometer, torque wrench."""
    says: Texts = ()
    """What it is called at the bench; without it, its id."""
    unit: Unit
    range: Band = (None, None)
    resolution: Number | None = None
    uncertainty: Number | None = None
    """Expanded uncertainty."""
    k: Number = Decimal(2)
    """Coverage factor of that uncertainty."""
    repeatability: Number | None = None
    """Standard deviation of single readings of one thing."""
    class_percent: Number | None = None
    """Greatest deviation of a torque wrench in per cent, by its class in ISO 6789: 4 or 6."""
    calibrated: Date | None = None
    """Day of the last calibration."""
    due: DueRule = DueRule()


class RegisterDocument(Part):
    """A whole register."""

    schema_version: Annotated[Literal[1], BeforeValidator(lambda value: int(value)), Field(alias="schema")]
    instruments: dict[Name, Registered]


def load_register(path: FilePath | str) -> Register:
    """The instruments in a file. DocumentFaults for a faulty one, InputError for a file that can't be read."""
    try:
        with FilePath(path).open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except OSError as problem:
        said = (problem.strerror or "it can't be read").lower()
        raise InputError(f"{path}: {said}; give the path of a register of instruments, YAML or JSON") from None
    return read_register(data, str(path))


def read_register(data: bytes, name: str) -> Register:
    """The instruments in the bytes of a file of that name."""
    tree, source = read_tree(data, name)
    if not isinstance(tree, dict) or tree.get("schema") != "1":
        raise DocumentFaults([source.fault(("schema",), "this is no register known here", "begin with schema: 1")])
    try:
        document = RegisterDocument.model_validate(tree)
    except ValidationError as problem:
        raise DocumentFaults(faults_of(problem.errors(include_url=False), tree, source, RegisterDocument)) from None
    faults = tuple(_faults(document, source))
    if faults:
        raise DocumentFaults(faults)
    return Register.of(*(_instrument(name, each) for name, each in document.instruments.items()))


def _instrument(name: str, said: Registered) -> Instrument:
    low, high = said.range
    return Instrument(
        id=name,
        kind=said.kind,
        unit=said.unit,
        resolution=said.resolution,
        low=low,
        high=high,
        uncertainty=said.uncertainty,
        k=said.k,
        repeatability=said.repeatability,
        class_percent=said.class_percent,
        calibrated=None if said.calibrated is None else date.fromisoformat(said.calibrated),
        due=Due(
            by=None if said.due.by is None else date.fromisoformat(said.due.by), days=said.due.days, uses=said.due.uses
        ),
        says=said.says or (name.replace("_", " "),),
    )


def _faults(document: RegisterDocument, source: Source) -> Iterator[Fault]:
    called: dict[str, str] = {}
    for name, each in document.instruments.items():
        path: Path = ("instruments", name)
        yield from _figures(path, each, source)
        yield from _dates(path, each, source)
        if each.kind == TORQUE_WRENCH:
            yield from _wrench(path, each, source)
        for words in each.says or (name.replace("_", " "),):
            if words.lower() in called:
                what = f"{called[words.lower()]} is called {words} too"
                yield source.fault((*path, "says"), what, "call each by a name of its own")
            called.setdefault(words.lower(), name)


def _figures(path: Path, each: Registered, source: Source) -> Iterator[Fault]:
    for field in ("resolution", "uncertainty", "k", "repeatability", "class_percent"):
        value: Any = getattr(each, field)
        if value is not None and value <= 0:
            yield source.fault((*path, field), f"{value} can't be the {field}", "write more than nothing")
    low, high = each.range
    if low is not None and high is not None and low >= high:
        yield source.fault((*path, "range"), f"{low} to {high} is no range", "write [least, most]")


def _dates(path: Path, each: Registered, source: Source) -> Iterator[Fault]:
    named = (((*path, "calibrated"), each.calibrated), ((*path, "due", "by"), each.due.by))
    for where, day in named:
        try:
            date.fromisoformat(day or "2000-01-01")
        except ValueError:
            yield source.fault(where, f"there is no day {day}", "write year, month and day, such as 2027-03-01")
    if each.due.days is not None and each.calibrated is None:
        what = "so many days after a calibration that has no date"
        yield source.fault((*path, "due", "days"), what, "add calibrated, the day of the last calibration")


def _wrench(path: Path, each: Registered, source: Source) -> Iterator[Fault]:
    if kind_of(each.unit) != "torque":
        yield source.fault((*path, "unit"), f"{each.unit} is no unit of torque", "give a wrench's unit, such as N_m")
    if None in each.range or each.resolution is None:
        what = "a torque wrench without a range or a step"
        yield source.fault(path, what, "add range: [least, most], and resolution, the step of its scale")
