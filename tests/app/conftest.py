"""The command line, run whole in this process on temporary folders."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from benchvoice.app.main import command_line


@dataclass(frozen=True, slots=True)
class Done:
    status: int
    out: str
    err: str

    @property
    def answer(self) -> Any:
        """What --json printed."""
        return json.loads(self.out)


Command = Callable[..., Done]


@pytest.fixture
def benchvoice(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Command:
    """benchvoice(*arguments, stdin=""), with the user's data in a folder of the test's own."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))

    def call(*arguments: str | Path, stdin: str = "") -> Done:
        done = CliRunner().invoke(command_line(), [str(each) for each in arguments], input=stdin)
        if done.exception is not None and not isinstance(done.exception, SystemExit):
            raise done.exception
        return Done(done.exit_code, done.stdout, done.stderr)

    return call


@pytest.fixture
def build(benchvoice: Command, tmp_path: Path) -> Path:
    """A short typed build."""
    folder = tmp_path / "build"
    done = benchvoice("build", "launch-bottom-end", "--typed", "--out", folder, stdin="ann\nwhere am i\n")
    assert done.status == 0
    return folder
