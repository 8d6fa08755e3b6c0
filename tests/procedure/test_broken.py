"""Broken procedures, each with every fault that it must get, as whole lists.

A document in broken/ ends in lines `#! LINE: PATH: WHAT; REMEDY`, one in unwise/ in such lines of advice (`#?`). A
comment changes no document, so what is loaded is the file as it stands.
"""

from pathlib import Path

import pytest

from benchvoice.procedure.faults import DocumentFaults, Fault
from benchvoice.procedure.load import load, load_document

HERE = Path(__file__).parent
BROKEN = sorted((HERE / "broken").glob("*.yaml"))
UNWISE = sorted((HERE / "unwise").glob("*.yaml"))


def wanted(path: Path, mark: str) -> list[str]:
    lines = path.read_text(encoding="utf-8").splitlines()
    return [f"{path}:{line.removeprefix(mark)}" for line in lines if line.startswith(mark)]


def told(faults: tuple[Fault, ...]) -> list[str]:
    return [str(fault) for fault in faults]


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_every_fault_is_told_at_once(path: Path) -> None:
    with pytest.raises(DocumentFaults) as caught:
        load(path)
    assert told(caught.value.faults) == wanted(path, "#! ")
    assert str(caught.value).splitlines() == wanted(path, "#! ")


@pytest.mark.parametrize("path", UNWISE, ids=lambda path: path.stem)
def test_advice_stops_nothing(path: Path) -> None:
    assert told(load_document(path).advice) == wanted(path, "#? ")


def test_there_are_many() -> None:
    assert len(BROKEN) > 45
    assert UNWISE
