"""Screw threads: geometry and stress area, metric (ISO 68-1, ISO 724, ISO 898-1) and unified (ASME B1.1).

With H = (sqrt 3)/2 P the height of the sharp triangle: pitch diameter d2 = d - 3/4 H, root of the bolt
d3 = d - 17/12 H, bore of the nut D1 = d - 5/4 H, stress area As = pi/4 ((d2 + d3)/2)^2. The inch tables use
As = pi/4 (D - 0.9743/n)^2 instead.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from benchvoice.errors import InputError
from benchvoice.quantity.functions import PI, sqrt
from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.units import Number

MM_PER_INCH = Fraction("25.4")

FIGURES = 3
"""To how many figures tables of areas and loads are printed."""

_COARSE = """
1.6 0.35, 2 0.4, 2.5 0.45, 3 0.5, 3.5 0.6, 4 0.7, 5 0.8, 6 1, 7 1, 8 1.25, 10 1.5, 12 1.75, 14 2, 16 2, 18 2.5, 20 2.5,
22 2.5, 24 3, 27 3, 30 3.5, 33 3.5, 36 4, 39 4
"""
COARSE_PITCHES: Mapping[Fraction, Fraction] = MappingProxyType(
    {Fraction(diameter): Fraction(pitch) for diameter, pitch in (pair.split() for pair in _COARSE.split(","))}
)
"""Coarse pitch by diameter, mm. Source: ISO 261 (recalled)."""


class ThreadError(InputError):
    """A thread that isn't written as a thread, or can't be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """A single-start 60 degree thread: nominal diameter and pitch in mm; `inch` for a unified thread."""

    diameter: Fraction
    pitch: Fraction
    inch: bool = False

    def __post_init__(self) -> None:
        # A pitch beyond this leaves no core; real ones are below a third of the diameter.
        if not 0 < self.pitch <= self.diameter / 2:
            raise ThreadError("a thread's pitch is above nothing and well below its diameter; correct the size")

    @property
    def height(self) -> Fraction:
        """Height H of the sharp triangle."""
        return sqrt(3) / 2 * self.pitch

    @property
    def pitch_diameter(self) -> Fraction:
        """d2 (on a nut D2)."""
        return self.diameter - self.height * 3 / 4

    @property
    def root_diameter(self) -> Fraction:
        """d3 of the bolt, to the rounded root."""
        return self.diameter - self.height * 17 / 12

    @property
    def nut_bore(self) -> Fraction:
        """D1, the minor diameter of the nut."""
        return self.diameter - self.height * 5 / 4

    @property
    def stress_diameter(self) -> Fraction:
        """The diameter whose circle is the stress area."""
        if self.inch:
            return self.diameter - Fraction("0.9743") * self.pitch
        return (self.pitch_diameter + self.root_diameter) / 2

    @property
    def stress_area(self) -> Fraction:
        """As in mm²."""
        return circle(self.stress_diameter)

    @property
    def coarse(self) -> bool:
        """Whether it is a metric thread of the coarse series."""
        return not self.inch and COARSE_PITCHES.get(self.diameter) == self.pitch


def circle(diameter: Fraction) -> Fraction:
    """Area of a circle."""
    return PI / 4 * diameter**2


def metric(diameter: Number, pitch: Number) -> Thread:
    """A metric thread, mm."""
    return Thread(diameter=Fraction(diameter), pitch=Fraction(pitch))


def unified(diameter: Number, threads_per_inch: Number) -> Thread:
    """A unified thread: diameter in inches, threads per inch."""
    if threads_per_inch <= 0:
        raise ThreadError("threads per inch are more than nothing; correct the size")
    return Thread(diameter=Fraction(diameter) * MM_PER_INCH, pitch=MM_PER_INCH / Fraction(threads_per_inch), inch=True)


