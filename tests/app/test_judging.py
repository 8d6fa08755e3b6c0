"""Verdicts that follow from a decision rule: verified from the log alone, and shown in the record."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from benchvoice.app.judging import judge_for
from benchvoice.log import create_build, read_log, verify
from benchvoice.session.entries import Reading, Verdict, WarmthSaid
from benchvoice.testing.bench import Bench
from tests.app.conftest import Command

DOUBT = Path(__file__).parents[1] / "conversations" / "doubt.yaml"


@pytest.fixture
def judged(tmp_path: Path) -> Path:
    """A build by decision rules, killed between readings, closed."""
    bench = Bench(DOUBT, tmp_path / "judged")
    bench.work_to("likely")
    bench.say("three point nine", "measure again", "three point six")
    bench.kill_and_resume()
    bench.say("ann", "measure again", "three point seven", "the mean", "decide", "use as is", "a spare")
    bench.work_to("repeated")
    bench.say("three point one", "three point two")
    bench.kill_and_resume(reboot=True)
    bench.say("ann", "three point zero")
    bench.work_to(None)
    bench.close()
    return tmp_path / "judged"


def test_verdicts_by_rules_are_borne_out(judged: Path) -> None:
    assert verify(judged, judge_for(judged)).fault is None
    verdicts = [line.entry for line in read_log(judged).lines if isinstance(line.entry, Verdict)]
    assert {verdict.rule.partition(",")[0] for verdict in verdicts} == {"guarded acceptance", "conformance probability"}
    assert all(verdict.uncertainty for verdict in verdicts)


@pytest.mark.parametrize(
    "change",
    [
        {"uncertainty": Decimal("0.01")},
        {"probability": Decimal("0.9999")},
        {"coverage_factor": Decimal(3)},
        {"rule": "simple acceptance"},
        {"outcome": "over"},
    ],
    ids=lambda change: next(iter(change)),
)
def test_a_verdict_that_does_not_follow_is_named(judged: Path, tmp_path: Path, change: dict[str, object]) -> None:
    """The chain is whole, and written by a program that judges otherwise."""
    lines = read_log(judged).lines
    last = max(line.n for line in lines if isinstance(line.entry, Verdict) and line.entry.step == "likely")
    stamped = [
        replace(line.stamped, entry=line.entry.model_copy(update=change))
        if line.n == last
        else line.stamped
        for line in lines
    ]
    with create_build(tmp_path / "other", DOUBT.read_bytes()) as other:
        other.append(stamped)
    fault = verify(tmp_path / "other", judge_for(tmp_path / "other")).fault
    assert fault is not None
    assert fault.line == last


def test_the_mean_keeps_its_readings(judged: Path) -> None:
    readings = {line.n: line.entry for line in read_log(judged).lines if isinstance(line.entry, Reading)}
    means = [entry for entry in readings.values() if entry.counts_as == "mean"]
    assert [len(entry.from_entries) for entry in means] == [3, 3]
    assert all(readings[n].counts_as in ("first", "repeat") for entry in means for n in entry.from_entries)


def test_the_record_shows_rule_and_uncertainty(benchvoice: Command, judged: Path) -> None:
    assert benchvoice("record", judged).status == 0
    page = (judged / "record.html").read_text(encoding="utf-8")
    assert "1.5 to 4.7 thou, guarded acceptance, guard band 1 U" in page
    assert "2 to 4 thou, conformance probability, 95 %" in page
    assert "U = 0.33 thou (k = 2)" in page
    assert "% sure to be in limits" in page
    assert "(mean)" in page


WARMTH = Path(__file__).parents[1] / "conversations" / "warmth.yaml"


def test_the_table_that_judged_follows_from_the_log_alone(tmp_path: Path) -> None:
    """0.28 mm is in limits hot, and under cold: with the other state in the log, the verdict is not borne out."""
    folder = tmp_path / "warm"
    bench = Bench(WARMTH, folder)
    bench.say("ann", "hot", "valve two point two eight")
    bench.kill_and_resume()
    bench.say("ann", "yes", "point two zero")
    bench.close()
    assert verify(folder, judge_for(folder)).fault is None
    lines = read_log(folder).lines
    said = next(line for line in lines if isinstance(line.entry, WarmthSaid))
    cold = said.entry.model_copy(update={"state": "cold"})
    with create_build(tmp_path / "other", WARMTH.read_bytes()) as build:
        for line in lines:
            build.append([replace(line.stamped, entry=cold) if line.n == said.n else line.stamped])
    fault = verify(tmp_path / "other", judge_for(tmp_path / "other")).fault
    assert fault is not None
    assert fault.what.endswith("is under, and the verdict says in limits")
