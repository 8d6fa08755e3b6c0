"""The order in which the fasteners of a group are tightened.

A group has positions, in the order in which its document lists them; an order is a permutation of them. An order is
either listed, position by position, or named after a pattern below. Patterns read the positions in one of two ways:

- a ring or a line: the positions as listed, round the ring (clockwise) or along the line;
- two rows: marks made of a letter and a number, `L1 R1 L2 R2 …` or `1L 1R 2L 2R …`; the letter is the row, the number
  the column, and the row that is listed first leads.

Slackening runs the other way.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from benchvoice.errors import DocumentError

_ROW_MARK = re.compile(r"(?:(?P<row>[^\W\d_]+)[ -]?(?P<column>\d+)|(?P<column_first>\d+)[ -]?(?P<row_last>[^\W\d_]+))")


class OrderError(DocumentError):
    """An order that doesn't take every position exactly once, or a pattern that its positions don't fit."""


@dataclass(frozen=True, slots=True)
class Rows:
    """Two rows of n columns. `a` is the row listed first; columns run from left to right, that is by number."""

    a: tuple[str, ...]
    b: tuple[str, ...]

    @property
    def columns(self) -> int:
        return len(self.a)

    def spot(self, position: str) -> tuple[int, int]:
        """Row (0 or 1) and column (from 0) of a position."""
        row = self.a if position in self.a else self.b
        return int(row is self.b), row.index(position)

    def off_centre(self, position: str) -> int:
        """How far a position's column stands from the middle, in half columns."""
        return abs(2 * self.spot(position)[1] - (self.columns - 1))

    def crosswise(self, position: str) -> str:
        """The position in the other row and the mirrored column; for a middle column, straight across."""
        row, column = self.spot(position)
        return (self.b, self.a)[row][self.columns - 1 - column]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A named order: its rule in words fit to be spoken, where the rule comes from, and how it arranges positions."""

    name: str
    rule: str
    source: str
    arrange: Callable[[Sequence[str]], tuple[str, ...]]


def rows_of(positions: Sequence[str]) -> Rows:
    """Read positions as two rows of the same columns; OrderError if they are anything else."""
    rows: dict[str, dict[int, str]] = {}
    for position in positions:
        found = _ROW_MARK.fullmatch(position)
        if found is None:
            raise OrderError(f"position '{position}' is not a row letter and a number; name two rows L1 L2 … R1 R2 …")
        row = found["row"] or found["row_last"]
        column = int(found["column"] or found["column_first"])
        columns = rows.setdefault(row.upper(), {})
        if column in columns:
            raise OrderError(f"two positions are both row {row}, column {column}; number each once")
        columns[column] = position
    if len(rows) != 2:
        raise OrderError(f"this order needs two rows of positions and there are {len(rows)}; list the order instead")
    first, second = rows.values()
    if set(first) != set(second):
        raise OrderError("the two rows don't have the same columns; list the order instead")
    return Rows(tuple(first[c] for c in sorted(first)), tuple(second[c] for c in sorted(second)))


def _in_turn(positions: Sequence[str]) -> tuple[str, ...]:
    return tuple(positions)


def _outside_last(positions: Sequence[str]) -> tuple[str, ...]:
    if len(positions) < 3:
        return tuple(positions)
    return (*positions[1:-1], positions[0], positions[-1])


def _middle_outwards(positions: Sequence[str]) -> tuple[str, ...]:
    middle = len(positions) - 1
    return tuple(positions[i] for i in sorted(range(len(positions)), key=lambda i: (abs(2 * i - middle), i)))


def _centre_pair_first(positions: Sequence[str]) -> tuple[str, ...]:
    """Level by level outwards; in each level the leading row's near bolt, its crosswise partner, then the other two."""
    rows = rows_of(positions)
    order: list[str] = []
    for start in _middle_outwards(rows.a):
        order += [start, rows.crosswise(start)]
    return tuple(order)


