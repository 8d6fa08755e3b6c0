"""What a torque is likely to clamp, said with its scatter against ISO 898-1 and SAE J429 proof loads."""

from pathlib import Path

import pytest

from benchvoice.testing.bench import Bench

HEAD = """schema: 1
title: Clamp
work: metric
groups:
  bolts: {what: bolts, positions: [one, two], SIZE}
steps:
  - step: bolts
    tighten: {group: bolts, STAGES}
"""


def asked(tmp_path: Path, size: str, stages: str) -> str:
    bench = Bench(_document(tmp_path, size, stages))
    bench.say("ann")
    return " ".join(bench.say("what's the clamp load"))


# F = T / (K d): 25 N m, K 0.16, 8 mm: 19.5 kN, a quarter either way 14.6 to 24.4; proof load of M8 8.8 is 21 228 N
# (580 MPa x 36.6 mm2, ISO 898-1 prints 21 200): 69 to 115.02 per cent, in steps of five outwards.
def test_metric_bolt_past_its_proof_load(tmp_path: Path) -> None:
    said = asked(tmp_path, "size: M8 x 1.25, class: 8.8", "thread: oiled, stages: [{torque: 25 N_m}]")
    assert said == (
        "At twenty five newton metres, oiled, about twenty kilonewtons, a quarter either way: "
        "sixty five to one hundred and twenty per cent of proof load. That may be past it. "
        "Reckoned, not a figure to set by."
    )


# 3/8-16 grade 5: 0.0775 in2 x 85 000 psi = 6588 lbf; 20 ft lb dry: 3200 lbf, a third either way.
def test_inch_bolt(tmp_path: Path) -> None:
    said = asked(tmp_path, "size: 3/8-16, class: 5", "thread: dry, stages: [{torque: 20 ft_lb}]")
    assert said.startswith("At twenty foot pounds, dry, about fourteen kilonewtons, a third either way: thirty to ")
    assert "past" not in said


@pytest.mark.parametrize(
    ("size", "stages", "wanted"),
    [
        ("size: M8 x 1.25", "thread: dry, stages: [{torque: 25 N_m}]", "The size and the class of the bolts aren't"),
        ("size: M8 x 1.25, class: 8.8", "stages: [{torque: 25 N_m}]", "The condition of the thread isn't declared"),
        ("size: big, class: 8.8", "thread: dry, stages: [{torque: 25 N_m}]", "'big'"),
        ("size: M8 x 1.25, class: 8.8", "thread: dry, stages: [{hand: tight}]", "Only a torque, an angle or a stretch"),
    ],
)
def test_what_is_not_declared_is_not_guessed(tmp_path: Path, size: str, stages: str, wanted: str) -> None:
    assert asked(tmp_path, size, stages).startswith(wanted)


# What was said to be on the threads counts, not what the figure is for: with moly grease, K 0.12, 25 N m clamp 26 kN.
def test_what_is_on_the_threads_counts(tmp_path: Path) -> None:
    stages = "thread: oiled, ask_thread: yes, stages: [{torque: 25 N_m}]"
    file = tmp_path / "clamp.yaml"
    head = HEAD.replace("SIZE", "size: M8 x 1.25, class: 8.8").replace("STAGES", stages)
    file.write_text(head, encoding="utf-8")
    bench = Bench(file)
    bench.say("ann", "moly grease")
    said = " ".join(bench.say("what's the clamp load"))
    assert said.startswith("At twenty five newton metres, moly grease, about twenty six kilonewtons")
    bench.say("change it", "i don't know")
    said = " ".join(bench.say("what's the clamp load"))
    assert said == "The condition of the thread isn't known for the bolts."


def test_it_never_says_that_it_is_safe(tmp_path: Path) -> None:
    said = asked(tmp_path, "size: M8 x 1.25, class: 8.8", "thread: oiled, stages: [{torque: 15 N_m}]")
    assert not any(word in said.lower() for word in ("safe", "fine", "ok", "allowed", "may go"))


GRIP = "size: M12 x 1.75, class: 10.9, grip: {length: 60 mm, shank: 30 mm}"


