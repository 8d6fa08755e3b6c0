"""Computed values of machines: volumes and compression, ring gaps, twist over a span, sizes at twenty degrees."""

from fractions import Fraction

from benchvoice.quantity import cylinder, thermal
from benchvoice.quantity.computed.arithmetic import total
from benchvoice.quantity.computed.model import BadComputed, ComputedKind, Input, Readings, linear
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.quantity.values import Quantity, quantity

_DEFINITION = "definition"


def disc_volume(diameter: Readings, height: Readings) -> Quantity:
    """The volume of a disc in cc: what a gasket's hole holds, or the room over a piston (proud: a negative height)."""
    if diameter[0].value < 0:
        raise BadComputed("a diameter isn't below nought: look at its sign")
    return quantity(cylinder.disc(diameter[0], height[0]), "cc")


def swept_volume(bore: Readings, stroke: Readings) -> Quantity:
    """The volume in cc that one piston sweeps."""
    if stroke[0].value < 0:
        raise BadComputed("a stroke isn't below nought: look at its sign")
    return disc_volume(bore, stroke)


def compression_ratio(swept: Readings, clearance: Readings) -> Quantity:
    """(swept + clearance) / clearance; the clearance volumes (chamber, gasket, deck) are added up."""
    if swept[0].value <= 0:
        raise BadComputed("a compression ratio needs a swept volume above nought: look at the bore and the stroke")
    left = total(clearance)
    room = convert(left.value, left.unit, swept[0].unit)
    if room <= 0:
        raise BadComputed("a compression ratio needs room over the piston: look at the signs of the volumes")
    return Quantity(value=to_decimal((Fraction(swept[0].value) + room) / room), unit="1")


def ring_gap(bore: Readings, per: Readings) -> Quantity:
    """The gap of a piston ring for a bore, by a gap per unit of bore."""
    return cylinder.ring_gap(bore[0], per[0].value)


def twist(one_end: Readings, other_end: Readings, apart: Readings, to: Readings) -> Quantity:
    """How far out of parallel two ends are, read so far apart, as it is over another length."""
    read_over = convert(apart[0].value, apart[0].unit, to[0].unit)
    if read_over <= 0:
        raise BadComputed("twist needs 'apart' above nought: give the length that it was read over")
    share = Fraction(to[0].value) / read_over
    signed = linear([(share, one_end[0]), (-share, other_end[0])])
    return Quantity(value=signed.value.copy_abs(), unit=signed.unit)


def at_twenty(of: Readings, temperature: Readings, expansion: Readings) -> Quantity:
    """A size as it is at 20 degrees Celsius (ISO 1), read at another temperature by a gauge that is true."""
    alpha = to_decimal(expansion[0].in_unit("per_K"))
    return thermal.at_reference(of[0], alpha, temperature[0])


KINDS = (
    ComputedKind(
        name="disc_volume",
        inputs={"diameter": Input(meaning="across"), "height": Input(meaning="how high; below nought for proud")},
        formula="pi / 4 x diameter^2 x height",
        source="geometry",
        function=disc_volume,
    ),
    ComputedKind(
        name="swept_volume",
        inputs={"bore": Input(meaning="the bore"), "stroke": Input(meaning="the stroke")},
        formula="pi / 4 x bore^2 x stroke",
        source="geometry",
        function=swept_volume,
    ),
    ComputedKind(
        name="compression_ratio",
        inputs={
            "swept": Input(meaning="swept volume of one cylinder"),
            "clearance": Input(meaning="volumes over the piston", most=None),
        },
        formula="(swept + clearance) / clearance",
        source=_DEFINITION,
        function=compression_ratio,
    ),
    ComputedKind(
        name="ring_gap",
        inputs={"bore": Input(meaning="the bore"), "per": Input(meaning="gap per unit of bore, such as 0.004")},
        formula="bore x per",
        source="common practice, no source",
        function=ring_gap,
    ),
    ComputedKind(
        name="twist",
        inputs={
            "one_end": Input(meaning="reading at one end"),
            "other_end": Input(meaning="reading at the other end"),
            "apart": Input(meaning="how far apart the two are"),
            "to": Input(meaning="the length that it is wanted over"),
        },
        formula="|one end - other end| x to / apart",
        source="geometry, small angles",
        function=twist,
    ),
    ComputedKind(
        name="at_twenty",
        inputs={
            "of": Input(meaning="the size as read"),
            "temperature": Input(meaning="how warm the part is"),
            "expansion": Input(meaning="expansion per kelvin, by the material", trial=thermal.EXPANSION["steel"]),
        },
        formula="of / (1 + expansion x (temperature - 20 degC))",
        source="ISO 1:2016, linear expansion",
        function=at_twenty,
    ),
)
