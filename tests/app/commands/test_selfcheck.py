from pathlib import Path

import pytest

from tests.app.conftest import Command

SHOP = """schema: 1
instruments:
  dial_one: {kind: dial indicator, unit: mm, calibrated: 2001-02-03, due: {by: 2002-02-03}}
  dial_two: {kind: dial indicator, unit: mm, calibrated: 2001-02-03, due: {days: 30, uses: 900}}
  scales: {kind: bench scales, unit: g}
"""


def test_every_finding_is_printed(benchvoice: Command) -> None:
    done = benchvoice("selfcheck", "--procedure", "launch-valve-lash", "--json")
    assert (done.status, done.err) == (0, "")
    assert [each["what"] for each in done.answer] == [
        "versions",
        "model",
        "voice",
        "builds",
        "procedures",
        "microphone",
        "loudspeaker",
        "words of launch-valve-lash",
    ]


def test_what_is_needed_and_missing_is_status_1(benchvoice: Command) -> None:
    done = benchvoice("selfcheck", "--model", "no-such-model")
    assert done.status == 1
    assert done.err.startswith("model: There is no speech model named no-such-model")


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    file = tmp_path / "shop.yaml"
    file.write_text(SHOP, encoding="utf-8")
    return file


def test_overdue_calibrations_are_listed_and_stop_nothing(benchvoice: Command, shop: Path) -> None:
    done = benchvoice("selfcheck", "--instruments", shop)
    assert (done.status, done.err) == (0, "")
    assert f"ok   instruments: 3 in {shop}" in done.out
    assert (
        "note calibrations: Overdue: dial_one (calibration was due on 2002-02-03), dial_two (calibration was due on "
        "2001-03-05); a build takes these only for a reason that is said." in done.out
    )


def test_nothing_is_overdue(benchvoice: Command, shop: Path) -> None:
    shop.write_text(SHOP.replace("2002-02-03", "9002-02-03").replace("days: 30, ", ""), encoding="utf-8")
    assert "ok   calibrations: none is overdue" in benchvoice("selfcheck", "--instruments", shop).out


def test_the_register_of_the_data_folder_is_found(benchvoice: Command, tmp_path: Path) -> None:
    home = tmp_path / "data" / "benchvoice"
    home.mkdir(parents=True)
    (home / "instruments.yaml").write_text(SHOP, encoding="utf-8")
    found = {each["what"]: each for each in benchvoice("selfcheck", "--json").answer}
    assert found["instruments"]["told"] == f"3 in {home / 'instruments.yaml'}"
    assert (found["calibrations"]["fine"], found["calibrations"]["needed"]) == (False, False)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("dial_two", "dial_one"), ":4: instruments.dial_one: "),
        (
            ("  scales: {", "  scales: {says: [dial one], "),
            ":5: instruments.scales.says: dial_one is called dial one too",
        ),
        (("unit: g", "unit: gee"), "'gee' is not a unit"),
        (("schema: 1", "schema: 7"), ":1: schema: this is no register known here"),
    ],
)
def test_a_faulty_register_is_status_1(benchvoice: Command, shop: Path, change: tuple[str, str], told: str) -> None:
    shop.write_text(SHOP.replace(*change), encoding="utf-8")
    done = benchvoice("selfcheck", "--instruments", shop)
    assert done.status == 1
    assert done.err.startswith("instruments: ")
    assert told in done.err
    assert "calibrations" not in done.out


def test_no_such_register(benchvoice: Command, tmp_path: Path) -> None:
    done = benchvoice("selfcheck", "--instruments", tmp_path / "absent.yaml")
    assert done.status == 1
    assert "absent.yaml: no such file or directory; give the path of a register" in done.err
