from pathlib import Path

from tests.app.conftest import Command


def test_a_typed_build_has_no_clips_to_gather(benchvoice: Command, build: Path) -> None:
    done = benchvoice("gather", build, "--voice", "ann")
    assert (done.status, done.err) == (0, "")
    assert done.out == (
        f"{build}: 0 confirmed and 0 corrected clips added, 0 gone\nbenchvoice fit ann --reviewed uses them.\n"
    )
    told = benchvoice("gather", build, "--voice", "ann", "--json").answer
    assert told == [{"build": str(build), "confirmed": 0, "corrected": 0, "gone": 0}]


def test_what_is_no_build_is_told(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("gather", tmp_path / "nothing", "--voice", "ann")
    assert done.status == 1
    assert done.err.count("\n") == 1
