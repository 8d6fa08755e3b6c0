"""The stages in which a group is tightened, and where each may be taken up again after an interruption.

One stage is one round over the group. What makes the kinds differ at the bench is what is lost when nobody knows how
far the round had come: a torque may be put on again, an angle can't be put on twice.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise

from benchvoice.errors import DocumentError
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.units import Number, convert, kind_of
from benchvoice.quantity.values import Quantity


class StageError(DocumentError):
    """A stage that can't be carried out, or a list of stages that can't follow each other."""


class Restart(StrEnum):
    """Where an interrupted stage is taken up again."""

    FROM_ONE = "from one"
    """The whole round again: a fastener that already has it clicks at once."""
    KNOWN_POSITIONS = "known positions only"
    """Go on with the positions known not to be done; one that is not known can't be turned again."""
    MEASURE = "measure"
    """Measure each fastener and go on from what it reads."""
    ONWARDS = "onwards only"
    """Measure and go on upwards; never slacken back: past the greatest drag the crushed part is scrap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueStage:
    """To a torque, with a wrench; `back_first` is how many turns each fastener is first turned back, one at a time.

    Safe to go over again from one.
    """

    torque: Quantity
    back_first: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        _expect(self.torque.unit, "torque")
        if self.torque.value <= 0:
            raise StageError(f"a stage can't be tightened to {self.torque}; give a torque above nothing")
        if self.back_first < 0:
            raise StageError(f"{self.back_first} turns back are turns on; give how far to turn back")

    @property
    def restart(self) -> Restart:
        return Restart.FROM_ONE


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleStage:
    """By an angle from where the last stage left the fastener. Past `most` it is scrap (None: not given)."""

    angle: Quantity
    most: Quantity | None = None

    def __post_init__(self) -> None:
        _expect(self.angle.unit, "angle")
        if self.angle.value <= 0:
            raise StageError(f"a stage can't turn by {self.angle}; to turn back, use a stage by turns")
        if self.most is not None:
            _expect(self.most.unit, "angle")
            if self.most.in_unit("turn") < self.angle.in_unit("turn"):
                raise StageError(f"the angle is {self.angle} and the most is {self.most}; the most can't be less")

    @property
    def restart(self) -> Restart:
        return Restart.KNOWN_POSITIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class StretchStage:
    """Until the bolt is longer than when free by so much. Under the least: nip up; over the greatest: scrap."""

    stretch: Limits

    def __post_init__(self) -> None:
        _expect(self.stretch.unit, "length")
        _wide(self.stretch, "stretch")

    @property
    def restart(self) -> Restart:
        return Restart.MEASURE


@dataclass(frozen=True, slots=True, kw_only=True)
class DragStage:
    """Until what is clamped drags so much when it is turned: from torque `start` by `step` more, never past `most`.

    For a nut that crushes a spacer: what is crushed doesn't come back.
    """

    drag: Limits
    start: Quantity | None = None
    step: Quantity | None = None
    most: Quantity | None = None

    def __post_init__(self) -> None:
        _expect(self.drag.unit, "torque")
        _wide(self.drag, "drag")
        for what, torque in (("begin at", self.start), ("rise by", self.step), ("be drawn up to", self.most)):
            if torque is not None:
                _expect(torque.unit, "torque")
                if torque.value <= 0:
                    raise StageError(f"the nut can't {what} {torque}; give a torque above nothing")
        if self.start is not None and self.most is not None and self.start.in_unit("N_m") > self.most.in_unit("N_m"):
            raise StageError(f"it starts at {self.start} and the most is {self.most}; the most can't be less")

    @property
    def restart(self) -> Restart:
        return Restart.ONWARDS


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnsStage:
    """By turns: on (positive) or back (negative)."""

    turns: Decimal

    def __post_init__(self) -> None:
        if self.turns == 0:
            raise StageError("a stage by no turns does nothing; give how far, negative to turn back")

    @property
    def restart(self) -> Restart:
        return Restart.KNOWN_POSITIONS


@dataclass(frozen=True, slots=True, kw_only=True)
class HandStage:
    """By hand, until it seats: no figure. Safe to go over again from one."""

    @property
    def restart(self) -> Restart:
        return Restart.FROM_ONE


Stage = TorqueStage | AngleStage | StretchStage | DragStage | TurnsStage | HandStage


def _expect(unit: str, kind: str) -> None:
    if kind_of(unit) != kind:
        raise StageError(f"{unit} is a unit of {kind_of(unit)}; this stage needs a unit of {kind}")


def _wide(limits: Limits, what: str) -> None:
    """A reading must be able to be under and in: limits above nothing, with a least, of some width."""
    if any(side is not None and side <= 0 for side in (limits.low, limits.high)):
        raise StageError(f"a {what} is more than nothing; correct the least and the greatest")
    if limits.low is None:
        raise StageError(f"a {what} with no least is done before it begins; give the least")
    if limits.low == limits.high:
        raise StageError(f"the least {what} and the greatest are both {limits.low}; give a band that can be met")


def stage_faults(stages: Sequence[Stage]) -> tuple[str, ...]:
    """Why stages can't follow each other, one sentence each, empty when they can.

    Torques rise, unless the fastener was turned back between. An angle needs a torque before it to start from. A
    torque after an angle can't say anything: it stops short of the angle or goes past it. A stretch and a drag settle
    the fastener for good: after one comes a greater one or nothing, and a drag is never turned back. By hand comes
    first.
    """
    if not stages:
        return ("there are no stages; give at least one",)
    faults = (_fault(stages[:i], stage) for i, stage in enumerate(stages))
    return tuple(f"stage {number} {fault}" for number, fault in enumerate(faults, start=1) if fault)


def _fault(before: Sequence[Stage], stage: Stage) -> str | None:
    """What is wrong with a stage after those before it; None when nothing is."""
    since = _since_turned_back(before)
    torques = [s.torque for s in since if isinstance(s, TorqueStage)]
    if _turns_back(stage):
        if any(isinstance(s, DragStage) for s in before):
            return "turns back after a drag, and what was crushed doesn't come back; take it out"
        return None if before else "turns back what was never tightened; put a stage before it"
    if isinstance(stage, HandStage):
        tighter = any(not isinstance(s, HandStage) for s in since)
        return "is by hand after a tighter one; by hand comes first" if tighter else None
    settled = next((s for s in reversed(since) if isinstance(s, StretchStage | DragStage)), None)
    if settled is not None:
        return _after_settled(settled, stage)
    if isinstance(stage, TorqueStage):
        if any(isinstance(s, AngleStage) for s in since):
            return "is a torque after an angle, which already settles it; take one out"
        if torques and stage.torque.in_unit("N_m") <= torques[-1].in_unit("N_m"):
            return f"is {stage.torque} after {torques[-1]}; torques rise from stage to stage"
    elif isinstance(stage, AngleStage) and not torques:
        return "is an angle with no torque before it to start from; put a torque first"
    elif isinstance(stage, DragStage) and torques and _starts_below(stage, torques[-1]):
        return f"draws up from {stage.start} after {torques[-1]}; start where the torque ends, or above"
    return None


def _starts_below(stage: DragStage, torque: Quantity) -> bool:
    return stage.start is not None and stage.start.in_unit("N_m") < torque.in_unit("N_m")


def _turns_back(stage: Stage) -> bool:
    if isinstance(stage, TurnsStage):
        return stage.turns < 0
    return isinstance(stage, TorqueStage) and stage.back_first > 0


def _after_settled(settled: StretchStage | DragStage, stage: Stage) -> str | None:
    """What is wrong with a stage after a stretch or a drag."""
    if isinstance(settled, StretchStage) and isinstance(stage, StretchStage):
        rises = _least(stage.stretch, "mm") > _least(settled.stretch, "mm")
        return None if rises else "asks no more than the stretch before it; stretches rise from stage to stage"
    if isinstance(settled, DragStage) and isinstance(stage, DragStage):
        rises = _least(stage.drag, "N_m") > _least(settled.drag, "N_m")
        return None if rises else "asks no more than the drag before it; drags rise from stage to stage"
    what = "a stretch" if isinstance(settled, StretchStage) else "a drag"
    return f"comes after {what}, which already settles it; take one out"


def _least(limits: Limits, unit: str) -> Fraction:
    return convert(limits.low or 0, limits.unit, unit)


def _since_turned_back(stages: Sequence[Stage]) -> Sequence[Stage]:
    """The stages that still hold: those after the last turn back (a torque that turned back first holds itself)."""
    for i in range(len(stages) - 1, -1, -1):
        stage = stages[i]
        if _turns_back(stage):
            return stages[i:] if isinstance(stage, TorqueStage) else stages[i + 1 :]
    return stages


def rising(final: Number, shares: Sequence[Number]) -> tuple[Fraction, ...]:
    """Torque stages as shares of a final torque; StageError unless the shares rise from above nothing to one.

    Source: ASME PCC-1 legacy (about 30 %, 70 %, 100 %, then once more round at the final value); recalled.
    """
    exact = [Fraction(share) for share in shares]
    if not exact or exact[0] <= 0 or exact[-1] != 1 or any(after <= before for before, after in pairwise(exact)):
        raise StageError("the shares of a final torque rise from above nothing and end at one; correct the list")
    return tuple(Fraction(final) * share for share in exact)


def total_angle(stages: Sequence[Stage]) -> Fraction:
    """The angle that the angle stages add up to, in degrees."""
    return sum((s.angle.in_unit("deg") for s in stages if isinstance(s, AngleStage)), Fraction(0))


def snug_torque(stages: Sequence[Stage]) -> Quantity | None:
    """The torque that the angle starts from: the last one before the first angle; None if there is none."""
    found: Quantity | None = None
    for stage in stages:
        if isinstance(stage, AngleStage):
            return found
        if isinstance(stage, TorqueStage):
            found = stage.torque
    return None
