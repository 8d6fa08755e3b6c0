"""What a torque, an angle or a stretch is likely to clamp, with its scatter, against the proof load.

Advice that changes no figure.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.units import Number, convert
from benchvoice.tighten.lubricant import Condition
from benchvoice.tighten.preload import PreloadError, preload_from
from benchvoice.tighten.strength import Strength, proof_load
from benchvoice.tighten.stretch import STEEL, Section, load_from, stiffness
from benchvoice.tighten.threads import Thread, area_of
from benchvoice.tighten.turns import load_after


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
    """A likely clamp load (N), least and greatest by its scatter, and the proof load; `sentence` says it.

    Where the bolt is reckoned past its yield, the load is the one that it yields at: it bears little more.
    """

    likely: Fraction
    least: Fraction
    greatest: Fraction
    proof: Fraction
    sentence: str
    past_yield: bool = False

    @property
    def past_proof(self) -> bool:
        """Whether the greatest goes past the proof load."""
        return self.greatest > self.proof


def clamp_advice(
    likely: Number,
    method: Method,
    thread: Thread,
    strength: Strength,
    upmost: Number | None = None,
    *,
    elastic: bool = False,
) -> ClampAdvice:
    """Say what a likely clamp load amounts to for a bolt, with the scatter of the way it is tightened.

    `upmost` is the other end where the load is anywhere between two. `elastic` loads are of Hooke's law: at most what
    the bolt yields at.
    """
    if likely <= 0:
        raise PreloadError("a clamp load is more than nothing; correct the figure that it comes from")
    scatter, area = Fraction(SCATTER[method]), area_of(thread)
    ends = (Fraction(likely), Fraction(likely if upmost is None else upmost))
    at_yield = area * strength.yields.in_unit("MPa")
    past_yield = elastic and sum(ends) / 2 > at_yield
    low, high = (min(end, at_yield) for end in ends) if elastic else ends
    least, greatest = low * (1 - scatter), high * (1 + scatter)
    proof = proof_load(area, strength)
    shares = 5 * floor(20 * least / proof), 5 * ceil(20 * greatest / proof)
    about = " to ".join(dict.fromkeys((_spoken_load(low), _spoken_load(high))))
    yields = ", where it yields" if past_yield else ""
    sentence = (
        f"About {about}{yields}, {_IN_WORDS[method]} either way: {shares[0]} to {shares[1]} percent of proof load"
    )
    sentence += ", which may be past it." if greatest > proof else "."
    return ClampAdvice(
        likely=(low + high) / 2,
        least=least,
        greatest=greatest,
        proof=proof,
        sentence=sentence,
        past_yield=past_yield,
    )


def torque_advice(torque: Number, unit: str, condition: Condition, thread: Thread, strength: Strength) -> ClampAdvice:
    """Say what a torque is likely to clamp in a condition of the thread, by its usual nut factor."""
    return clamp_advice(snug_load(torque, unit, condition, thread), method_of(condition), thread, strength)


def stretch_advice(
    least: Number, greatest: Number, bolt: Sequence[Section], thread: Thread, strength: Strength
) -> ClampAdvice:
    """Say what a steel bolt clamps that is longer by so many mm than free, or by anything between two lengths."""
    low, high = (load_from(longer, bolt, STEEL) for longer in (least, greatest))
    return clamp_advice(low, Method.STRETCH, thread, strength, high, elastic=True)


def angle_advice(
    degrees: Number,
    snug: Number,
    bolt: Sequence[Section],
    thread: Thread,
    strength: Strength,
    joint: Number | None = None,
) -> ClampAdvice:
    """Say what an angle from a snug load (N) clamps with a steel bolt.

    `joint` is how stiff what is clamped is, N/mm; without it, it is taken not to give, and the load is the most there
    can be.
    """
    likely = load_after(degrees, thread.pitch, stiffness(bolt, STEEL), joint, snug)
    return clamp_advice(likely, Method.ANGLE, thread, strength, elastic=True)


def snug_load(torque: Number, unit: str, condition: Condition, thread: Thread) -> Fraction:
    """What a torque is likely to clamp, N, by the usual nut factor of a condition of the thread."""
    return preload_from(convert(torque, unit, "N_m"), condition.nut_factor, thread.diameter)


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
