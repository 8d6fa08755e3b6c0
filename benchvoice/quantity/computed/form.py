"""Computed values of form and fit: taper, out-of-round, run-out, clearance.

Terms are the bench's, not the drawing office's: out-of-round here is what two-point readings show (ISO 1101 roundness
is a radial zone and can't be had from two points).
"""

from fractions import Fraction

from benchvoice.quantity.computed.arithmetic import greatest, least, spread
from benchvoice.quantity.computed.model import ComputedKind, Input, Readings, linear
from benchvoice.quantity.values import Quantity

_TWO_POINT = "two-point readings can't see an odd number of lobes: turn the part in a vee block where it matters"
_BORE = Input(meaning="readings of the bore", most=None)
_SHAFT = Input(meaning="readings of what goes in it", most=None)


def out_of_round(of: Readings) -> Quantity:
    """Greatest less least diameter in one plane."""
    return spread(of)


def taper(one_end: Readings, other_end: Readings) -> Quantity:
    """The mean diameter of one plane against that of the other, whichever way round."""
    signed = _mean_less_mean(one_end, other_end)
    return Quantity(value=signed.value.copy_abs(), unit=signed.unit)


def _mean_less_mean(of: Readings, less: Readings) -> Quantity:
    """In one step, so that a mean that doesn't terminate isn't rounded on the way."""
    return linear([(Fraction(1, len(of)), part) for part in of] + [(Fraction(-1, len(less)), part) for part in less])


def run_out(of: Readings) -> Quantity:
    """The total indicator reading: greatest less least in one turn."""
    return spread(of)


def eccentricity(of: Readings) -> Quantity:
    """Half the total indicator reading. One reading is the total itself; several are readings round the turn."""
    if len(of) == 1:
        return linear([(Fraction(1, 2), of[0])])
    return linear([(Fraction(1, 2), greatest(of)), (Fraction(-1, 2), least(of))])


def clearance_least(bore: Readings, shaft: Readings) -> Quantity:
    """Least bore less greatest shaft: the tightest that the two can be."""
    return linear([(1, least(bore)), (-1, greatest(shaft))])


def clearance_mean(bore: Readings, shaft: Readings) -> Quantity:
    """Mean bore less mean shaft."""
    return _mean_less_mean(bore, shaft)


def clearance_most(bore: Readings, shaft: Readings) -> Quantity:
    """Greatest bore less least shaft: the loosest that the two can be."""
    return linear([(1, greatest(bore)), (-1, least(shaft))])


def shell_clearance(housing: Readings, shell: Readings, shaft: Readings) -> Quantity:
    """Housing bore less two shell walls less the journal. One wall reading stands for both shells; two are added."""
    walls = [(2, shell[0])] if len(shell) == 1 else [(1, shell[0]), (1, shell[1])]
    return linear([(1, housing[0]), *[(-times, wall) for times, wall in walls], (-1, shaft[0])])


KINDS = (
    ComputedKind(
        name="out_of_round",
        inputs={"of": Input(meaning="diameters of one plane", least=2, most=None)},
        formula="greatest - least in one plane",
        source="common practice, no source",
        function=out_of_round,
        caution=_TWO_POINT,
    ),
    ComputedKind(
        name="taper",
        inputs={
            "one_end": Input(meaning="diameters of one plane", most=None),
            "other_end": Input(meaning="diameters of the other plane", most=None),
        },
        formula="|mean of one plane - mean of the other|",
        source="common practice, no source",
        function=taper,
    ),
    ComputedKind(
        name="run_out",
        inputs={"of": Input(meaning="readings round one turn", least=2, most=None)},
        formula="greatest - least",
        source="geometry",
        function=run_out,
    ),
    ComputedKind(
        name="eccentricity",
        inputs={"of": Input(meaning="the total reading, or readings round one turn", most=None)},
        formula="total reading / 2",
        source="geometry",
        function=eccentricity,
    ),
    ComputedKind(
        name="clearance_least",
        inputs={"bore": _BORE, "shaft": _SHAFT},
        formula="least bore - greatest shaft",
        source="definition",
        function=clearance_least,
    ),
    ComputedKind(
        name="clearance_mean",
        inputs={"bore": _BORE, "shaft": _SHAFT},
        formula="mean bore - mean shaft",
        source="definition",
        function=clearance_mean,
    ),
    ComputedKind(
        name="clearance_most",
        inputs={"bore": _BORE, "shaft": _SHAFT},
        formula="greatest bore - least shaft",
        source="definition",
        function=clearance_most,
    ),
    ComputedKind(
        name="shell_clearance",
        inputs={
            "housing": Input(meaning="housing bore, caps tight, no shells"),
            "shell": Input(meaning="shell wall: one for both, or the two", most=2),
            "shaft": Input(meaning="journal"),
        },
        formula="housing - 2 x shell - shaft",
        source="definition",
        function=shell_clearance,
    ),
)
