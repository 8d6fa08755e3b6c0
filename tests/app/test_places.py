from datetime import date
from pathlib import Path

import pytest

from benchvoice.app.places import builds_folder, find_procedure, new_build_folder, shipped_procedures
from benchvoice.errors import InputError
from benchvoice.procedure.load import load

DAY = date(2026, 11, 25)


def test_four_procedures_ship() -> None:
    names = sorted(path.name for path in shipped_procedures().glob("*.yaml"))
    assert names == ["launch-bottom-end.yaml", "launch-valve-lash.yaml", "raw-water-pump.yaml", "reduction-gear.yaml"]


def test_a_bare_name_is_a_shipped_procedure() -> None:
    assert find_procedure("reduction-gear") == shipped_procedures() / "reduction-gear.yaml"


def test_a_file_of_that_name_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("reduction-gear").write_text("schema: 1\n")
    assert find_procedure("reduction-gear") == Path("reduction-gear")


@pytest.mark.parametrize("text", ["mine.yaml", "folder/mine"])
def test_a_path_is_taken_as_it_is(text: str) -> None:
    assert find_procedure(text) == Path(text)


def test_an_unknown_name_is_told_with_those_there_are() -> None:
    with pytest.raises(InputError, match=r"There is no procedure gearbox: name a file, or one of launch-bottom-end, "):
        find_procedure("gearbox")


def test_a_build_is_named_by_machine_procedure_and_date(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    procedure = load(find_procedure("launch-bottom-end"))
    folder = new_build_folder(procedure, "Hull No. 7", DAY)
    assert folder == builds_folder() / "hull-no-7-launch-diesel-bottom-end-2026-11-25"
    folder.mkdir(parents=True)
    assert new_build_folder(procedure, "Hull No. 7", DAY).name == folder.name + "-2"
