"""Differences between versions, in plain words, and whose readings they concern."""

from benchvoice.procedure.difference import difference
from benchvoice.procedure.load import load_text

OLD = """\
schema: 1
title: Bracket
work: metric
particulars:
  size: {ask: Which size?, choices: [standard, thirty over]}
instruments:
  caliper: {kind: caliper, unit: mm, resolution: 0.01}
groups:
  lid: {what: lid bolts, positions: [one, two, three, four]}
steps:
  - {step: size, choose: {ask: size}}
  - {step: wipe, tell: Wipe it.}
  - step: gap
    measure: {what: gap, unit: mm, instrument: caliper, limits: [1.0, 2.0]}
  - step: bore
    measure: {what: bore, unit: mm, limits: {by: size, standard: [1.0, 2.0], thirty over: {new: [1, 2], worn: [1, 3]}}}
  - step: lid
    tighten: {group: lid, stages: [{torque: 9 N_m}]}
"""


def changed(*edits: tuple[str, str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    new = OLD
    for before, after in edits:
        assert before in new
        new = new.replace(before, after)
    found = difference(load_text(OLD, "old"), load_text(new, "new"))
    return found.changes, found.affected


def test_nothing_changed() -> None:
    assert str(difference(load_text(OLD, "old"), load_text(OLD, "new"))) == "nothing changed"


def test_limits_changed() -> None:
    assert changed(("caliper, limits: [1.0, 2.0]", "caliper, limits: [1.0, 1.8]")) == (
        ("step gap: limits was 1.0 to 2.0, now 1.0 to 1.8",),
        ("gap",),
    )


def test_decision_rules_changed() -> None:
    plain = "caliper, limits: [1.0, 2.0]"
    assert changed((plain, plain + ", rule: guarded acceptance, uncertainty: 0.1")) == (
        ("step gap: rule added, guarded acceptance, guard band 1 U", "step gap: uncertainty added, 0.1"),
        ("gap",),
    )
    assert changed((plain, plain + ", rule: {guard_band: 0.2}"))[0] == (
        "step gap: rule added, guarded acceptance, guard band 0.2 in the unit of the limits",
    )


def test_limits_by_a_table_changed() -> None:
    assert changed(("standard: [1.0, 2.0]", "standard: [null, 2.0]")) == (
        (
            "step bore: limits was standard 1.0 to 2.0, thirty over 1 to 2, thirty over worn 1 to 3 by size, "
            "now standard 2.0 at most, thirty over 1 to 2, thirty over worn 1 to 3 by size",
        ),
        ("bore",),
    )


def test_a_figure_of_more_decimals_is_a_change_that_judges_nothing_anew() -> None:
    assert changed(("limits: [1.0, 2.0]}\n  - step: bore", "limits: [1.00, 2.0]}\n  - step: bore")) == (
        ("step gap: limits was 1.0 to 2.0, now 1.00 to 2.0",),
        (),
    )


def test_a_finer_instrument_concerns_its_readings() -> None:
    assert changed(("resolution: 0.01", "resolution: 0.02")) == (
        ("instrument caliper: resolution was 0.01, now 0.02",),
        ("gap",),
    )


def test_steps_added_taken_out_and_moved() -> None:
    changes, affected = changed(
        ("  - {step: wipe, tell: Wipe it.}\n", ""),
        ("  - step: bore\n", "  - {step: blow, tell: Blow it out.}\n  - step: bore\n"),
    )
    assert changes == ("step wipe taken out", "step blow added after gap")
    assert affected == ()
    changes, _ = changed(
        ("  - {step: wipe, tell: Wipe it.}\n", ""),
        ("  - step: lid\n", "  - {step: wipe, tell: Wipe it.}\n  - step: lid\n"),
    )
    assert changes == ("the order of the steps changed: size, gap, bore, wipe, lid",)


def test_parts_added_and_taken_out() -> None:
    assert changed(("tell: Wipe it.", "tell: Wipe it dry., caution: Solvent., silent: yes"))[0] == (
        'step wipe: tell was "Wipe it.", now "Wipe it dry."',
        "step wipe: caution added, Solvent.",
        "step wipe: silent was no, now yes",
    )
    assert changed(("stages: [{torque: 9 N_m}]", "stages: [{torque: 8 N_m}, {torque: 10 N_m}]"))[0] == (
        "step lid: tighten, stages was torque 9 N_m, now torque 8 N_m, torque 10 N_m",
    )
    assert changed(("positions: [one, two, three, four]", "positions: [one, two, three]"))[0] == (
        "group lid: positions was one, two, three, four, now one, two, three",
    )
    assert changed((", resolution: 0.01}", "}"))[0] == ("instrument caliper: resolution taken out, it was 0.01",)


def test_heads_of_the_document() -> None:
    assert changed(
        ("title: Bracket", "title: Bracket, new"),
        ("instruments:", "options:\n  jets: {ask: Are jets fitted?}\ninstruments:"),
        ("ask: size", "ask: [size, jets]"),
    )[0] == (
        'title was Bracket, now "Bracket, new"',
        "option jets added",
        "step size: choose, ask was size, now size, jets",
    )


def test_a_step_of_another_kind_concerns_its_readings() -> None:
    changes, affected = changed(
        (
            "    measure: {what: gap, unit: mm, instrument: caliper, limits: [1.0, 2.0]}\n",
            "    tell: Look at the gap.\n",
        ),
        ("instruments:\n  caliper: {kind: caliper, unit: mm, resolution: 0.01}\n", ""),
    )
    assert affected == ("gap",)
    assert changes[0] == "instrument caliper taken out"
