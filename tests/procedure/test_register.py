"""The shop's register of instruments: read whole, every fault at once with its line."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from benchvoice.errors import InputError
from benchvoice.procedure.faults import DocumentFaults
from benchvoice.procedure.register import load_register, read_register
from benchvoice.quantity.instruments import Due

SHOP = Path(__file__).parents[1] / "conversations" / "shop-instruments.yaml"


def faults(text: str) -> list[str]:
    with pytest.raises(DocumentFaults) as caught:
        read_register(text.encode(), "shop.yaml")
    return str(caught.value).splitlines()


def test_a_register_is_read_whole() -> None:
    dial = load_register(SHOP)["dial_two"]
    assert (dial.kind, dial.unit, dial.low, dial.high) == ("dial indicator", "mm", 0, 1)
    assert (dial.resolution, dial.uncertainty, dial.k) == (Decimal("0.001"), Decimal("0.003"), 2)
    assert (dial.repeatability, dial.calibrated, dial.due) == (Decimal("0.001"), date(2025, 2, 1), Due(days=365))
    assert dial.says == ("dial two",)
    assert load_register(SHOP)["wrench_two"].class_percent == 6


def test_json_is_read_too() -> None:
    text = '{"schema": 1, "instruments": {"mike": {"kind": "micrometer", "unit": "mm", "resolution": "0.001"}}}'
    assert [each.id for each in read_register(text.encode(), "shop.json")] == ["mike"]


def test_every_fault_is_told_at_once() -> None:
    assert faults(
        """schema: 1
instruments:
  a: {kind: torque wrench, unit: mm, resolution: -1, due: {days: 3}, says: dial}
  b: {kind: dial indicator, unit: mm, range: [3, 1], calibrated: 2026-02-31, says: Dial}
  c: {kind: dial indicator, unit: mm, due: {by: 2026-00-01}, k: 0}
"""
    ) == [
        "shop.yaml:3: instruments.a: a torque wrench without a range or a step; "
        "add range: [least, most], and resolution, the step of its scale",
        "shop.yaml:3: instruments.a.due.days: so many days after a calibration that has no date; "
        "add calibrated, the day of the last calibration",
        "shop.yaml:3: instruments.a.resolution: -1 can't be the resolution; write more than nothing",
        "shop.yaml:3: instruments.a.unit: mm is no unit of torque; give a wrench's unit, such as N_m",
        "shop.yaml:4: instruments.b.calibrated: there is no day 2026-02-31; "
        "write year, month and day, such as 2027-03-01",
        "shop.yaml:4: instruments.b.range: 3 to 1 is no range; write [least, most]",
        "shop.yaml:4: instruments.b.says: a is called Dial too; call each by a name of its own",
        "shop.yaml:5: instruments.c.due.by: there is no day 2026-00-01; write year, month and day, such as 2027-03-01",
        "shop.yaml:5: instruments.c.k: 0 can't be the k; write more than nothing",
    ]


def test_misspelt_and_missing_fields_are_told_with_the_nearest() -> None:
    assert faults("schema: 1\ninstruments:\n  c: {knd: dial, unit: mmm}\n") == [
        "shop.yaml:3: instruments.c: kind is missing; add it",
        "shop.yaml:3: instruments.c.knd: there is no knd here; did you mean kind?",
        "shop.yaml:3: instruments.c.unit: 'mmm' is not a unit; did you mean 'mm'?",
    ]


@pytest.mark.parametrize("text", ["", "- a\n", "schema: 2\ninstruments: {}\n", "instruments: {}\n"])
def test_another_schema_is_refused(text: str) -> None:
    assert faults(text) == ["shop.yaml:1: schema: this is no register known here; begin with schema: 1"]


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file or directory; give the path of a register"):
        load_register(tmp_path / "none.yaml")
