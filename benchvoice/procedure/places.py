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
    if measure.only:
        found = measure.only
    elif measure.order:
        found = tuple((value,) for value in measure.order)
    else:
        found = every_place(measure.places)
    return tuple(place for place in found if not any(set(gap) <= set(place) for gap in measure.without))
