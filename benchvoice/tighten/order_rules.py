"""What makes an order of tightening a good one, each rule by itself, for any order whoever wrote it.

For a ring: every position once; opposite pairs; never two neighbours after each other. For two rows: every position
once; centre first; outwards; crosswise. Source: properties of the usual patterns, common practice.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from benchvoice.tighten.orders import OrderError, Rows, rows_of


@dataclass(frozen=True, slots=True)
class RingRules:
    """Which rules an order round a ring keeps. A rule that can't apply to a ring of that size is kept."""

    permutation: bool
    opposites: bool
    """Even rings: the first and second are opposite each other, the third and fourth, and so on."""
    no_neighbours: bool
    """Five positions and more: no two neighbours after each other."""

    @property
    def valid(self) -> bool:
        return self.permutation and self.opposites and self.no_neighbours


@dataclass(frozen=True, slots=True)
class RowRules:
    """Which rules an order over two rows keeps."""

    permutation: bool
    centre_first: bool
    """The first positions are all those nearest the middle."""
    outwards: bool
    """The distance from the middle never falls."""
    crosswise: bool
    """At each distance, every second position is crosswise from the one before it."""

    @property
    def valid(self) -> bool:
        return self.permutation and self.centre_first and self.outwards and self.crosswise


def ring_rules(order: Sequence[str], ring: Sequence[str]) -> RingRules:
    """Judge an order round a ring whose positions are listed clockwise. A position not in the ring has no opposite."""
    count = len(ring)
    spots = [ring.index(position) if position in ring else None for position in order]
    apart = [None if a is None or b is None else (b - a) % count for a, b in pairwise(spots)]
    return RingRules(
        permutation=sorted(order) == sorted(ring),
        opposites=count % 2 == 1 or all(step == count // 2 for step in apart[::2]),
        no_neighbours=count < 5 or all(step not in (1, count - 1) for step in apart),
    )


def row_rules(order: Sequence[str], positions: Sequence[str]) -> RowRules:
    """Judge an order over two rows; OrderError for positions that aren't two rows. A strange one is no position."""
    rows = rows_of(positions)
    known = [position for position in order if position in positions]
    far = [rows.off_centre(position) for position in known]
    nearest = {position for position in positions if rows.off_centre(position) == (rows.columns - 1) % 2}
    return RowRules(
        permutation=sorted(order) == sorted(positions),
        centre_first=set(order[: len(nearest)]) == nearest,
        outwards=far == sorted(far),
        crosswise=all(_crosswise(known, rows, distance) for distance in set(far)),
    )


def _crosswise(order: Sequence[str], rows: Rows, distance: int) -> bool:
    level = [position for position in order if rows.off_centre(position) == distance]
    return all(rows.crosswise(one) == other for one, other in zip(level[::2], level[1::2], strict=False))


def order_cautions(order: Sequence[str], positions: Sequence[str]) -> tuple[str, ...]:
    """What is legal and unwise in an order over two rows, one sentence each; nothing for other groups.

    For the check of documents: starting at an edge traps a bow in the joint, and one side left waiting tilts the part.
    """
    try:
        rules = row_rules(order, positions)
    except OrderError:
        return ()
    cautions = []
    if not rules.centre_first:
        cautions.append("the order starts away from the middle; centre pair first is usual")
    elif not rules.outwards:
        cautions.append("the order goes outwards and back; outwards only is usual")
    if not rules.crosswise:
        cautions.append("the order leaves one side of a pair waiting; crosswise is usual")
    return tuple(cautions)
