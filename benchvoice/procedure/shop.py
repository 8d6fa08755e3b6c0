"""What holds for a whole build: what is asked of the machine, which end is which, what is used, what is fastened."""

from decimal import Decimal
from typing import Annotated

from pydantic import Field

from benchvoice.procedure.fields import Band, Count, Date, Number, Order, Part, Size, Text, Texts, Unit, YesNo
from benchvoice.quantity.values import Quantity


class Particular(Part):
    """A fact about this machine, asked and answered with one of the choices."""

    ask: Text
    choices: Annotated[tuple[Text, ...], Field(min_length=2)]
    sizes: dict[Text, Size] = {}
    """Where the choices are names of sizes, such as first undersize: the actual size that each one stands for.

    A name is never converted into another: twenty thou over and half a millimetre over are two sizes.
    """


class Option(Part):
    """Something that may be fitted or not: yes or no."""

    ask: Text


class WhichEnd(Part):
    """Which end is which, said with a side the first time that a step uses one."""

    number_one: Text | None = None
    left_right: Text | None = None
    turning: Text | None = None


class Instrument(Part):
    """A measuring instrument (VIM 3.1), its resolution (VIM 4.14) and stated uncertainty."""

    kind: Text
    unit: Unit
    resolution: Number | None = None
    uncertainty: Number | None = None
    """Expanded uncertainty (GUM 2.3.5), as its certificate or its user states it."""
    k: Number = Decimal(2)
    """Coverage factor of that uncertainty."""
    repeatability: Number | None = None
    """Standard deviation of single readings of one thing, known from earlier ones (VIM 2.21)."""
    range: Band | None = None
    calibration_due: Date | None = None
    leaves: tuple[Number, ...] = ()
    """Of a set of feeler gauges, the thickness of each leaf, in `unit`."""


class Wrench(Part):
    """A torque wrench: range, step of its scale, and permissible relative deviation in per cent (ISO 6789 class)."""

    range: tuple[Number, Number]
    unit: Unit
    step: Number
    class_percent: Number = Decimal(4)
    calibration_due: Date | None = None


class Consumable(Part):
    """A sealant, compound, grease: what it is and where it must not go."""

    what: Text
    not_on: Text | None = None
    label: YesNo = False
    """Its product, lot and use-by date are asked off the label before first use, and again of each new container."""
    products: Texts = ()
    """Products that its label may name; another one needs an override with a reason. Without it any is taken."""


class Stock(Part):
    """Loose sizes to make a pack from, such as shims: how many of each are in the tray."""

    what: Text
    unit: Unit
    sizes: Annotated[dict[Number, Count], Field(min_length=1)]
    """Size in `unit`, and how many."""


class Grip(Part):
    """What stretches of each fastener when it's tightened; it tells what an angle or a stretch is likely to clamp."""

    length: Size
    """All that stretches, from under the head to the first threads that hold."""
    shank: Size = Quantity(value=Decimal(0), unit="mm")
    """How much of it is plain shank."""
    across: Size | None = None
    """The shank's diameter; without it, the thread's."""
    joint: Size | None = None
    """How stiff what is clamped is, such as 800000 N_per_mm; without it, it is reckoned not to give."""


class Group(Part):
    """Fasteners tightened together.

    A position is named as the people at the bench name it. Where positions are plain numbers they are the order
    numbers that are painted beside the fasteners, so their order is "in turn".
    """

    what: Text
    positions: Annotated[tuple[Text, ...], Field(min_length=1)]
    order: Order = "in turn"
    """A named order or the list of positions in the order of tightening."""
    size: Text | None = None
    property_class: Annotated[Text | None, Field(alias="class")] = None
    grip: Grip | None = None
    new_each_time: YesNo = False
    takes: dict[Text, Text] = {}
    """Positions that take another fastener, and which."""
