"""What is left of a stock: its sizes as listed, what came and went since, less every pack that was taken."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from benchvoice.procedure.models import Computed, Step
from benchvoice.quantity.packs import BadStock, Pack, missing, nearest, packs, two_packs
from benchvoice.quantity.units import convert, to_decimal
from benchvoice.session.entries import Decision, PackTaken, Place, Reading, StockChanged
from benchvoice.session.facts import Facts, Row
from benchvoice.session.readings import verdicts
from benchvoice.session.sources import computed_row, places_of_computed
from benchvoice.session.state import State
from benchvoice.speech.say import (
    FRACTION_UNITS,
    say_count,
    say_list,
    say_number,
    say_place,
    say_quantity,
    say_unit,
    to_say,
)


@dataclass(frozen=True, slots=True)
class Wanted:
    """A pack that a computed value asks for: what it is called (two that share the sum), and what it may be."""

    names: tuple[str, ...]
    stock: str
    low: Decimal
    high: Decimal
    unit: str
    first: Decimal | None = None
    pieces: int = 6
    fewest: int = 1
    """Nought where no piece at all may be the answer."""
    place: Place = ()
    reading: int | None = None
    """Line of the computed value that asks for it."""

    @property
    def aim(self) -> Decimal:
        """The middle of what it may be."""
        return to_decimal((Fraction(self.low) + Fraction(self.high)) / 2)


Way = tuple[Pack, ...]
"""One pack, or two that share a sum."""


def standing_packs(facts: Facts) -> Mapping[tuple[str, Place], Row[PackTaken]]:
    """The pack that counts under each name, and place where it has one."""
    return {(row.entry.pack, row.entry.place): row for row in facts.of(PackTaken)}


def at_hand(state: State, stock: str, *, but: tuple[tuple[str, Place], ...] = ()) -> dict[Decimal, int]:
    """How many of each size are in the tray. The packs of `but` count as put back: they are to be chosen anew."""
    left = dict(state.procedure.stock[stock].sizes)
    for changed in state.facts.of(StockChanged):
        if changed.entry.stock == stock:
            left[changed.entry.size] = left.get(changed.entry.size, 0) + changed.entry.number
    for key, row in standing_packs(state.facts).items():
        if row.entry.stock != stock or key in but:
            continue
        for piece in row.entry.pieces:
            left[piece] = left.get(piece, 0) - 1
    return {size: max(0, count) for size, count in left.items()}


def wanted_by(state: State, name: str, computed: Computed, row: Row[Reading]) -> Wanted:
    """The pack for a computed value, in the unit of its stock."""
    assert computed.stock is not None
    assert row.entry.value is not None
    unit = state.procedure.stock[computed.stock].unit
    middle = convert(row.entry.value, row.entry.unit, unit)
    off = convert(computed.within or Decimal(0), row.entry.unit, unit)
    first = None if computed.first is None else to_decimal(convert(computed.first, row.entry.unit, unit))
    return Wanted(
        names=computed.packs or (name.replace("_", " "),),
        stock=computed.stock,
        low=to_decimal(middle - off),
        high=to_decimal(middle + off),
        unit=unit,
        first=first,
        pieces=computed.pieces,
        place=row.entry.place,
        reading=row.n,
    )


def packs_owed(state: State, step: Step) -> tuple[Wanted, ...]:
    """Packs that the computed values of a step ask for, and that were not taken yet."""
    if step.measure is None:
        return ()
    newest = verdicts(state.facts)
    taken = {row.entry.reading for row in state.facts.of(PackTaken)}
    decided = {row.entry.reading for row in state.facts.of(Decision)}
    owed = []
    for name, computed in step.measure.computed.items():
        if computed.stock is None or (step.measure.out is not None and step.measure.out.pack == name):
            continue
        for place in places_of_computed(step.measure, computed):
            row = computed_row(state.facts, step.step, name, place)
            if row is None or row.n in taken:
                continue
            judged = newest.get(row.n)
            if judged is None or judged.entry.outcome == "in limits" or row.n in decided:
                owed.append(wanted_by(state, name, computed, row))
    return tuple(owed)


def ways_for(state: State, wanted: Wanted) -> tuple[Way, ...]:
    """Every way to make what is wanted from the tray, the best first."""
    tray = at_hand(state, wanted.stock, but=tuple((name, wanted.place) for name in wanted.names))
    if len(wanted.names) == 1:
        alone = packs(tray, wanted.low, wanted.high, fewest=wanted.fewest, most=wanted.pieces)
        return tuple((pack,) for pack in alone)
    first = wanted.first if wanted.first is not None else to_decimal(Fraction(wanted.aim) / 2)
    near = nearest(tray, first, wanted.pieces)
    spare = abs(near.total - first) if near is not None else Decimal(0)
    step = min((size for size, count in tray.items() if count), default=first)
    while True:
        found = two_packs(tray, wanted.low, wanted.high, first, most=wanted.pieces, spare=spare)
        if found or spare >= max(first, wanted.high):
            return tuple(found)
        spare, step = spare + step, 2 * step  # the first pack gives way where the second can't be made


# Words ---------------------------------------------------------------------------------------------------------------


def say_piece(size: Decimal, unit: str) -> str:
    """One piece as it is called at the tray: "point one five", "point three", "one"; in thou "two and a half"."""
    return say_number(_short(size), fractions=unit in FRACTION_UNITS).removeprefix("zero ")


def say_total(total: Decimal, unit: str) -> str:
    """A total with its unit; below a millimetre in hundredths: "fifteen hundredths", "one point three millimetres"."""
    total = to_say(total, unit)
    hundredths = total.scaleb(2)
    if unit == "mm" and abs(total) < 1 and hundredths == hundredths.to_integral_value():
        return f"{say_count(int(hundredths))} {'hundredth' if hundredths == 1 else 'hundredths'}"
    return say_quantity(_short(total), unit)


def _short(value: Decimal) -> Decimal:
    whole = value.to_integral_value()
    return whole if whole == value else value.normalize()


def say_pieces(pack: Pack, unit: str) -> str:
    """The pieces alone, the thinnest first, as they are stacked by hand."""
    return ", ".join(say_piece(piece, unit) for piece in reversed(pack.pieces))


def say_pack(pack: Pack, unit: str) -> str:
    """A pack in one breath: "point one five, point three, point five gives ninety five hundredths"."""
    if not pack.pieces:
        return "no piece"
    pieces = say_pieces(pack, unit)
    return f"{pieces} gives {say_total(pack.total, unit)}"


def say_off(total: Decimal, wanted: Wanted) -> str:
    """By how much a total misses what is aimed at: "five hundredths short"; empty where it doesn't."""
    off = to_decimal(Fraction(total) - Fraction(wanted.aim))
    return f"{say_total(abs(off), wanted.unit)} {'over' if off > 0 else 'short'}" if off else ""


