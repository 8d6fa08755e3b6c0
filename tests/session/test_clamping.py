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
    file = tmp_path / "clamp.yaml"
    file.write_text(HEAD.replace("SIZE", size).replace("STAGES", stages), encoding="utf-8")
    bench = Bench(file)
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
        ("size: M8 x 1.25, class: 8.8", "thread: dry, stages: [{turns: 1}]", "Only a torque tells a clamp load"),
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
