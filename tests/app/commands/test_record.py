from pathlib import Path

from tests.app.conftest import Command


def test_the_page_is_written_into_the_build(benchvoice: Command, build: Path) -> None:
    done = benchvoice("record", build, "--json")
    page = Path(done.answer["record"])
    assert done.status == 0
    assert page.parent == build
    assert "Launch diesel, bottom end" in page.read_text(encoding="utf-8")


def test_a_folder_without_a_build(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("record", tmp_path)
    assert done.status == 1
    assert done.err.startswith(f"There is no build in {tmp_path}: ")