def _spiral(positions: Sequence[str]) -> tuple[str, ...]:
    """Level by level outwards, each level gone round clockwise (leading row left to right, other row right to left)."""
    rows = rows_of(positions)
    last = rows.columns - 1
    order: list[str] = []
    for left in range(last // 2, -1, -1):
        right = last - left
        level = (rows.a[left], rows.a[right], rows.b[right], rows.b[left])
        order += dict.fromkeys(level)
    return tuple(order)


def _star(positions: Sequence[str]) -> tuple[str, ...]:
    """Round a ring so that the load comes on evenly.

    An even ring goes in opposite pairs, and the next pair is the one that stands farthest from all pairs already done
    (nearest one first, then the next nearest, then the lowest number): for 4, 8, 12 and 16 that is the legacy pattern
    of ASME PCC-1. An odd ring has no opposites: it steps by half the ring.
    """
    count = len(positions)
    half = count // 2
    if count % 2:
        return tuple(positions[i * half % count] for i in range(count))
    pairs: list[int] = []
    while len(pairs) < half:
        left = [pair for pair in range(half) if pair not in pairs]
        pairs.append(max(left, key=lambda pair: (sorted(_apart(pair, done, half) for done in pairs), -pair)))
    return tuple(positions[i] for pair in pairs for i in (pair, pair + half))


def _apart(one: int, other: int, half: int) -> int:
    """How many bolts lie between two opposite pairs, the shorter way round."""
    return min((one - other) % half, (other - one) % half)


_TRADE = "common practice, no source"

PATTERNS: Mapping[str, Pattern] = MappingProxyType(
    {
        pattern.name: pattern
        for pattern in (
            Pattern("in turn", "one after the other, as numbered", _TRADE, _in_turn),
            Pattern("outside last", "as numbered, the two outside ones last", _TRADE, _outside_last),
            Pattern("middle outwards", "from the middle outwards, side to side", _TRADE, _middle_outwards),
            Pattern("centre pair first", "centre pair first, then crosswise outwards", _TRADE, _centre_pair_first),
            Pattern("spiral", "from the centre outwards, going round clockwise", _TRADE, _spiral),
            Pattern(
                "star",
                "opposite pairs, each as far as can be from those before",
                "ASME PCC-1 legacy pattern for 4, 8, 12 and 16 bolts (recalled); others common practice, no source",
                _star,
            ),
        )
    }
)

_OTHER_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "ring order": "in turn",
        "ring": "in turn",
        "as listed": "in turn",
        "outside ones last": "outside last",
        "cross": "star",
        "cross order": "star",
        "crisscross": "star",
        "centre outwards": "middle outwards",
        "spiral from the centre": "spiral",
        "centre pair first, crosswise outwards": "centre pair first",
        "centre pair first, then crosswise outwards": "centre pair first",
    }
)

PATTERN_NAMES: tuple[str, ...] = (*PATTERNS, *_OTHER_NAMES)


def pattern_of(name: str) -> Pattern:
    """The pattern of that name (or other name), whatever its case and spacing; OrderError if there is none."""
    plain = " ".join(name.lower().replace("center", "centre").split())
    found = PATTERNS.get(_OTHER_NAMES.get(plain, plain))
    if found is None:
        raise OrderError(f"no order is called '{name}'; say one of {', '.join(PATTERNS)}, or list the positions")
    return found


def order_of(name_or_list: str | Sequence[str], positions: Sequence[str]) -> tuple[str, ...]:
    """The positions in the order in which they are tightened, each exactly once; OrderError otherwise."""
    if not positions:
        raise OrderError("a group without positions has no order; list its positions")
    _refuse_twice(positions, "the positions name")
    order = pattern_of(name_or_list).arrange(positions) if isinstance(name_or_list, str) else tuple(name_or_list)
    _refuse_twice(order, "the order takes")
    missing = [position for position in positions if position not in order]
    strange = [position for position in order if position not in positions]
    if missing:
        raise OrderError(f"the order leaves out {', '.join(missing)}; every position must come once")
    if strange:
        raise OrderError(f"the order takes {', '.join(strange)}, which the group doesn't have; name its positions only")
    return order


def order_numbers(order: Sequence[str]) -> dict[str, int]:
    """Each position's number in the order, from one: the number that is painted beside the fastener."""
    return {position: number for number, position in enumerate(order, start=1)}


def _refuse_twice(names: Iterable[str], what: str) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise OrderError(f"{what} {name} twice; every position must come once")
        seen.add(name)


def slackening(order: Sequence[str]) -> tuple[str, ...]:
    """The order for slackening: the tightening order reversed, outside in."""
    return tuple(reversed(order))
