"""Shim packs from the stock at hand: every pack that will do, the best first.

Thicknesses are counted in whole steps, so sums are exact. A pack is best when its total is nearest to what is aimed
at; of equals the one with the fewest pieces, and of those the one with the thickest pieces (fewer thin ones to lose).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import islice

from benchvoice.errors import InputError
from benchvoice.quantity.units import Number, to_decimal

Stock = Mapping[Decimal, int]

# Packs of more pieces than this are springy and hold dirt (common practice, no source); a caller may ask for more.
MOST_PIECES = 6
# A question with more answers than this is too wide to be meant.
_MOST_PACKS = 20_000


class BadStock(InputError):
    """A stock, or limits for a pack, that can't be."""


@dataclass(frozen=True, slots=True)
class Pack:
    """The pieces of a pack, thickest first, and their total, in the unit of the stock."""

    pieces: tuple[Decimal, ...]
    total: Decimal


def packs(
    stock: Stock, low: Decimal, high: Decimal, aim: Decimal | None = None, fewest: int = 1, most: int = MOST_PIECES
) -> list[Pack]:
    """Every pack from the stock (thickness to count) whose total is from `low` to `high`, the best first.

    `aim` is the total wanted, the middle unless given; `fewest` and `most` bound the number of pieces.
    """
    _check(stock, low, high)
    wanted = (Fraction(low) + Fraction(high)) / 2 if aim is None else Fraction(aim)
    sizes = sorted(stock.items(), reverse=True)
    found = list(islice(_pieces(sizes, Fraction(low), Fraction(high), most), _MOST_PACKS + 1))
    if len(found) > _MOST_PACKS:
        raise BadStock(f"more than {_MOST_PACKS} packs make {low} to {high}: ask for fewer pieces or nearer limits")
    made = [Pack(pieces, _total(pieces)) for pieces in found if len(pieces) >= fewest]
    return sorted(made, key=lambda pack: _rank(pack, wanted))


def _total(pieces: Sequence[Decimal]) -> Decimal:
    return to_decimal(sum(map(Fraction, pieces), Fraction(0)))


def less(stock: Stock, pieces: Sequence[Decimal]) -> dict[Decimal, int]:
    """The stock after a pack took its pieces; BadStock when they are not all there."""
    left = dict(stock)
    for piece in pieces:
        if left.get(piece, 0) < 1:
            raise BadStock(f"there is no {piece} left in the tray: count it again")
        left[piece] -= 1
    return left


def nearest(stock: Stock, wanted: Decimal, most: int = MOST_PIECES, *, below: bool = False) -> Pack | None:
    """The pack whose total is nearest to what is wanted, on a tie the thinner; None when the stock is empty.

    With `below`, the nearest that is not thicker than what is wanted.
    """
    aim = Fraction(wanted)
    made = {total: pieces for total, pieces in _every_total(stock, most).items() if not below or total <= aim}
    if not made:
        return None
    total = min(made, key=lambda each: (abs(each - aim), each))
    return Pack(made[total], _total(made[total]))


def missing(stock: Stock, low: Decimal, high: Decimal, most: int = MOST_PIECES) -> tuple[Decimal, ...]:
    """Sizes of the stock of which one piece more would make a pack from `low` to `high`, the thickest first.

    Sizes that have run out are among them: a stock lists those with a count of nought.
    """
    return tuple(
        size for size in sorted(stock, reverse=True) if packs({**stock, size: stock[size] + 1}, low, high, most=most)
    )


def _every_total(stock: Stock, most: int) -> dict[Fraction, tuple[Decimal, ...]]:
    """Every total that the stock makes with the fewest pieces for it, thickest first, and thickest of equals."""
    made: dict[Fraction, tuple[Decimal, ...]] = {Fraction(0): ()}
    for size, count in sorted(stock.items(), reverse=True):
        for total, pieces in list(made.items()):
            for taken in range(1, min(count, most - len(pieces)) + 1):
                more = total + taken * Fraction(size)
                now = pieces + (size,) * taken
                if more not in made or len(now) < len(made[more]):
                    made[more] = now
    del made[Fraction(0)]
    return made


