"""The uncertainty of what is read at a bench, from its verdict, beside the uncertainties package and scipy."""

from decimal import Decimal
from pathlib import Path

import pytest
from scipy import stats
from uncertainties import ufloat

from benchvoice.quantity.instruments import Instrument
from benchvoice.session.entries import Reading, Tightened, Verdict
from benchvoice.session.instruments import uses
from benchvoice.session.known_instruments import KnownInstrument
from benchvoice.testing.bench import Bench

HEAD = """schema: 1
title: Doubt
work: metric
instruments:
  fine: {kind: outside micrometer, unit: mm, resolution: 0.001, uncertainty: 0.003, k: 3}
  gauge: {kind: bore gauge, unit: mm, resolution: 0.002}
  feelers: {kind: feeler gauges, unit: mm, resolution: 0.05}
  leaves: {kind: feeler gauges, unit: mm, resolution: 0.05, uncertainty: 0.004}
steps:
"""
GUARDED = "limits: [0, 100], rule: guarded acceptance"


def judged(tmp_path: Path, steps: str, *words: str, instruments: tuple[KnownInstrument, ...] = ()) -> list[Verdict]:
    file = tmp_path / "doubt.yaml"
    file.write_text(HEAD + steps + "  - step: end\n    tell: That is all.\n", encoding="utf-8")
    bench = Bench(file, instruments=instruments)
    bench.say("ann", *words)
    return [entry for entry in bench.log("verdict") if isinstance(entry, Verdict)]


def up(found: Decimal | None, wanted: float) -> bool:
    """The uncertainty that is wanted, rounded up to three digits."""
    return found is not None and wanted * 0.999999 <= float(found) <= wanted * 1.0101


def test_stated_by_its_own_coverage_factor(tmp_path: Path) -> None:
    (found,) = judged(
        tmp_path,
        f"  - step: a\n    measure: {{what: size, unit: mm, instrument: fine, {GUARDED}}}\n",
        "ten point one two three",
    )
    assert (found.uncertainty, found.coverage_factor) == (Decimal("0.002"), 2)


def test_a_master_is_in_the_reading(tmp_path: Path) -> None:
    (found,) = judged(
        tmp_path,
        "  - step: a\n    measure: {what: deviation, unit: mm, instrument: fine, limits: [-1, 1], "
        "rule: guarded acceptance, master: {what: ring, size: 50 mm, uncertainty: 0.0015 mm}}\n",
        "point one two three",
    )
    assert up(found.uncertainty, (0.002**2 + 0.0015**2) ** 0.5)


def test_resolution_alone(tmp_path: Path) -> None:
    (found,) = judged(
        tmp_path,
        f"  - step: a\n    measure: {{what: size, unit: mm, instrument: gauge, {GUARDED}}}\n",
        "ten point one two four",
    )
    assert up(found.uncertainty, 2 * 0.002 / 12**0.5)


@pytest.mark.parametrize(("instrument", "uncertainty"), [("feelers", "0"), ("leaves", "0.004")])
def test_an_interval_is_its_own_doubt(tmp_path: Path, instrument: str, uncertainty: str) -> None:
    (found,) = judged(
        tmp_path,
        f"  - step: a\n    measure: {{what: gap, unit: mm, instrument: {instrument}, {GUARDED}}}\n",
        "point two five goes, point three zero won't",
    )
    assert (found.uncertainty, found.outcome) == (Decimal(uncertainty), "in limits")


def test_repeats_by_student(tmp_path: Path) -> None:
    found = judged(
        tmp_path,
        f"  - step: a\n    measure: {{what: size, unit: mm, instrument: gauge, repeats: 4, {GUARDED}}}\n",
        "ten point one zero zero",
        "ten point one zero six",
        "ten point one zero two",
        "ten point one zero eight",
    )[-1]
    readings = [10.100, 10.106, 10.102, 10.108]
    a, b = stats.sem(readings), 0.002 / 12**0.5
    freedom = int((a**2 + b**2) ** 2 / (a**4 / 3))
    assert up(found.uncertainty, stats.t.ppf(0.97725, freedom) * (a**2 + b**2) ** 0.5)


def test_a_difference_carries_the_doubt_of_both(tmp_path: Path) -> None:
    found = judged(
        tmp_path,
        "  - step: a\n    measure: {what: bore, unit: mm, instrument: gauge}\n"
        "  - step: b\n    measure:\n      what: shaft\n      unit: mm\n      instrument: fine\n      computed:\n"
        f"        clearance: {{kind: difference, of: {{of: a, less: b}}, {GUARDED}}}\n",
        "ten point one two four",
        "ten point one zero zero",
    )[-1]
    bore, shaft = ufloat(10.124, 0.002 / 12**0.5), ufloat(10.1, 0.001)
    assert up(found.uncertainty, 2 * (bore - shaft).std_dev)
    assert found.outcome == "in limits"


def test_a_mean_of_places_does_not_lessen_what_one_instrument_has_wrong(tmp_path: Path) -> None:
    found = judged(
        tmp_path,
        "  - step: a\n    measure:\n      what: size\n      unit: mm\n      instrument: fine\n"
        f"      places: {{end: [left, right]}}\n      computed:\n        mean: {{kind: mean, {GUARDED}}}\n",
        "ten point one two zero",
        "ten point one two two",
    )[-1]
    assert up(found.uncertainty, 0.002)


def test_what_is_not_known_is_not_called(tmp_path: Path) -> None:
    """An instrument of the register of which neither uncertainty nor resolution is known."""
    register = KnownInstrument.of(Instrument(id="mike", kind="bore gauge", unit="mm", resolution=None))
    (found,) = judged(
        tmp_path,
        f"  - step: a\n    measure: {{what: size, unit: mm, resolution: 0.001, instrument: gauge, {GUARDED}}}\n",
        "mike",
        "ten point one two four",
        instruments=(register,),
    )
    assert (found.outcome, found.reason) == ("too close to call", "no uncertainty is stated")


def test_a_bolts_length_is_read_with_the_instrument_of_its_free_length() -> None:
    bench = Bench(Path(__file__).parents[2] / "procedures" / "launch-bottom-end.yaml")
    bench.work_to(None)
    tight = [each for each in bench.log("reading") if isinstance(each, Reading) and each.what == "tight length"]
    assert {each.instrument for each in tight} == {"bolt_micrometer"}
    free = [each for each in bench.log("reading") if isinstance(each, Reading) and each.step == "bolt_free_length"]
    assert uses(bench.state.facts, "bolt_micrometer") >= len(tight) + len(free)
    torques = [each for each in bench.log("tightened") if isinstance(each, Tightened) and each.stage_kind == "torque"]
    wrenches = sum(uses(bench.state.facts, name) for name in bench.procedure.wrenches)
    assert 0 < wrenches <= len(torques)
