"""The benchmark runs whole and leaves nothing behind; what it measures is nobody's pass or fail."""

import os
from pathlib import Path

import pytest

from benchvoice.benchmarks import log


def test_it_prints_what_it_measured_and_cleans_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, few in (("TURNS", 4), ("WARM_UP", 1), ("ENTRIES", 30)):
        monkeypatch.setattr(log, name, few)
    assert log.main([str(tmp_path)]) == 0
    said = capsys.readouterr().out
    assert "append 1 (" in said
    assert "append 3 (" in said
    assert "30 entries" in said
    assert os.listdir(tmp_path) == []