# Source: ASME B1.1 tables of tensile stress area, in² (coarse recalled, fine seen in a public copy). Printed values are
# data: some are not the rounded formula (5/16-24: 0.05807 printed as 0.0580; 1/2-20: 0.15995 printed as 0.1599).
_PRINTED_INCH = """
#1-64 0.00263, #2-56 0.00370, #3-48 0.00487, #4-40 0.00604, #5-40 0.00796, #6-32 0.00909, #8-32 0.0140, #10-24 0.0175,
#12-24 0.0242, 1/4-20 0.0318, 5/16-18 0.0524, 3/8-16 0.0775, 7/16-14 0.1063, 1/2-13 0.1419, 9/16-12 0.182, 5/8-11 0.226,
3/4-10 0.334, 7/8-9 0.462, 1-8 0.606, 1 1/8-7 0.763, 1 1/4-7 0.969, 1 3/8-6 1.155, 1 1/2-6 1.405,
#0-80 0.00180, #1-72 0.00278, #2-64 0.00394, #3-56 0.00523, #4-48 0.00661, #5-44 0.00830, #6-40 0.01015, #8-36 0.01474,
#10-32 0.0200, #12-28 0.0258, 1/4-28 0.0364, 5/16-24 0.0580, 3/8-24 0.0878, 7/16-20 0.1187, 1/2-20 0.1599,
9/16-18 0.203, 5/8-18 0.256, 3/4-16 0.373, 7/8-14 0.509, 1-12 0.663, 1 1/8-12 0.856, 1 1/4-12 1.073, 1 3/8-12 1.315,
1 1/2-12 1.581
"""


def printed_stress_area(thread: Thread) -> Fraction:
    """The stress area as handbook tables print it: mm² for a metric thread, in² for a unified one.

    Metric (ISO 898-1): three figures. Unified: as printed for the coarse and fine series, else three figures.
    """
    if not thread.inch:
        return Fraction(round_digits(thread.stress_area, FIGURES))
    area = thread.stress_area / MM_PER_INCH**2
    return _printed_inch().get(thread) or Fraction(round_digits(area, FIGURES))


def area_of(thread: Thread) -> Fraction:
    """The printed stress area in mm², whatever the thread."""
    return printed_stress_area(thread) * (MM_PER_INCH**2 if thread.inch else 1)


@cache
def _printed_inch() -> Mapping[Thread, Fraction]:
    rows = (row.strip().rpartition(" ") for row in _PRINTED_INCH.split(","))
    return MappingProxyType({parse_thread(size): Fraction(area) for size, _, area in rows})


_METRIC = re.compile(
    r"M ?(?P<d>\d+(?:\.\d+)?)(?: ?[x×] ?(?P<p>\d+(?:\.\d+)?)(?: (?:coarse|fine))?| coarse)?", re.IGNORECASE
)
_UNIFIED = re.compile(
    r"(?:(?:#|No\.? ?)(?P<number>\d+)|(?:(?P<whole>\d+)(?:[ -](?=\d+/))?)?(?:(?P<over>\d+)/(?P<under>[1-9]\d*))?)"
    r" ?- ?(?P<n>\d+)(?: ?UN[CFJR]*)?",
    re.IGNORECASE,
)


def parse_thread(text: str) -> Thread:
    """A thread as written: `M12 x 1.75`, `M12` (coarse), `3/8-16`, `1 1/4-7 UNC`, `#10-32`; ThreadError otherwise."""
    plain = " ".join(text.split())
    if found := _METRIC.fullmatch(plain):
        diameter = Fraction(found["d"])
        pitch = Fraction(found["p"]) if found["p"] else COARSE_PITCHES.get(diameter)
        if pitch is None:
            raise ThreadError(f"'{text}' has no coarse pitch; write the pitch, as in M12 x 1.75")
        return metric(diameter, pitch)
    found = _UNIFIED.fullmatch(plain)
    if found is None or not (found["number"] or found["whole"] or found["over"]):
        raise ThreadError(f"'{text}' is not a thread; write it as M12 x 1.75 or 3/8-16")
    if found["number"]:
        return unified(Fraction(60 + 13 * int(found["number"]), 1000), int(found["n"]))
    part = Fraction(int(found["over"]), int(found["under"])) if found["over"] else Fraction(0)
    return unified(int(found["whole"] or 0) + part, int(found["n"]))
