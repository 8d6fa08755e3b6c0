"""Runs the cases of a file and says which differ."""

import json
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from benchvoice.benchmarks.published.compare import differs, shown
from benchvoice.benchmarks.published.kinds import Adapter, kinds
from benchvoice.errors import InputError

Case = Mapping[str, Any]


class BadCases(InputError):
    """A file that is not a list of cases."""


def main(arguments: list[str]) -> int:
    """Run every case of the files; 0 when all hold, 1 when one differs, 2 for a file that can't be read."""
    if not arguments:
        print("say which file of cases to run: published FILE.json", file=sys.stderr)
        return 2
    try:
        cases = [case for name in arguments for case in read(Path(name))]
    except BadCases as fault:
        print(fault, file=sys.stderr)
        return 2
    adapters = kinds()
    differences = [difference for case in cases if (difference := run(case, adapters)) is not None]
    for difference in differences:
        print(difference)
    print(f"{len(cases) - len(differences)} passed, {len(differences)} failed")
    return 1 if differences else 0


def read(file: Path) -> list[Case]:
    """The cases of a file; BadCases when it isn't one."""
    try:
        cases = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError) as fault:
        raise BadCases(f"{file} can't be read as JSON ({fault}): give a file of cases") from fault
    wanted = {"id", "kind", "inputs", "expected", "tolerance"}
    if not isinstance(cases, list) or not all(isinstance(case, dict) and wanted <= case.keys() for case in cases):
        raise BadCases(f"{file} is not a list of cases with {', '.join(sorted(wanted))}: give a file of cases")
    return cases


def run(case: Case, adapters: Mapping[str, Adapter]) -> str | None:
    """One line about how a case differs; None when it holds."""
    name = f"{case['id']} ({case['kind']})"
    if case["kind"] not in adapters:
        return f"{name}: no adapter for this kind"
    try:
        given = adapters[case["kind"]](case["inputs"])
    except Exception as fault:  # a case that breaks the library is a case that fails, and the others still count
        return f"{name}: {type(fault).__name__}: {fault}"
    wrong = [
        f"{key} is {shown(given[key]) if key in given else 'not given'} where {shown(wanted)} is published"
        for key, wanted in case["expected"].items()
        if key not in given or differs(wanted, given[key], case["tolerance"].get(key, "exact"))
    ]
    return f"{name}: {'; '.join(wrong)}" if wrong else None
