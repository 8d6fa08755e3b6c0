"""The procedures that ship load without a fault and say what they must."""

from decimal import Decimal
from pathlib import Path

import pytest
import yaml

from benchvoice.procedure import source
from benchvoice.procedure.load import load

SHIPPED = sorted((Path(__file__).parents[2] / "procedures").glob("*.yaml"))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_loads(path: Path) -> None:
    assert load(path).steps


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_loads_without_the_c_parser_too(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with_c = load(path)
    monkeypatch.setattr(source, "_LOADER", yaml.SafeLoader)
    assert load(path) == with_c


def test_both_launch_procedures_ship() -> None:
    assert {"launch-bottom-end", "launch-valve-lash"} <= {path.stem for path in SHIPPED}


def test_figures_keep_their_decimals() -> None:
    steps = {step.step: step for step in load(SHIPPED[0]).steps}
    clearance = steps["main_clearance"].measure
    assert clearance is not None
    assert clearance.limits is not None
    assert str(clearance.limits.bands["new"][1]) == "3.0"
    assert clearance.limits.bands["used"] == (Decimal("1.5"), Decimal("4.0"))
