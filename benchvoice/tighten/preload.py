"""What a torque makes of a bolt: preload by nut factor, by friction, and at a share of yield.

Torque in N·m, preload in N, lengths in mm, stresses in MPa. The friction of thread and head is always given, never
guessed here: nine tenths of a torque go into it, so it decides what is left to clamp.
"""

from dataclasses import dataclass
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, sqrt
from benchvoice.quantity.units import Number
from benchvoice.tighten.threads import Thread, circle

_MM_PER_M = 1000


class PreloadError(InputError):
    """A nut factor, friction or size that no joint has."""


def torque_for(preload: Number, nut_factor: Number, diameter: Number) -> Fraction:
    """T = K D F. Source: handbook formula; K given, never guessed."""
    _above_nothing(nut_factor, diameter)
    return Fraction(nut_factor) * Fraction(diameter) * Fraction(preload) / _MM_PER_M


def preload_from(torque: Number, nut_factor: Number, diameter: Number) -> Fraction:
    """F = T / (K D), the torque formula turned round."""
    _above_nothing(nut_factor, diameter)
    return Fraction(torque) * _MM_PER_M / (Fraction(nut_factor) * Fraction(diameter))


def _above_nothing(nut_factor: Number, diameter: Number) -> None:
    if nut_factor <= 0 or diameter <= 0:
        raise PreloadError("a nut factor and a diameter are more than nothing; correct them")


@dataclass(frozen=True, slots=True, kw_only=True)
class Friction:
    """Friction under the thread and under the head or nut, and the ring on which it bears (mm)."""

    thread: Number
    head: Number
    outer: Number
    inner: Number

    def __post_init__(self) -> None:
        if self.thread < 0 or self.head < 0:
            raise PreloadError("a coefficient of friction is not less than nothing; correct it")
        if not 0 < self.inner < self.outer:
            raise PreloadError("a head bears on a ring: give the hole's diameter, then the larger outer one")

    @property
    def bearing(self) -> Fraction:
        """Mean diameter of the ring."""
        return (Fraction(self.outer) + Fraction(self.inner)) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueParts:
    """A torque by where it goes: into stretching the bolt, into the thread's friction, into the head's."""

    stretching: Fraction
    in_thread: Fraction
    under_head: Fraction

    @property
    def total(self) -> Fraction:
        return self.stretching + self.in_thread + self.under_head

    @property
    def stretching_share(self) -> Fraction:
        """The share of the torque that clamps."""
        return self.stretching / self.total


def torque_iso_16047(preload: Number, thread: Thread, friction: Friction) -> TorqueParts:
    """T = F [ P/(2 pi) + 0.577 d2 mu_thread + Db mu_head / 2 ]. Source: ISO 16047:2005 (recalled)."""
    return _torque(Fraction(preload), thread, friction, 1 / (2 * PI), Fraction("0.577"))


def torque_vdi_2230(preload: Number, thread: Thread, friction: Friction) -> TorqueParts:
    """T = F [ 0.16 P + 0.58 d2 mu_thread + Db mu_head / 2 ]. Source: VDI 2230-1:2003 (recalled)."""
    return _torque(Fraction(preload), thread, friction, Fraction("0.16"), Fraction("0.58"))


def _torque(
    preload: Fraction, thread: Thread, friction: Friction, per_pitch: Fraction, per_diameter: Fraction
) -> TorqueParts:
    load = preload / _MM_PER_M
    return TorqueParts(
        stretching=load * per_pitch * thread.pitch,
        in_thread=load * per_diameter * thread.pitch_diameter * Fraction(friction.thread),
        under_head=load * friction.bearing * Fraction(friction.head) / 2,
    )


def preload_by_friction(torque: Number, thread: Thread, friction: Friction) -> Fraction:
    """The preload that a torque makes, by ISO 16047."""
    return Fraction(torque) / torque_iso_16047(1, thread, friction).total


def nut_factor(thread: Thread, friction: Friction) -> Fraction:
    """K = T/(F d), by ISO 16047."""
    return torque_iso_16047(1, thread, friction).total * _MM_PER_M / thread.diameter


def preload_at_yield(yields: Number, thread: Thread, friction: Number, share: Number = Fraction(9, 10)) -> Fraction:
    """The assembly preload at which pull and twist together reach a share of the yield stress, N.

    F = share x Rp0.2 x A0 / sqrt(1 + 3 [ 3/2 d2/d0 (P/(pi d2) + 1.155 mu) ]^2). Source: VDI 2230-1:2003 (recalled).
    """
    if yields <= 0 or friction < 0 or share <= 0:
        raise PreloadError("a yield stress, a friction and a share are not less than nothing; correct them")
    stress_diameter, pitch_diameter = thread.stress_diameter, thread.pitch_diameter
    lead = thread.pitch / (PI * pitch_diameter) + Fraction("1.155") * Fraction(friction)
    twist = Fraction(3, 2) * pitch_diameter / stress_diameter * lead
    return Fraction(share) * Fraction(yields) * circle(stress_diameter) / sqrt(1 + 3 * twist**2)