def say_way(wanted: Wanted, way: Way) -> str:
    """One pack, or two with their names and their sum."""
    if len(way) == 1:
        return say_pack(way[0], wanted.unit)
    each = [f"{name} {say_pack(pack, wanted.unit)}" for name, pack in zip(wanted.names, way, strict=True)]
    total = to_decimal(sum((Fraction(pack.total) for pack in way), Fraction(0)))
    return f"{'; '.join(each)}; together {say_total(total, wanted.unit)}"


def say_names(wanted: Wanted) -> str:
    """What the packs are called, with their place: "left pack and right pack", "shim, left"."""
    return ", ".join(filter(None, (say_list(list(wanted.names)), say_place(wanted.place))))


def say_wanted(wanted: Wanted) -> str:
    """What a pack is wanted for: "pinion pack, one point two nine millimetres"."""
    return f"{say_names(wanted)}, {say_total(wanted.aim, wanted.unit)}"


def say_none(state: State, wanted: Wanted) -> tuple[str, ...]:
    """Why nothing does: the nearest pack, by how much it misses, and the piece that would help."""
    tray = at_hand(state, wanted.stock, but=tuple((name, wanted.place) for name in wanted.names))
    if wanted.aim <= 0:
        return ("Nothing in the tray is thin enough",)
    said = [f"Nothing in the tray makes {say_total(wanted.aim, wanted.unit)}"]
    most = wanted.pieces * len(wanted.names)
    near = nearest(tray, wanted.aim, most)
    if near is None:
        return ("The tray is empty",)
    said.append(f"Nearest: {say_pack(near, wanted.unit)}, {say_off(near.total, wanted) or 'but not as two packs'}")
    try:
        lacking = missing(tray, wanted.low, wanted.high, most)
    except BadStock:  # far more ways than can be meant
        lacking = ()
    if lacking:
        sizes = say_list([say_piece(size, wanted.unit) for size in lacking[:3]], last="or")
        said.append(f"What is missing: {sizes}. Add to the tray what you find")
    else:
        under = nearest(tray, wanted.aim, most - 1, below=True)
        short = to_decimal(Fraction(wanted.aim) - Fraction(under.total if under is not None else 0))
        said.append(f"What is missing: a piece of {say_total(short, wanted.unit)}")
    return tuple(said)


def say_tray(state: State, stock: str) -> str:
    """What is in the tray: "two of one, three of point five"."""
    held = at_hand(state, stock)
    each = state.procedure.stock[stock]
    left = [(size, count) for size, count in sorted(held.items(), reverse=True) if count]
    counts = [f"{say_count(count)} of {say_piece(size, each.unit)}" for size, count in left]
    return f"{each.what}, in {say_unit(each.unit)}: {say_list(counts)}" if counts else f"No {each.what} in the tray"
