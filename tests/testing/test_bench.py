"""The bench: in memory and on disk it says and writes the same, and a killed build goes on."""

from pathlib import Path

from benchvoice.log import verify
from benchvoice.testing.bench import Bench

SMALL = Path(__file__).parents[1] / "conversations" / "small.yaml"


def test_on_disk_as_in_memory(tmp_path: Path) -> None:
    """The same words make the same entries, whether they are kept or not."""
    memory, disk = Bench(SMALL), Bench(SMALL, tmp_path / "build")
    for bench in (memory, disk):
        bench.work_to("gap")
        bench.say("point one five")
        bench.kill_and_resume()
        bench.forward("10m")
        bench.say("point one six")
    assert memory.spoken == disk.spoken
    assert memory.written == disk.written
    disk.close()
    assert verify(tmp_path / "build").fault is None


def test_a_careful_person_finishes() -> None:
    """Worked by the book the build closes, cure time and all."""
    bench = Bench(SMALL)
    bench.work_to(None)
    assert bench.state.closed
    assert bench.log("closed")
    assert not bench.counting("left_for_later")


def test_time_wants_a_word() -> None:
    """The clock stops wherever a window wants a word."""
    bench = Bench(SMALL)
    bench.work_to("sealant")
    bench.say("bead on")
    bench.forward("10m")
    assert len(bench.heard) == 3
    assert bench.at == "sealant"
