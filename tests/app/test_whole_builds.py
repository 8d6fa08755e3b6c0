"""Whole builds on disk: chosen from the tray, matched, killed in the middle; verified, and shown in the record."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from benchvoice.app.judging import judge_for
from benchvoice.log import create_build, procedure_bytes, read_log, verify
from benchvoice.session.entries import Matched, PackTaken
from benchvoice.testing.bench import Bench
from tests.app.conftest import Command

PROCEDURES = Path(__file__).parents[2] / "procedures"


@pytest.fixture(scope="module")
def geared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A reduction gear with shim moved from side to side, killed at the question."""
    folder = tmp_path_factory.mktemp("gear") / "build"
    bench = Bench(PROCEDURES / "reduction-gear.yaml", folder)
    bench.work_to("backlash")
    bench.say("zero point two eight", "rework because too slack")
    bench.kill_and_resume(reboot=True)
    bench.say("ann", "no", "yes")
    assert bench.at == "wheel_packs"
    bench.work_to("backlash")
    bench.say(*["zero point two one"] * 4)
    bench.work_to(None)
    bench.close()
    return folder


def test_packs_are_verified_and_shown(geared: Path, benchvoice: Command) -> None:
    assert verify(geared, judge_for(geared)).fault is None
    assert benchvoice("verify", str(geared)).status == 0
    assert benchvoice("record", str(geared)).status == 0
    page = (geared / "record.html").read_text(encoding="utf-8")
    for words in (
        "Packs from the tray",
        "Left pack, out of shims: ",
        "moved from side to side, the sum kept; back in the tray",
        "Limits of 30 k6 by ISO 286",
        "by of / (1 + expansion x (temperature - 20 degC)), steel",
    ):
        assert words in page, words
    entries = [line.entry for line in read_log(geared).lines]
    packs = [entry for entry in entries if isinstance(entry, PackTaken)]
    assert [pack.pack for pack in packs] == ["pinion pack", "left pack", "right pack", "left pack", "right pack"]
    assert packs[1].total + packs[2].total == packs[3].total + packs[4].total


def test_pieces_that_do_not_add_up_are_named(geared: Path, tmp_path: Path) -> None:
    """The chain is whole, and written by a program that can't add."""
    lines = read_log(geared).lines
    first = next(line for line in lines if isinstance(line.entry, PackTaken))
    wrong = first.entry.model_copy(update={"total": Decimal("9.99")})
    other = tmp_path / "other"
    with create_build(other, procedure_bytes(geared, "procedure.yaml")) as build:
        for line in lines:
            build.append([replace(line.stamped, entry=wrong) if line.n == first.n else line.stamped])
    fault = verify(other, judge_for(other)).fault
    assert fault is not None
    assert (fault.line, "don't add up to 9.99 mm" in fault.what) == (first.n, True)


def test_every_computed_value_of_the_engine_is_in_its_record(tmp_path: Path, benchvoice: Command) -> None:
    """Both procedures of the engine to their closing by the careful person: spoken through, logged, shown."""
    for name in ("launch-bottom-end", "launch-valve-lash"):
        folder = tmp_path / name
        bench = Bench(PROCEDURES / f"{name}.yaml", folder)
        bench.work_to(None, {"shells": "used"})
        bench.close()
        assert bench.state.closed
        assert verify(folder, judge_for(folder)).fault is None
        benchvoice("record", str(folder))
        page = (folder / "record.html").read_text(encoding="utf-8")
        measures = [step.measure for step in bench.procedure.steps if step.measure is not None]
        logged = {entry.what for entry in bench.log("reading")}  # type: ignore[attr-defined]
        known = {what for measure in measures for what in measure.computed} & logged
        assert {"swept", "taper", "out_of_round", "compression"} & known
        assert all(what.replace("_", " ") in page for what in known)
        assert "lobes" in page or name != "launch-bottom-end"
        if name == "launch-bottom-end":
            assert {"clearance_by_parts", "stretch"} <= logged
            matched = [entry for entry in bench.log("matched") if isinstance(entry, Matched)]
            assert {entry.how for entry in matched} == {"pairs", "banks", "totals", "clearances"}
            assert all(f"{entry.what} matched".capitalize() in page for entry in matched)
            halves_in = "Thrust halves: one with two, three with four. Thrust halves in"
            assert any(halves_in in each for each in bench.spoken)
