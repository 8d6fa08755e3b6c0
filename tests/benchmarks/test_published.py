"""The published values run through the library, and every one of them that is changed fails."""

import copy
import json
import os
import re
from decimal import Decimal
from pathlib import Path

import pytest

from benchvoice.benchmarks.published.kinds import kinds
from benchvoice.benchmarks.published.notation import given, in_unit_of, plain, text_of, unit_of
from benchvoice.benchmarks.published.run import BadCases, main, read, run
from benchvoice.quantity.units import UNITS, UnknownUnit
from benchvoice.quantity.values import parse_quantity as q

FILE = Path(os.environ.get("BENCHVOICE_CHECK_VALUES", Path(__file__).parents[2] / "../shared/check-values.json"))
CASES = json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else []
SMALL = [
    {
        "id": "CV-1",
        "kind": "convert",
        "inputs": {"value": {"value": "1", "unit": "in"}, "to": "mm"},
        "expected": {"converted": {"value": "25.4", "unit": "mm"}},
        "tolerance": {"converted": "0"},
    },
    {
        "id": "DZ-1",
        "kind": "zone",
        "inputs": {
            "reading": {"value": "95.405", "unit": "mm"},
            "low": {"value": "95.400", "unit": "mm"},
            "high": None,
            "w": {"value": "0.003", "unit": "mm"},
        },
        "expected": {"zone": "conforms"},
        "tolerance": {"zone": "exact"},
    },
]


@pytest.fixture
def file(tmp_path):
    def write(cases):
        path = tmp_path / "cases.json"
        path.write_text(cases if isinstance(cases, str) else json.dumps(cases), encoding="utf-8")
        return str(path)

    return write


def changed(**other):
    return {**copy.deepcopy(SMALL[0]), **other}


def test_cases_that_hold(file, capsys):
    assert main([file(SMALL)]) == 0
    assert capsys.readouterr().out == "2 passed, 0 failed\n"
    assert main([file(SMALL), file(SMALL)]) == 0
    assert capsys.readouterr().out == "4 passed, 0 failed\n"


def test_a_case_that_differs_is_one_line(file, capsys):
    wrong = changed(expected={"converted": {"value": "25.5", "unit": "mm"}})
    assert main([file([wrong, SMALL[1]])]) == 1
    assert capsys.readouterr().out.splitlines() == [
        "CV-1 (convert): converted is 25.4 mm where 25.5 mm is published",
        "1 passed, 1 failed",
    ]


def test_what_is_not_given_differs(file, capsys):
    wrong = changed(expected={"converted": {"value": "25.4", "unit": "mm"}, "also": True})
    assert main([file([wrong])]) == 1
    assert "CV-1 (convert): also is not given where True is published" in capsys.readouterr().out


def test_a_kind_without_an_adapter_differs():
    assert run(changed(kind="weather"), kinds()) == "CV-1 (weather): no adapter for this kind"


def test_a_case_that_breaks_the_library_differs_and_the_others_still_count(file, capsys):
    wrong = changed(inputs={"value": {"value": "1", "unit": "furlong"}, "to": "mm"})
    assert main([file([wrong, SMALL[1]])]) == 1
    out = capsys.readouterr().out
    assert "CV-1 (convert): UnknownUnit: 'furlong' is not a unit" in out
    assert out.endswith("1 passed, 1 failed\n")


@pytest.mark.parametrize(
    "text", ["", "{", "{}", "3", "[3]", '[{"id": "x"}]', '[{"id": 1, "kind": 2, "inputs": 3, "expected": 4}]']
)
def test_files_that_are_no_cases(file, text, capsys):
    assert main([file(text)]) == 2
    told = capsys.readouterr().err
    assert "cases.json" in told
    assert told.endswith("give a file of cases\n")
    assert "Traceback" not in told


def test_a_missing_file(tmp_path, capsys):
    assert main([str(tmp_path / "absent.json")]) == 2
    assert "absent.json can't be read as JSON" in capsys.readouterr().err
    with pytest.raises(BadCases):
        read(tmp_path)


def test_two_adapters_for_one_kind_are_refused(monkeypatch):
    from benchvoice.benchmarks.published import readings

    monkeypatch.setattr(readings, "KINDS", {"convert": None})
    with pytest.raises(ValueError, match="two adapters for convert: the second is in readings"):
        kinds()


def test_units_as_cases_write_them():
    assert unit_of("N.m") == "N_m"
    assert unit_of("lbf.ft") == "ft_lb"
    assert unit_of("cm3") == "cc"
    assert unit_of("kgf/cm2") == "kgf_cm2"
    assert unit_of("%") == "percent"
    assert unit_of("degC") == "degC"
    assert unit_of("degF (interval)") == "delta_degF"
    assert unit_of("V") == "V"
    assert all(unit_of(unit) == unit for unit in UNITS)


def test_quantities_as_cases_write_them():
    assert given({"value": "11.5e-6", "unit": "1/K"}) == q("0.0000115 per_K")
    assert str(plain("1E+3")) == "1000"
    assert str(plain("1.50")) == "1.50"
    assert text_of(Decimal("0.100")) == "0.1"
    assert text_of(Decimal("200")) == "200"
    assert text_of(Decimal("0.00")) == "0"
    assert in_unit_of({"value": "1", "unit": "in"}, {"value": "9", "unit": "mm"}) == Decimal("25.4")
    assert in_unit_of({"value": "1", "unit": "V"}, {"value": "9", "unit": "V"}) == 1
    assert in_unit_of(None, {"value": "9", "unit": "V"}) is None
    with pytest.raises(UnknownUnit):
        given({"value": "1", "unit": "V"})


