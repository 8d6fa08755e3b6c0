"""kill -9 of a real process at random moments, on the real disk: nothing that it acknowledged is lost."""

import random
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from benchvoice.log import create_build, open_build, read_log, verify

from .samples import finding

KILLS = 20
PROJECT = Path(__file__).parents[2]
SEED = random.SystemRandom().randrange(2**32)


def test_a_killed_process_loses_nothing_it_acknowledged(tmp_path: Path) -> None:
    print(f"seed {SEED}")  # shown when the test fails
    moments = random.Random(SEED)
    home = tmp_path / "build"
    with create_build(home, b"schema: 1\n") as build:
        build.append([finding(0)])
    for _ in range(KILLS):
        told = _append_until_killed(home, moments)
        lines = read_log(home).lines
        assert told[0] <= len(lines), f"line {told[0]} was acknowledged"
        assert lines[told[0] - 1].digest == told[1]
    with open_build(home) as build:
        build.append([finding(number) for number in range(10)])
    assert verify(home).fault is None
    assert len(read_log(home).lines) > 3 * KILLS


def _append_until_killed(home: Path, moments: random.Random) -> tuple[int, str]:
    """The last line that the process said was safe before it died: its number and its digest."""
    command = [sys.executable, "-m", "tests.log.appender", str(home)]
    with subprocess.Popen(command, cwd=PROJECT, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        first = child.stdout.readline()
        with suppress(subprocess.TimeoutExpired):
            child.wait(timeout=moments.uniform(0, 0.03))
        child.kill()
        said = first + child.stdout.read()
    number, digest = said.splitlines()[-1 if said.endswith("\n") else -2].split()
    return int(number), digest
