"""What a torque is likely to clamp, said with its scatter, against the proof load: advice that changes no figure."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.units import Number, convert
from benchvoice.tighten.lubricant import Condition
from benchvoice.tighten.preload import preload_from
from benchvoice.tighten.strength import Strength, proof_load
from benchvoice.tighten.threads import Thread, printed_stress_area

_MM2_PER_IN2 = Fraction("645.16")


class Method(StrEnum):
    """How a fastener is tightened, as far as the scatter of its clamp load goes."""

    FEEL = "feel"
    TORQUE_DRY = "torque, dry"
    TORQUE_LUBRICATED = "torque, lubricated"
    ANGLE = "angle"
    STRETCH = "stretch"


SCATTER: Mapping[Method, Decimal] = MappingProxyType(
    {
        Method.FEEL: Decimal("0.35"),
        Method.TORQUE_DRY: Decimal("0.35"),
        Method.TORQUE_LUBRICATED: Decimal("0.25"),
        Method.ANGLE: Decimal("0.15"),
        Method.STRETCH: Decimal("0.05"),
    }
)
"""Preload either way as a share. Source: NASA RP-1228, fastener design manual, table of preload methods (recalled)."""

_IN_WORDS: Mapping[Method, str] = MappingProxyType(
    {
        Method.FEEL: "a third",
        Method.TORQUE_DRY: "a third",
        Method.TORQUE_LUBRICATED: "a quarter",
        Method.ANGLE: "15 percent",
        Method.STRETCH: "5 percent",
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClampAdvice:
    """A likely clamp load (N), least and greatest by its scatter, and the proof load; `sentence` says it."""

    likely: Fraction
    least: Fraction
    greatest: Fraction
    proof: Fraction
    sentence: str

    @property
    def past_proof(self) -> bool:
        """Whether the greatest goes past the proof load."""
        return self.greatest > self.proof


def area_of(thread: Thread) -> Fraction:
    """The printed stress area in mm², whatever the thread."""
    return printed_stress_area(thread) * (_MM2_PER_IN2 if thread.inch else 1)


def clamp_advice(likely: Number, method: Method, thread: Thread, strength: Strength) -> ClampAdvice:
    """Say what a likely clamp load amounts to for a bolt, with the scatter of the way it is tightened."""
    middle, scatter = Fraction(likely), Fraction(SCATTER[method])
    least, greatest = middle * (1 - scatter), middle * (1 + scatter)
    proof = proof_load(area_of(thread), strength)
    low, high = 5 * floor(20 * least / proof), 5 * ceil(20 * greatest / proof)
    sentence = f"About {_spoken_load(middle)}, {_IN_WORDS[method]} either way: {low} to {high} percent of proof load"
    sentence += ", which may be past it." if greatest > proof else "."
    return ClampAdvice(likely=middle, least=least, greatest=greatest, proof=proof, sentence=sentence)


def torque_advice(torque: Number, unit: str, condition: Condition, thread: Thread, strength: Strength) -> ClampAdvice:
    """Say what a torque is likely to clamp in a condition of the thread, by its usual nut factor."""
    method = method_of(condition)
    likely = preload_from(convert(torque, unit, "N_m"), condition.nut_factor, thread.diameter)
    return clamp_advice(likely, method, thread, strength)


def method_of(condition: Condition) -> Method:
    """How far a torque's clamp load scatters on a thread in this condition."""
    return Method.TORQUE_DRY if condition.name in ("dry", "plated") else Method.TORQUE_LUBRICATED


def _spoken_load(load: Fraction) -> str:
    """A load to two figures, in kilonewtons from one upwards."""
    rounded = int(round_digits(load, 2))
    if rounded < 1000:
        return f"{rounded} newtons"
    whole, tenth = divmod(rounded, 1000)
    return f"{whole}.{tenth // 100} kilonewtons" if whole < 10 and tenth else f"{whole} kilonewtons"


def reuse_advice(*, into_yield: bool, used_before: bool) -> str | None:
    """Whether a bolt may be used again, in words; None where there is nothing to say (common practice, no source)."""
    if not (into_yield and used_before):
        return None
    return "only if the maker allows it and the length is inside his limit"
