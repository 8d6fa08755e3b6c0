"""Which places a step has: the product of its axes, less what doesn't go together."""

from itertools import product

from benchvoice.procedure.fields import Places
from benchvoice.procedure.kinds import Measure

Place = tuple[str, ...]
"""The value of each axis, in the order in which the step declares them."""


def every_place(places: Places) -> tuple[Place, ...]:
    """The product of the axes, the last axis running fastest; one empty place where there are no axes."""
    return tuple(product(*places.values()))


def places_of(measure: Measure) -> tuple[Place, ...]:
    """Every place of a measure step in the order in which they are asked."""
    return measure.every_place