def two_packs(
    stock: Stock, low: Decimal, high: Decimal, left: Decimal, *, most: int = MOST_PIECES, spare: Decimal = Decimal(0)
) -> list[tuple[Pack, Pack]]:
    """Two packs from one stock whose totals together are from `low` to `high`, the left one as near `left` as can be.

    So a wheel is shimmed between its bearings: the sum makes the preload, the left pack the backlash. `spare` is how
    far the left pack may be from what is wanted. The best first: the left nearest, then the sum nearest the middle,
    then the fewest pieces.
    """
    middle = (Fraction(low) + Fraction(high)) / 2
    ranked = []
    for one in packs(stock, left - spare, left + spare, most=most):
        rest = less(stock, one.pieces)
        for other in packs(rest, low - one.total, high - one.total, most=most):
            total = Fraction(one.total) + Fraction(other.total)
            key = (
                abs(Fraction(one.total) - Fraction(left)),
                abs(total - middle),
                len(one.pieces) + len(other.pieces),
                _thickest(one),
                _thickest(other),
            )
            ranked.append((key, (one, other)))
    return [pair for _, pair in sorted(ranked, key=lambda entry: entry[0])]


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """Shim taken from the first of two packs and put to the second (below nought: the other way), sum kept."""

    first: Pack
    second: Pack
    moved: Decimal
    value: Fraction
    """What the value then is, by the change that was given."""


def moves(
    stock: Stock,
    packs_now: tuple[Decimal, Decimal],
    value: Number,
    aim: tuple[Number, Number],
    change: Number,
    most: int = MOST_PIECES,
) -> list[Move]:
    """Every way to bring a value into its aim by moving shim from side to side, the nearest to the middle first.

    `stock` holds the tray and the pieces of both packs; `packs_now` are their totals, and each unit moved from the
    first to the second makes the value fall by `change`. All lengths are in one unit. The sum stays exactly what it
    is, so that what it makes (a preload) stays too. Of equal ways the one with the fewest pieces.
    """
    low, high = (Fraction(end) for end in aim)
    if change == 0 or low > high:
        raise BadStock("a move needs a change other than nought, and an aim from least to most: look at the figures")
    first, total = Fraction(packs_now[0]), Fraction(packs_now[0]) + Fraction(packs_now[1])
    wanted = first - (Fraction(value) - (low + high) / 2) / Fraction(change)
    spare = abs((high - low) / 2 / Fraction(change))
    kept = to_decimal(total)
    found = two_packs(stock, kept, kept, to_decimal(wanted, 12), most=most, spare=to_decimal(spare, 12))
    made = []
    for one, other in found:
        moved = first - Fraction(one.total)
        after = Fraction(value) - moved * Fraction(change)
        if moved and low <= after <= high:
            made.append(Move(first=one, second=other, moved=to_decimal(moved), value=after))
    return made


def _check(stock: Stock, low: Decimal, high: Decimal) -> None:
    if low > high:
        raise BadStock(f"a pack of {low} at least and {high} at most can't be: swap them")
    for thickness, count in stock.items():
        if thickness <= 0 or count < 0:
            raise BadStock(
                f"{count} of {thickness} is not a stock: thicknesses are above nought and counts not below it"
            )


def _pieces(
    stock: Sequence[tuple[Decimal, int]], low: Fraction, high: Fraction, most: int
) -> Iterator[tuple[Decimal, ...]]:
    """Every multiset of pieces whose sum is within the ends, thickest sizes first, with hopeless branches cut."""
    if not stock or most == 0:
        if low <= 0 <= high:
            yield ()
        return
    if high < 0 or low > sum(Fraction(size) * count for size, count in stock) or low > most * Fraction(stock[0][0]):
        return
    size, count = stock[0]
    for taken in range(min(count, most), -1, -1):
        spent = taken * Fraction(size)
        for rest in _pieces(stock[1:], low - spent, high - spent, most - taken):
            yield (size,) * taken + rest


def _rank(pack: Pack, wanted: Fraction) -> tuple[Fraction, int, tuple[Decimal, ...]]:
    return abs(Fraction(pack.total) - wanted), len(pack.pieces), _thickest(pack)


def _thickest(pack: Pack) -> tuple[Decimal, ...]:
    """Sorts the pack with the thickest pieces first."""
    return tuple(-piece for piece in pack.pieces)
