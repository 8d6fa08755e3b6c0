"""Stages: where each may be taken up again, and which lists of them can follow each other."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.limits import Limits
from benchvoice.quantity.values import parse_quantity as q
from benchvoice.tighten.stages import (
    AngleStage,
    DragStage,
    HandStage,
    Restart,
    Stage,
    StageError,
    StretchStage,
    TorqueStage,
    TurnsStage,
    rising,
    snug_torque,
    stage_faults,
    total_angle,
)


def torque(text: str, back: str = "0") -> TorqueStage:
    return TorqueStage(torque=q(f"{text} N_m"), back_first=Decimal(back))


def angle(text: str) -> AngleStage:
    return AngleStage(angle=q(f"{text} deg"))


def limits(low: str | None, high: str | None, unit: str) -> Limits:
    return Limits(low=Decimal(low) if low else None, high=Decimal(high) if high else None, unit=unit)


def drag(**torques: str) -> DragStage:
    return DragStage(drag=limits("0.8", "1.2", "N_m"), **{name: q(text) for name, text in torques.items()})


STRETCH = StretchStage(stretch=limits("5.4", "6.0", "thou"))
DRAG = DragStage(drag=limits("0.80", "1.20", "N_m"), start=q("60 N_m"), step=q("30 N_m"), most=q("180 N_m"))


def test_only_torque_and_hand_are_safe_to_go_over_again() -> None:
    assert torque("25").restart is Restart.FROM_ONE
    assert HandStage().restart is Restart.FROM_ONE
    assert angle("90").restart is Restart.KNOWN_POSITIONS
    assert TurnsStage(turns=Decimal("-0.25")).restart is Restart.KNOWN_POSITIONS
    assert STRETCH.restart is Restart.MEASURE
    assert DRAG.restart is Restart.ONWARDS


@pytest.mark.parametrize(
    "stages",
    [
        [torque("25"), torque("60"), angle("90")],
        [torque("25"), torque("45"), torque("65"), torque("65", back="0.25")],
        [torque("25"), torque("65"), TurnsStage(turns=Decimal("-0.25")), torque("65")],
        [torque("15"), torque("25"), STRETCH],
        [HandStage(), torque("3")],
        [torque("5"), torque("9")],
        [DRAG],
        [torque("25"), angle("90"), angle("90")],
        [torque("25"), angle("90"), TurnsStage(turns=Decimal("-1")), torque("20"), angle("60")],
        [HandStage(), TurnsStage(turns=Decimal("0.5"))],
        [TurnsStage(turns=Decimal("0.5"))],
        [torque("25"), TurnsStage(turns=Decimal("-1")), torque("20"), torque("30"), torque("40")],
        [torque("65"), torque("60", back="0.25"), torque("70"), torque("80"), torque("90")],
        [torque("65"), torque("60", back="0.25"), angle("30")],
        [torque("25"), TurnsStage(turns=Decimal("-1")), HandStage()],
        [STRETCH, StretchStage(stretch=limits("6.0", "6.5", "thou"))],
        [torque("25"), angle("30"), STRETCH],
        [torque("25"), STRETCH, TurnsStage(turns=Decimal("-1")), torque("25"), STRETCH],
        [torque("60"), DRAG],
        [DRAG, DragStage(drag=limits("0.81", "1.20", "N_m"))],
        [torque("200"), DragStage(drag=limits("0.8", "1.2", "N_m"))],
    ],
)
def test_lists_that_follow(stages: list[Stage]) -> None:
    assert stage_faults(stages) == ()


@pytest.mark.parametrize(
    ("stages", "said"),
    [
        ([], "there are no stages; give at least one"),
        ([torque("60"), TurnsStage(turns=Decimal("0.5")), torque("25")], "stage 3 is 25 N_m after 60 N_m"),
        (
            [torque("60"), TurnsStage(turns=Decimal("0.5")), torque("70"), torque("65")],
            "stage 4 is 65 N_m after 70 N_m",
        ),
        ([torque("60"), torque("25")], "stage 2 is 25 N_m after 60 N_m; torques rise from stage to stage"),
        ([torque("60"), torque("60")], "stage 2 is 60 N_m after 60 N_m; torques rise from stage to stage"),
        ([torque("65"), torque("65", "0.25"), torque("60")], "stage 3 is 60 N_m after 65 N_m"),
        ([angle("90")], "stage 1 is an angle with no torque before it"),
        ([torque("25"), TurnsStage(turns=Decimal("-1")), angle("90")], "stage 3 is an angle with no torque before it"),
        ([torque("25"), angle("90"), torque("60")], "stage 3 is a torque after an angle"),
        ([TurnsStage(turns=Decimal("-0.25"))], "stage 1 turns back what was never tightened"),
        ([torque("65", "0.25")], "stage 1 turns back what was never tightened"),
        ([torque("25"), HandStage()], "stage 2 is by hand after a tighter one"),
        ([TorqueStage(torque=q("30 ft_lb")), torque("40")], "stage 2 is 40 N_m after 30 ft_lb"),
        ([STRETCH, torque("25")], "stage 2 comes after a stretch, which already settles it; take one out"),
        ([STRETCH, angle("25")], "stage 2 comes after a stretch"),
        ([STRETCH, TurnsStage(turns=Decimal("0.5"))], "stage 2 comes after a stretch"),
        ([STRETCH, HandStage()], "stage 2 is by hand after a tighter one"),
        ([STRETCH, DRAG], "stage 2 comes after a stretch"),
        ([STRETCH, STRETCH], "stage 2 asks no more than the stretch before it; stretches rise from stage to stage"),
        (
            [STRETCH, StretchStage(stretch=limits("0.13", "0.20", "mm"))],  # 5.4 thou are 0.13716 mm
            "stage 2 asks no more than the stretch before it",
        ),
        ([DRAG, torque("90")], "stage 2 comes after a drag, which already settles it; take one out"),
        ([DRAG, STRETCH], "stage 2 comes after a drag"),
        ([DRAG, DRAG], "stage 2 asks no more than the drag before it; drags rise from stage to stage"),
        ([DRAG, TurnsStage(turns=Decimal("-0.25"))], "stage 2 turns back after a drag, and what was crushed"),
        ([DRAG, torque("90", "0.25")], "stage 2 turns back after a drag"),
        ([torque("61"), DRAG], "stage 2 draws up from 60 N_m after 61 N_m; start where the torque ends, or above"),
    ],
)
def test_lists_that_don_t(stages: list[Stage], said: str) -> None:
    (fault,) = stage_faults(stages)
    assert fault.startswith(said)


def test_every_fault_is_named() -> None:
    assert len(stage_faults([angle("90"), torque("60"), torque("25")])) == 3


@pytest.mark.parametrize(
    ("final", "shares", "stages"),
    [  # published: ASME PCC-1 legacy (recalled)
        ("65", ["0.3", "0.7", "1"], ["19.5", "45.5", "65"]),
        ("80", ["0.3", "0.6", "1"], ["24", "48", "80"]),
        ("48", ["0.5", "0.75", "1"], ["24", "36", "48"]),
        ("120", ["0.3", "0.7", "1"], ["36", "84", "120"]),
        ("90", ["0.25", "0.5", "0.75", "1"], ["22.5", "45", "67.5", "90"]),
        ("90", ["1"], ["90"]),
    ],
)
def test_shares_of_a_final_torque(final: str, shares: list[str], stages: list[str]) -> None:
    assert rising(Decimal(final), [Decimal(s) for s in shares]) == tuple(map(Fraction, stages))


@pytest.mark.parametrize(
    "shares", [[], ["0", "1"], ["0.5", "0.5", "1"], ["0.7", "0.3", "1"], ["0.3", "0.9"], ["0.5", "1", "1"]]
)
def test_shares_that_don_t_rise(shares: list[str]) -> None:
    with pytest.raises(StageError, match="rise from above nothing and end at one"):
        rising(65, [Decimal(s) for s in shares])


@given(st.lists(st.integers(1, 500), min_size=1, max_size=6, unique=True))
def test_torques_that_rise_have_no_fault_and_others_do(values: list[int]) -> None:
    stages = [torque(str(v)) for v in values]
    assert (stage_faults(stages) == ()) == (values == sorted(values))


def test_angles_add_up_from_the_snug_torque() -> None:
    stages = [torque("25"), torque("30"), angle("90"), AngleStage(angle=q("0.25 turn"))]
    assert total_angle(stages) == 180
    assert snug_torque(stages) == q("30 N_m")
    assert snug_torque([torque("25"), torque("60")]) is None
    assert snug_torque([angle("60"), torque("25")]) is None
    assert total_angle([]) == 0


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: TorqueStage(torque=q("25 mm")), "mm is a unit of length; this stage needs a unit of torque"),
        (lambda: TorqueStage(torque=q("0 N_m")), "can't be tightened to 0 N_m"),
        (lambda: torque("25", "-0.25"), "turns on"),
        (lambda: AngleStage(angle=q("90 N_m")), "needs a unit of angle"),
        (lambda: AngleStage(angle=q("-90 deg")), "to turn back, use a stage by turns"),
        (lambda: AngleStage(angle=q("0 deg")), "can't turn by 0 deg"),
        (lambda: AngleStage(angle=q("90 deg"), most=q("80 deg")), "the most can't be less"),
        (lambda: AngleStage(angle=q("90 deg"), most=q("80 mm")), "needs a unit of angle"),
        (lambda: StretchStage(stretch=limits("5", "6", "N_m")), "needs a unit of length"),
        (lambda: StretchStage(stretch=limits("-1", "6", "thou")), "a stretch is more than nothing"),
        (lambda: StretchStage(stretch=limits(None, "0.0", "thou")), "a stretch is more than nothing"),
        (lambda: DragStage(drag=limits("0.8", "1.2", "mm")), "needs a unit of torque"),
        (lambda: DragStage(drag=limits("0.0", "1.2", "N_m")), "a drag is more than nothing"),
        (lambda: DragStage(drag=limits("0.8", "1.2", "N_m"), most=q("0 N_m")), "drawn up to 0 N_m"),
        (lambda: DragStage(drag=limits("0.8", "1.2", "N_m"), most=q("1 mm")), "needs a unit of torque"),
        (lambda: StretchStage(stretch=limits(None, "6", "thou")), "a stretch with no least is done before it begins"),
        (
            lambda: StretchStage(stretch=limits("6", "6.0", "thou")),
            "the least stretch and the greatest are both 6; give",
        ),
        (lambda: DragStage(drag=limits(None, "1.2", "N_m")), "a drag with no least is done before it begins"),
        (lambda: drag(start="0 N_m"), "the nut can't begin at 0 N_m; give a torque above nothing"),
        (lambda: drag(start="1 mm"), "needs a unit of torque"),
        (lambda: drag(step="-10 N_m"), "the nut can't rise by -10 N_m"),
        (lambda: drag(start="140 ft_lb", most="180 N_m"), "it starts at 140 ft_lb and the most is 180 N_m"),
        (lambda: TurnsStage(turns=Decimal(0)), "no turns does nothing"),
    ],
)
def test_stages_that_can_t_be(make: object, said: str) -> None:
    with pytest.raises(StageError, match=said):
        make()  # type: ignore[operator]


def test_the_most_may_equal_the_angle_and_a_drag_needs_no_most() -> None:
    assert AngleStage(angle=q("90 deg"), most=q("0.25 turn")).most == q("0.25 turn")
    assert DragStage(drag=limits("0.8", None, "N_m")).most is None
    assert DragStage(drag=limits("0.8", None, "N_m"), most=q("0.5 N_m")).most == q("0.5 N_m")
    assert StretchStage(stretch=limits("5.4", None, "thou")).stretch.high is None
