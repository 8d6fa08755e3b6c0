"""The published spoken readings and durations, from the file of check values where there is one.

Source of the phrases: common practice, no source; the arithmetic is exact.
"""

import json
import os
from pathlib import Path

import pytest

from benchvoice.benchmarks.published.run import run
from benchvoice.benchmarks.published.spoken import KINDS

FILE = Path(os.environ.get("BENCHVOICE_CHECK_VALUES", Path(__file__).parents[2] / "../shared/check-values.json"))
CASES = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else []
SPOKEN = [case for case in CASES if case["kind"] in KINDS]


def test_the_file_is_there_in_ci():
    if not FILE.exists():
        if os.environ.get("CI"):
            pytest.fail(f"no check values at {FILE}: name them in BENCHVOICE_CHECK_VALUES")
        pytest.skip("no file of check values: name one in BENCHVOICE_CHECK_VALUES")
    assert len(SPOKEN) >= 160


@pytest.mark.parametrize("case", SPOKEN, ids=lambda case: case["id"])
def test_case(case):
    assert run(case, KINDS) is None
