from pathlib import Path

import pytest

from tests.app.conftest import Command


def test_a_build_is_begun_and_gone_on_with(benchvoice: Command, build: Path) -> None:
    before = (build / "log.jsonl").read_bytes()
    done = benchvoice("build", "--resume", build, "--typed", stdin="where am i\n")
    assert done.status == 0
    assert (build / "log.jsonl").read_bytes().startswith(before)


def test_a_second_build_in_one_folder_is_refused(benchvoice: Command, build: Path) -> None:
    done = benchvoice("build", "reduction-gear", "--typed", "--out", build)
    assert (done.status, done.err) == (1, f"{build} holds a build already: resume it, or name a new folder.\n")


def test_a_script_moves_the_clock(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice(
        "build",
        "reduction-gear",
        "--typed",
        "--clock",
        "script",
        "--out",
        tmp_path / "b",
        stdin="ann\n@+10m\nwhere am i\n",
    )
    assert done.status == 0


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "Name one procedure to begin, or --resume"),
        (("reduction-gear", "--resume", "b"), "Name one procedure to begin, or --resume"),
        (("reduction-gear", "--typed", "--wav", "a.wav"), "--typed and --wav are two ways to be heard"),
        (("reduction-gear", "--clock", "script"), "--clock script moves the clock from typed lines"),
        (("--resume", "b", "--out", "c"), "--out and --machine are for a new build"),
        (("--resume", "b", "--amend", "p.yaml"), "--amend changes a build that is resumed, and needs --reason"),
        (("reduction-gear", "--amend", "p.yaml", "--reason", "new"), "--amend changes a build that is resumed"),
    ],
)
def test_options_that_do_not_go_together(benchvoice: Command, arguments: tuple[str, ...], told: str) -> None:
    done = benchvoice("build", *arguments)
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith(told)