def of(text):
    """A quantity as cases write it: "0.5 K"."""
    value, _, unit = text.partition(" ")
    return {"value": value, "unit": unit}


# Cases mix units as they like; the arithmetic is the published cases' own.
@pytest.mark.parametrize(
    ("kind", "inputs", "expected"),
    [
        ("zone", {"reading": "20 degC", "w": "0.5 K", "low": "19 degC", "high": "21 degC"}, {"zone": "conforms"}),
        ("resolution_map", {"resolution": "0.1 degC", "to": "degF"}, {"exact": "0.18 degF", "resolution": "0.1 degF"}),
        ("u_report", {"value": "20.13 degC", "U": "0.25 K"}, {"value": "20.13 degC", "U": "0.25 degC"}),
        (
            "u_combine",
            {"k": "2", "parts": [{"u": of("0.3 degC"), "c": "1"}, {"u": of("0.4 K"), "c": "-1"}]},
            {"uc": "0.5 degC", "U": "1.0 degC"},
        ),
        ("k_factor", {"p": "0.5", "nu": "inf"}, {}),
        (
            "thermal",
            {"material": "steel", "alpha": "10 um/(m.K)", "L": "100 mm", "from": "20 degC", "to": "30 degC"},
            {"change": "0.01 mm"},
        ),
        (
            "thermal",
            {"material": "steel", "alpha": "5e-6 1/degF", "L": "100 mm", "from": "20 degC", "to": "30 degC"},
            {"change": "9 um"},
        ),
        (
            "valve",
            {"old_shim": "2.80 mm", "measured": "120 um", "low": "0.15 mm", "high": "0.25 mm", "stock_step": "50 um"},
            {"needed": "2.72 mm", "choose": "2.70 mm", "resulting": "0.22 mm", "in_limits": True},
        ),
        (
            "valve",
            {"lash_change_at_valve": "0.10 mm", "rocker_ratio": "5/3", "screw_pitch": "1 mm"},
            {"turns": "0.06 turn"},
        ),
        ("feeler", {"go": "6 thou", "no_go": "0.008 in"}, {"middle": "7 thou", "gap_below": "0.008 in"}),
        ("instrument", {"turns": 2, "hand": "43 thou", "per_turn": "0.1 in"}, {"value": "243 thou"}),
        ("instrument", {"sleeve": "0.475 in", "thimble": "0.012 in", "vernier": None}, {"size": "0.487 in"}),
        ("machine", {"bore": "20 mm", "pressure": "10 N/mm2", "rod": None}, {}),
        (
            "machine",
            {"displacement": "2.31 in3/rev", "rpm": "1000", "volumetric_efficiency": "0.9"},
            {"flow": "9 gal/min (US)"},
        ),
        ("angle", {"stages": ["30 lbf.ft", "0.25 turn", "30 deg"]}, {"angle_total": "120 deg", "snug": "30 lbf.ft"}),
        ("trade", {"joint": "twenty bolts in two rows of ten, slackening"}, {"stages": "a little at a time"}),
    ],
)
def test_other_spellings_and_units(kind, inputs, expected):
    def written(value):
        return of(value) if isinstance(value, str) and value[:1].isdigit() and " " in value else value

    case = {
        "id": "X-1",
        "kind": kind,
        "inputs": {key: written(value) for key, value in inputs.items()},
        "expected": {key: written(value) for key, value in expected.items()},
        "tolerance": {key: "0" for key, value in expected.items() if isinstance(written(value), dict)},
    }
    assert run(case, kinds()) is None


needs_cases = pytest.mark.skipif(not CASES, reason=f"no file of published values at {FILE}")


def test_published_values_are_there_where_they_must_be():
    assert CASES or os.environ.get("CI") != "true", f"no file of published values at {FILE}"


@needs_cases
@pytest.mark.parametrize("kind", sorted({case["kind"] for case in CASES}))
def test_published_values(kind):
    adapters = kinds()
    differences = [run(case, adapters) for case in CASES if case["kind"] == kind]
    assert [difference for difference in differences if difference] == []


def falsified(value, tolerance):
    """The value changed in every way that a mistake would change it."""
    if isinstance(value, dict):
        exact = Decimal(value["value"])
        step = abs(exact) * Decimal("1e-12") + Decimal("1e-15") if tolerance in ("0", "exact") else Decimal(tolerance)
        for other in (exact + 3 * step, exact - 3 * step, exact * 2 + 3):
            yield {**value, "value": f"{other:f}"}
        yield {**value, "unit": "furlong"}
        if exact:
            yield {**value, "unit": "psi" if value["unit"] != "psi" else "bar"}
    elif isinstance(value, bool):
        yield from (not value, int(value), None)
    elif isinstance(value, int | float):
        yield from (value + 1, str(value), None)
    elif isinstance(value, str):
        yield from (value + " not", value[:-1])
    elif isinstance(value, list):
        yield [*value, 1]
        if value:
            yield value[:-1]
        if value != value[::-1]:
            yield value[::-1]
    else:
        yield from (0, "")


@needs_cases
@pytest.mark.parametrize("kind", sorted({case["kind"] for case in CASES}))
def test_a_changed_value_fails(kind):
    adapters = kinds()
    tried = 0
    for case in CASES:
        if case["kind"] != kind:
            continue
        for key, value in case["expected"].items():
            for other in falsified(value, case["tolerance"].get(key, "exact")):
                wrong = {**case, "expected": {**case["expected"], key: other}}
                assert run(wrong, adapters) is not None, (case["id"], key, other)
                tried += 1
    assert tried > 0


@needs_cases
def test_identifiers_are_one_line_each():
    assert all(re.fullmatch(r"[A-Z]{2}-\w+", case["id"]) for case in CASES)
