"""How a joint is drawn together and taken apart: which order, in how many goes, and what is tried between.

Common practice, no source; the maker's procedure always comes first.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from benchvoice.tighten.orders import PATTERNS, order_of, slackening
from benchvoice.tighten.stages import StageError

_SLACKENING_RULE = "outside in, the reverse of tightening"
_LITTLE_BY_LITTLE = "a little at a time"
_TURN_THE_SHAFT = "turn the shaft by hand: it must turn freely"


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A joint's positions, the pattern that suits them, and whether it holds a shaft's bearing."""

    positions: tuple[str, ...]
    pattern: str
    holds_shaft: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """An order and its rule in words; how the stages go; what is tried between them (None: nothing)."""

    order: tuple[str, ...]
    rule: str
    stages: str | None = None
    between: str | None = None


def two_rows(columns: int, *, holds_shaft: bool = False) -> Joint:
    """A joint of two rows A and B, numbered from the left."""
    positions = tuple(f"{row}{column}" for row in "AB" for column in range(1, columns + 1))
    return Joint(positions=positions, pattern="centre pair first", holds_shaft=holds_shaft)


def ring(count: int, *, holds_shaft: bool = False) -> Joint:
    """A joint round a ring, numbered clockwise."""
    return Joint(positions=tuple(map(str, range(1, count + 1))), pattern="star", holds_shaft=holds_shaft)


def tightening(joint: Joint) -> Way:
    """How to tighten it. A shaft that binds after a stage stops the job, so it is turned after each."""
    between = _TURN_THE_SHAFT if joint.holds_shaft else None
    return Way(order=order_of(joint.pattern, joint.positions), rule=PATTERNS[joint.pattern].rule, between=between)


def loosening(joint: Joint) -> Way:
    """How to slacken it without bending what it holds."""
    order = slackening(order_of(joint.pattern, joint.positions))
    return Way(order=order, rule=_SLACKENING_RULE, stages=_LITTLE_BY_LITTLE)


_STAGE_NAMES: Sequence[str] = ("by hand", "first", "second", "third", "fourth", "fifth", "final")


def named_stages_rise(names: Sequence[str]) -> bool:
    """Whether stages named by hand, first, second … final come in that order, and end with the final one."""
    for name in names:
        if name not in _STAGE_NAMES:
            raise StageError(f"'{name}' names no stage; say one of {', '.join(_STAGE_NAMES)}")
    ranks = [_STAGE_NAMES.index(name) for name in names]
    return list(names[-1:]) == ["final"] and all(before < after for before, after in pairwise(ranks))
