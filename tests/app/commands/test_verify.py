from pathlib import Path

from benchvoice.log import read_log
from tests.app.conftest import Command


def test_a_build_as_it_was_written(benchvoice: Command, build: Path) -> None:
    done = benchvoice("verify", build)
    log = read_log(build)
    assert (done.status, done.err) == (0, "")
    assert done.out == f"{len(log.lines)} lines, all as they were written. Head: {log.head}\n"


def test_the_first_line_that_was_changed_is_named(benchvoice: Command, build: Path) -> None:
    log = build / "log.jsonl"
    log.write_bytes(log.read_bytes().replace(b"Launch diesel", b"Launch petrol", 1))
    done = benchvoice("verify", build, "--json")
    assert done.status == 1
    assert done.err.startswith(f"{build}: line 1 ")
    assert done.answer["fault"]["line"] == 1


def test_a_torn_last_line_is_told_and_is_no_fault(benchvoice: Command, build: Path) -> None:
    with (build / "log.jsonl").open("ab") as log:
        log.write(b'{"n":')
    done = benchvoice("verify", build)
    assert done.status == 0
    assert done.err == "An unfinished last write stands at the end of the log: nobody was told of it.\n"
