import re
import subprocess
import sys
from pathlib import Path

import pytest

from benchvoice import __version__
from benchvoice.app.main import COMMANDS
from tests.app.conftest import Command

HEAVY = ("vosk", "sounddevice", "pyttsx3", "soundfile", "soxr", "numpy", "pint", "pydantic", "jinja2")


def test_every_command_explains_itself_with_an_example(benchvoice: Command) -> None:
    for name in COMMANDS:
        done = benchvoice(name, "--help")
        assert done.status == 0
        assert f"Example: benchvoice {name}" in done.out


def test_the_help_lists_every_command_and_what_it_does(benchvoice: Command) -> None:
    out = benchvoice("--help").out
    for name, what in COMMANDS.items():
        assert re.search(rf"^  {name} +{re.escape(what)}$", out, re.M)


def test_a_version_is_told(benchvoice: Command) -> None:
    assert benchvoice("--version").out == f"benchvoice {__version__}\n"


@pytest.mark.parametrize("arguments", [(), ("frobnicate",), ("parse",), ("parse", "one", "--furlong"), ("schema", "x")])
def test_wrong_use_is_status_2(benchvoice: Command, arguments: tuple[str, ...]) -> None:
    done = benchvoice(*arguments)
    assert done.status == 2
    assert done.out == ""
    assert "Usage: " in done.err


def test_what_is_not_right_is_one_sentence_and_status_1(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("verify", tmp_path)
    assert (done.status, done.out) == (1, "")
    assert done.err == f"There is no build in {tmp_path}: it holds no log.jsonl; check the name of the folder.\n"


def test_the_command_line_starts_without_what_is_heavy() -> None:
    code = (
        f"import sys; import benchvoice.app.main as m; m.command_line(); print(sorted(set(sys.modules) & {{*{HEAVY}}}))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_package_runs_as_a_program() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "benchvoice.app.main", "parse", "ten thou", "--unit", "in"],
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "take: 0.010 in\n", "")