# k = 205 000 / (30 / 84.3 + 30 / 113.097) = 329 953 N/mm (ISO 898-1 prints 84.3 mm2); snug 60 N m / (0.16 x 12) =
# 31 250 N; 20 degrees of 1.75 mm pitch: + 32 087 = 63 337 N, fifteen per cent either way 53 837 to 72 838; proof load
# 69 969 N.
def test_an_angle_starts_from_the_torque_before_it(tmp_path: Path) -> None:
    said = _after_snug(tmp_path, GRIP, "thread: oiled, stages: [{torque: 60 N_m}, {angle: 20 deg, most: 30 deg}]")
    assert said.startswith("At sixty newton metres, oiled, and twenty degrees, if what it clamps doesn't give, ")
    assert "about sixty three kilonewtons, fifteen per cent either way: seventy five to one hundred and five" in said


def test_turns_are_an_angle_too(tmp_path: Path) -> None:
    """0.05 turn: 31 250 + 28 871 = 60 121 N."""
    said = _after_snug(tmp_path, GRIP, "thread: oiled, stages: [{torque: 60 N_m}, {turns: 0.05}]")
    assert "and eighteen degrees, if what it clamps doesn't give, about sixty kilonewtons" in said


def test_a_joint_that_gives_takes_some_of_it(tmp_path: Path) -> None:
    """1 / (1 / 329 953 + 1 / 800 000) = 233 600 N/mm: + 22 711 = 53 961 N."""
    grip = GRIP.replace("shank: 30 mm", "shank: 30 mm, joint: 800000 N_per_mm")
    said = _after_snug(tmp_path, grip, "thread: oiled, stages: [{torque: 60 N_m}, {angle: 20 deg, most: 30 deg}]")
    assert said.startswith("At sixty newton metres, oiled, and twenty degrees, about fifty four kilonewtons")


def test_past_its_yield_it_bears_no_more(tmp_path: Path) -> None:
    """84.3 mm2 x 900 MPa = 75 870 N, nominal yield of class 10.9."""
    said = _after_snug(tmp_path, GRIP, "thread: oiled, stages: [{torque: 60 N_m}, {angle: 90 deg, most: 100 deg}]")
    assert "about seventy six kilonewtons, where it yields, fifteen per cent either way: ninety to" in said
    assert said.endswith("That may be past it. Reckoned, not a figure to set by.")


# A shop's rule for M9 x 1.0 10.9 over 48 mm: 5.4 to 6.0 thou is 71 to 78 per cent of 830 MPa (scenario, E 205 GPa);
# five per cent more either way is 67 to 82.
def test_a_stretch_tells_by_its_limits_and_then_by_what_was_read(tmp_path: Path) -> None:
    size = "size: M9 x 1.0, class: 10.9, grip: {length: 48 mm}"
    file = _document(tmp_path, size, "thread: oiled, stages: [{stretch: [5.4, 6.0], unit: thou}]")
    bench = Bench(file)
    bench.say("ann")
    said = " ".join(bench.say("what clamp load is that"))
    assert said.startswith("Five point four to six thou longer, about thirty two kilonewtons, five per cent either way")
    assert "sixty five to eighty five per cent of proof load" in said
    bench.say("six point zero")
    assert " ".join(bench.say("what clamp load is that")).startswith("Six point zero thou longer, about thirty three")


@pytest.mark.parametrize(
    ("size", "stages", "wanted"),
    [
        (GRIP, "stages: [{stretch: [5.4, null], unit: thou}]", "A stretch that is open at one end"),
        (
            "size: M12 x 1.75, class: 10.9",
            "stages: [{stretch: [5, 6], unit: thou}]",
            "How much of the bolts stretches isn't declared",
        ),
        (GRIP, "stages: [{turns: 0.25}]", "No torque comes before this angle"),
    ],
)
def test_what_tells_no_load(tmp_path: Path, size: str, stages: str, wanted: str) -> None:
    assert asked(tmp_path, size, stages).startswith(wanted)


def _document(tmp_path: Path, size: str, stages: str) -> Path:
    file = tmp_path / "clamp.yaml"
    file.write_text(HEAD.replace("SIZE", size).replace("STAGES", stages), encoding="utf-8")
    return file


def _after_snug(tmp_path: Path, size: str, stages: str) -> str:
    """What is told once the first stage is done."""
    bench = Bench(_document(tmp_path, size, stages))
    bench.say("ann")
    bench.say("all two done")
    return " ".join(bench.say("what's the clamp load"))
