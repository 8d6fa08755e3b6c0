"""What a steel bolt bears: property classes (ISO 898-1) and inch grades (SAE J429)."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from benchvoice.errors import InputError
from benchvoice.quantity.rounding import round_digits
from benchvoice.quantity.units import Number
from benchvoice.quantity.values import Quantity
from benchvoice.tighten.threads import FIGURES, MM_PER_INCH, Thread, printed_stress_area


class StrengthError(InputError):
    """A class or grade that isn't in the tables, or not for that size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """Stresses of a class or grade at one size: under proof load, at yield, and at breaking (nominal or least)."""

    name: str
    proof: Quantity
    yields: Quantity
    tensile: Quantity
    source: str


PROOF_STRESSES: Mapping[str, int] = MappingProxyType(
    {"4.6": 225, "4.8": 310, "5.6": 280, "5.8": 380, "6.8": 440, "8.8": 580, "9.8": 650, "10.9": 830, "12.9": 970}
)
"""MPa. Source: ISO 898-1:2013 table 3 (seen in a public copy). Class 8.8 is 600 above M16."""

# grade: (greatest diameter in inches, proof, yield, tensile in thousand psi), smaller sizes first.
_SAE: Mapping[str, tuple[tuple[str, int, int, int], ...]] = MappingProxyType(
    {
        "1": (("1.5", 33, 36, 60),),
        "2": (("0.75", 55, 57, 74), ("1.5", 33, 36, 60)),
        "4": (("1.5", 65, 100, 115),),
        "5": (("1", 85, 92, 120), ("1.5", 74, 81, 105)),
        "5.2": (("1", 85, 92, 120),),
        "7": (("1.5", 105, 115, 133),),
        "8": (("1.5", 120, 130, 150),),
        "8.2": (("1", 120, 130, 150),),
    }
)


def property_class(name: str, diameter: Number) -> Strength:
    """ISO 898-1 stresses at a diameter in mm; nominally a class a.b breaks at 100 a and yields at 10 a b MPa."""
    if name not in PROOF_STRESSES:
        raise StrengthError(f"'{name}' is not a property class; say one of {', '.join(PROOF_STRESSES)}")
    if diameter > 39 or (name == "9.8" and diameter > 16):
        raise StrengthError(f"class {name} isn't made in M{diameter}; check the size and the head's marking")
    first, second = (int(part) for part in name.split("."))
    proof = 600 if name == "8.8" and diameter > 16 else PROOF_STRESSES[name]
    return Strength(
        name=name,
        proof=Quantity(value=Decimal(proof), unit="MPa"),
        yields=Quantity(value=Decimal(first * second * 10), unit="MPa"),
        tensile=Quantity(value=Decimal(first * 100), unit="MPa"),
        source="ISO 898-1:2013 table 3",
    )


def sae_grade(name: str, diameter: Number) -> Strength:
    """SAE J429 stresses for a grade such as 5 and a diameter in inches from a quarter to one and a half."""
    if name not in _SAE:
        raise StrengthError(f"'{name}' is not an SAE grade; say one of {', '.join(_SAE)}")
    for most, *stresses in _SAE[name]:
        if Fraction(1, 4) <= diameter <= Fraction(most):
            proof, yields, tensile = (Quantity(value=Decimal(stress * 1000), unit="psi") for stress in stresses)
            return Strength(name=name, proof=proof, yields=yields, tensile=tensile, source="SAE J429 table 1")
    raise StrengthError(f"grade {name} isn't made in that size; check the size and the head's marking")


def strength_of(name: str, thread: Thread) -> Strength:
    """The class of a metric thread or the grade of a unified one."""
    if thread.inch:
        return sae_grade(name, thread.diameter / MM_PER_INCH)
    return property_class(name, thread.diameter)


def proof_load(area: Number, strength: Strength) -> Fraction:
    """Load that leaves no lasting stretch, N: proof stress times stress area in mm²."""
    return Fraction(area) * strength.proof.in_unit("MPa")


# ISO 898-1:2013 table 5, coarse threads, N (seen in a public copy to M27, recalled above). Printed values are data:
# some are not the rounded product (M10 8.8: 33 640 printed as 33 700; M16 8.8: 91 060 printed as 91 000).
_PRINTED = """
M    4.6 4.8 5.6 5.8 6.8 8.8 9.8 10.9 12.9
3    1130 1560 1410 1910 2210 2920 3270 4180 4880
3.5  1530 2100 1900 2580 2980 3940 4410 5630 6580
4    1980 2720 2460 3340 3860 5100 5710 7290 8520
5    3200 4400 3980 5400 6250 8230 9230 11800 13800
6    4520 6230 5630 7640 8840 11600 13100 16700 19500
7    6500 8960 8090 11000 12700 16800 18800 24000 28000
8    8240 11400 10200 13900 16100 21200 23800 30400 35500
10   13000 18000 16200 22000 25500 33700 37700 48100 56300
12   19000 26100 23600 32000 37100 48900 54800 70000 81800
14   25900 35600 32200 43700 50600 66700 74800 95500 112000
16   35300 48700 44000 59700 69100 91000 102000 130000 152000
18   43200 59500 53800 73000 84500 115000 - 159000 186000
20   55100 76000 68600 93100 108000 147000 - 203000 238000
22   68200 93900 84800 115000 133000 182000 - 252000 294000
24   79400 109000 98800 134000 155000 212000 - 293000 342000
27   103000 142000 128000 174000 202000 275000 - 381000 445000
30   126000 174000 157000 213000 247000 337000 - 466000 544000
33   156000 215000 194000 264000 305000 416000 - 576000 673000
36   184000 253000 229000 310000 359000 490000 - 678000 792000
39   220000 303000 273000 371000 429000 586000 - 810000 947000
"""


def _proof_loads() -> Mapping[tuple[Fraction, str], int]:
    head, *rows = (line.split() for line in _PRINTED.strip().splitlines())
    cells = ((Fraction(row[0]), name, load) for row in rows for name, load in zip(head[1:], row[1:], strict=True))
    return MappingProxyType({(diameter, name): int(load) for diameter, name, load in cells if load != "-"})


PROOF_LOADS: Mapping[tuple[Fraction, str], int] = _proof_loads()
"""Printed proof loads, N, by diameter in mm and property class."""


def printed_proof_load(thread: Thread, name: str) -> Fraction:
    """The proof load as ISO 898-1 prints it, N; for a fine thread the product of the printed area, to three figures."""
    strength = property_class(name, thread.diameter)
    if thread.coarse and (thread.diameter, name) in PROOF_LOADS:
        return Fraction(PROOF_LOADS[thread.diameter, name])
    return Fraction(round_digits(proof_load(printed_stress_area(thread), strength), FIGURES))
