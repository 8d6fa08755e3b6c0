"""What a durable log costs: `python -m benchvoice.benchmarks log [FOLDER]`.

- One entry, and one turn (heard, reading, verdict: what a spoken reading leaves), appended, each against a bare write
  + fsync of the very same bytes to a file beside it, turn about, so that both meet the same disk in the same mood.
  Goal: 1.5 times at most.
- A log of 10,000 entries read and checked whole, as a resume does it, and opened for writing.

Run it on the disk that builds are kept on. In a folder in memory (/dev/shm) an fsync does nothing and the ratio says
nothing.
"""

import os
import platform
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path

from benchvoice.log import OpenBuild, Stamped, create_build, open_build, read_log
from benchvoice.session.entries import Entry, Heard, Reading, Verdict

TURNS, WARM_UP = 400, 20
ENTRIES = 10_000


@dataclass(frozen=True, slots=True)
class Cost:
    """An append against a bare write + fsync: entries and bytes of one, medians in milliseconds."""

    entries: int
    size: int
    append_ms: float
    bare_ms: float

    def __str__(self) -> str:
        return (
            f"append {self.entries} ({self.size} bytes) {self.append_ms:.3f} ms, bare {self.bare_ms:.3f} ms: "
            f"ratio {self.append_ms / self.bare_ms:.2f}"
        )


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole log: its bytes, and the medians in seconds of reading it and of opening it for writing."""

    size: int
    read_s: float
    open_s: float


def one_turn(n: int) -> list[Stamped]:
    """The entries that a spoken reading leaves; `n` is the number of the first."""
    place, value = ("two",), Decimal("2.25")
    said = "two and a quarter thou"
    entries: list[Entry] = [
        Heard(text=said, understood="reading", via="voice"),
        Reading(
            step="main_clearance", what="oil clearance", place=place, value=value, unit="thou",
            said=said, low=value, high=value, instrument="plastic_gauge", limits_said_before=True,
        ),
        Verdict(
            step="main_clearance", place=place, reading=n + 1, outcome="in limits",
            low=Decimal("1.5"), high=Decimal("3.0"), unit="thou",
        ),
    ]  # fmt: skip
    at = datetime(2026, 11, 25, 10, 15, tzinfo=UTC)
    return [Stamped(at, Decimal("12.031"), "0123456789abcdef", "ann", entry) for entry in entries]


def _took(work: Callable[[], object]) -> float:
    """Seconds that it takes, once."""
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def _time_bare(handle: int, data: bytes) -> float:
    began = time.perf_counter()
    os.write(handle, data)
    os.fsync(handle)
    return time.perf_counter() - began


def time_appends(build: OpenBuild, beside: Path, entries: int) -> Cost:
    """The cost of appending the last so many entries of a turn."""
    appends: list[float] = []
    bares: list[float] = []
    data = b""
    handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o644)
    try:
        for number in range(WARM_UP + TURNS):
            # Whoever comes second finds the disk's journal just emptied: each does half the time.
            if number % 2:
                bares.append(_time_bare(handle, data))
            turn = one_turn(build.writer.next_n)[-entries:]
            began = time.perf_counter()
            lines = build.append(turn)
            appends.append(time.perf_counter() - began)
            data = b"".join(line.raw + b"\n" for line in lines)
            if not number % 2:
                bares.append(_time_bare(handle, data))
    finally:
        os.close(handle)
    medians = (1e3 * statistics.median(times[WARM_UP:]) for times in (appends, bares))
    return Cost(entries, len(data), *medians)


def measure(folder: Path) -> tuple[list[Cost], Whole]:
    """All of it, in a new folder inside this one that is removed after."""
    with tempfile.TemporaryDirectory(dir=folder) as made:
        home = Path(made) / "build"
        with create_build(home, b"schema: 1\n") as build:
            costs = [time_appends(build, Path(made) / "bare", entries) for entries in (1, 3)]
            while build.writer.next_n <= ENTRIES:  # the rest of the 10,000 in large batches: only reading is timed
                turns = [one_turn(build.writer.next_n + 3 * k) for k in range(200)]
                build.append([entry for turn in turns for entry in turn][: ENTRIES + 1 - build.writer.next_n])
        read = statistics.median(_took(lambda: read_log(home)) for _ in range(5))
        opened = statistics.median(_took(lambda: open_build(home).close()) for _ in range(5))
        return costs, Whole((home / "log.jsonl").stat().st_size, read, opened)


def main(arguments: Sequence[str]) -> int:
    """Measure in the folder named, or in the current one, and print it with its conditions."""
    folder = Path(arguments[0] if arguments else ".").resolve()
    costs, whole = measure(folder)
    print(f"Python {platform.python_version()}, {platform.system()} {platform.machine()}, {os.cpu_count()} cores")
    print(f"medians of {TURNS}, turn about with the bare writes; goal for the ratio: 1.50 at most")
    for cost in costs:
        print(f"  {cost}")
    print(f"medians of 5, {ENTRIES} entries, {whole.size / 2**20:.1f} MiB")
    print(f"  read and check whole {whole.read_s:.3f} s, open for writing {whole.open_s:.3f} s")
    return 0
