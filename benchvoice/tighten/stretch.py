"""How a bolt stretches: Hooke's law over sections in series. Any coherent units (N, mm, MPa; lbf, in, psi).

Elastic only: a bolt stretched past its yield bears less than this.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number
from benchvoice.tighten.threads import Thread, area_of, circle

STEEL = Fraction(205_000)
"""Young's modulus of bolt steel, MPa (common practice, no source)."""


class StretchError(InputError):
    """A bolt without length, area or stiffness."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A length of bolt of one cross-section; the threaded length in the grip counts with its stress area."""

    length: Number
    area: Number

    def __post_init__(self) -> None:
        if self.length <= 0 or self.area <= 0:
            raise StretchError("a section of a bolt has a length and an area above nothing; correct it")


def stiffness(sections: Sequence[Section], modulus: Number) -> Fraction:
    """Load per stretch: k = E / sum(L/A)."""
    if not sections or modulus <= 0:
        raise StretchError("a bolt has at least one section and a modulus above nothing; give them")
    return Fraction(modulus) / sum((Fraction(s.length) / Fraction(s.area) for s in sections), Fraction(0))


def stretch(load: Number, sections: Sequence[Section], modulus: Number) -> Fraction:
    """How much longer a bolt is under a load: F/E sum(L/A)."""
    return Fraction(load) / stiffness(sections, modulus)


def load_from(stretched: Number, sections: Sequence[Section], modulus: Number) -> Fraction:
    """The load that stretches a bolt by so much."""
    return Fraction(stretched) * stiffness(sections, modulus)


def in_the_grip(
    thread: Thread, threaded: Number, shank: Number = 0, across: Number | None = None
) -> tuple[Section, ...]:
    """The sections of a bolt that stretch, mm: its thread, and its shank, as thick as the thread or `across`."""
    if threaded < 0 or shank < 0:
        raise StretchError("the shank is longer than what stretches, or a length is below nothing; correct them")
    plain = circle(Fraction(across) if across is not None else thread.diameter)
    both = ((threaded, area_of(thread)), (shank, plain))
    return tuple(Section(length=length, area=area) for length, area in both if length != 0)
