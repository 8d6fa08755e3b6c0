"""Reckonings that choose: fits by name, shims and packs from stock, leaves, matched sets."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from benchvoice.app.reckoning.fields import amount, maybe, measure, name, number, proportion, several, size, tray, whole
from benchvoice.app.reckoning.model import BadReckoning, Reckoning
from benchvoice.quantity import feelers, iso286, matching, packs, shims
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.packs import Pack
from benchvoice.quantity.units import to_decimal
from benchvoice.quantity.values import Quantity, quantity

Results = Mapping[str, Any]
Tray = tuple[dict[Decimal, int], str]

# A person at a bench is told this many ways; the first is the best.
_MOST_SHOWN = 12


def _in(value: Quantity, unit: str) -> Decimal:
    return to_decimal(value.in_unit(unit), 30)


def _fit(nominal: Quantity, fit: str) -> Results:
    found = iso286.fit_named(_in(nominal, "mm"), fit)
    return {
        "hole": found.hole,
        "shaft": found.shaft,
        "clearance_least": Quantity(value=found.clearance_least, unit="um"),
        "clearance_most": Quantity(value=found.clearance_most, unit="um"),
        "fit": str(found.kind),
    }


def _tolerance(size: Quantity, grade: str) -> Results:
    return {"tolerance": Quantity(value=iso286.tolerance(_in(size, "mm"), grade), unit="um")}


def _limits(low: Quantity, high: Quantity, unit: str) -> Limits:
    return Limits(low=_in(low, unit), high=_in(high, unit), unit=unit)


def _shim(fitted: Quantity, play: Quantity, low: Quantity, high: Quantity, stock: Tray) -> Results:
    unit = stock[1]
    in_stock = [thickness for thickness, count in stock[0].items() if count]
    choice = shims.choose_shim(_in(fitted, unit), _in(play, unit), _limits(low, high, unit), in_stock)
    return {
        "needed": Quantity(value=choice.needed, unit=unit),
        "shims": [Quantity(value=shim, unit=unit) for shim in choice.shims],
        "plays": [Quantity(value=play, unit=unit) for play in choice.plays],
        "in_limits": choice.in_limits,
    }


def _preload_shim(gap: Quantity, preload: Quantity) -> Results:
    return {"shim": shims.preload_shim(gap, preload)}


def _clearance_shim(depth: Quantity, width: Quantity, clearance: Quantity) -> Results:
    return {"shim": shims.clearance_shim(depth, width, clearance)}


def _pack(stock: Tray, low: Quantity, high: Quantity, aim: Quantity | None, most: int) -> Results:
    sizes, unit = stock
    found = packs.packs(sizes, _in(low, unit), _in(high, unit), None if aim is None else _in(aim, unit), most=most)
    if not found:
        raise BadReckoning("no pack from this tray makes it: look for more stock or wider limits")
    return {"ways": len(found), "total": Quantity(value=found[0].total, unit=unit), **_shown(found, unit)}


def _shown(found: list[Pack], unit: str) -> Results:
    return {"unit": unit, "packs": [list(pack.pieces) for pack in found[:_MOST_SHOWN]]}


def _two_packs(stock: Tray, low: Quantity, high: Quantity, left: Quantity, spare: Quantity | None) -> Results:
    sizes, unit = stock
    around = Decimal(0) if spare is None else _in(spare, unit)
    found = packs.two_packs(sizes, _in(low, unit), _in(high, unit), _in(left, unit), spare=around)
    if not found:
        raise BadReckoning("no two packs from this tray make it: look for more stock or wider limits")
    return {
        "ways": len(found),
        "unit": unit,
        "left_and_right": [[list(one.pieces), list(other.pieces)] for one, other in found[:_MOST_SHOWN]],
    }


def _move(
    stock: Tray, left: Quantity, right: Quantity, value: Quantity, low: Quantity, high: Quantity, change: Decimal
) -> Results:
    sizes, unit = stock
    now = _in(left, unit), _in(right, unit)
    found = packs.moves(sizes, now, value.in_unit(unit), (low.in_unit(unit), high.in_unit(unit)), change)
    if not found:
        raise BadReckoning("no move with the sum kept brings it in: look for more stock or wider limits")
    return {
        "ways": len(found),
        "moved": Quantity(value=found[0].moved, unit=unit),
        "value": quantity(found[0].value, unit),
        "unit": unit,
        "left_and_right": [[list(one.first.pieces), list(one.second.pieces)] for one in found[:_MOST_SHOWN]],
    }


def _nearest_pack(stock: Tray, want: Quantity) -> Results:
    sizes, unit = stock
    near = packs.nearest(sizes, _in(want, unit))
    if near is None:
        raise BadReckoning("the tray is empty: give what is in it")
    return {"total": Quantity(value=near.total, unit=unit), "unit": unit, "pack": list(near.pieces)}


def _lash(old: Quantity, measured: Quantity, low: Quantity, high: Quantity, step: Quantity) -> Results:
    unit = old.unit
    found = shims.lash_shim(old.value, _in(measured, unit), _limits(low, high, unit), _in(step, unit))
    return {
        "needed": Quantity(value=found.needed, unit=unit),
        "shim": Quantity(value=found.shim, unit=unit),
        "lash": Quantity(value=found.lash, unit=unit),
        "in_limits": found.in_limits,
        "change_needed": found.change_needed,
    }


def _screw(change: Quantity, ratio: Decimal, pitch: Quantity) -> Results:
    return {"turn": shims.screw_turn(change, ratio, pitch)}


def _cold(hot: Quantity, growth: Quantity) -> Results:
    return {"cold": shims.cold_lash(hot, growth)}


def _leaves(want: Quantity, leaves: Tray) -> Results:
    sizes, unit = leaves
    found = feelers.stacks(_in(want, unit), list(sizes))
    if not found:
        near = feelers.nearest_stack(_in(want, unit), list(sizes)) or ()
        said = f"the nearest is {', '.join(map(str, near))} {unit}" if near else "give leaves"
        raise BadReckoning(f"no leaves make {want}: {said}")
    return {"unit": unit, "stacks": [list(stack) for stack in found]}


def _gap(goes: Quantity, wont: Quantity) -> Results:
    gap = feelers.between(goes.value, _in(wont, goes.unit))
    names = {"at_least": gap.low, "below": gap.high, "middle": gap.middle, "u": gap.u}
    return {key: Quantity(value=value, unit=goes.unit) for key, value in names.items()}


def _values(parts: tuple[Quantity, ...], unit: str) -> list[Decimal]:
    return [_in(part, unit) for part in parts]


def _from_one(numbers: tuple[int, ...]) -> list[int]:
    return [number + 1 for number in numbers]


def _pairs(parts: tuple[Quantity, ...]) -> Results:
    unit = parts[0].unit
    found = matching.nearest_pairs(_values(parts, unit))
    return {
        "largest_difference": Quantity(value=found.largest, unit=unit),
        "sum_of_differences": Quantity(value=found.total, unit=unit),
        "pairs": [[_from_one(pair) for pair in pairing] for pairing in found.pairings],
        "only_way": found.unique,
    }


def _totals(first: tuple[Quantity, ...], second: tuple[Quantity, ...]) -> Results:
    unit = first[0].unit
    return _assignment(matching.even_totals(_values(first, unit), _values(second, unit)), unit)


def _clearances(bores: tuple[Quantity, ...], shafts: tuple[Quantity, ...]) -> Results:
    unit = bores[0].unit
    return _assignment(matching.even_clearances(_values(bores, unit), _values(shafts, unit)), unit)


def _assignment(found: matching.Assignment, unit: str) -> Results:
    return {
        "spread": Quantity(value=found.spread, unit=unit),
        "partners": [_from_one(partners) for partners in found.partners],
        "only_way": found.unique,
    }


def _banks(parts: tuple[Quantity, ...]) -> Results:
    unit = parts[0].unit
    found = matching.even_banks(_values(parts, unit))
    return {
        "difference": Quantity(value=found.difference, unit=unit),
        "first_bank": [_from_one(bank) for bank in found.banks],
        "only_way": found.unique,
    }


_PLAY_LOW = amount("the least play wanted", "length", "0.05mm")
_PLAY_HIGH = size("the greatest play wanted", "length", "0.15mm")
_TRAY = tray("what is in the tray: thickness x number", "1.00x2,0.50x3,0.30x3,0.15x1,0.10x5mm")
_TOTAL_LOW = amount("the least total", "length", "1.27mm")
_TOTAL_HIGH = size("the greatest total", "length", "1.31mm")
_ISO_286 = "ISO 286-1:2010 (recalled)"
_TRADE = "arithmetic of the trade"
_SEARCH = "every way tried"

TABLE = (
    Reckoning(
        name="fit",
        fields={"nominal": size("the nominal size", "length", "25mm"), "fit": name("hole and shaft", "H7/g6")},
        formula="nominal + deviations; least clearance EI - es, greatest ES - ei",
        source=_ISO_286,
        function=_fit,
    ),
    Reckoning(
        name="tolerance",
        fields={"size": size("the size", "length", "25mm"), "grade": name("the grade", "IT7")},
        formula="table of standard tolerances",
        source=_ISO_286,
        function=_tolerance,
    ),
    Reckoning(
        name="shim",
        fields={
            "fitted": amount("the shim fitted now", "length", "2.00mm"),
            "play": measure("the play measured with it", "length", "0.28mm"),
            "low": _PLAY_LOW,
            "high": _PLAY_HIGH,
            "stock": tray("the shims in stock", "2.00,2.05,2.10,2.15,2.20,2.25mm"),
        },
        formula="fitted + play - wanted, to the nearest in stock",
        source=_TRADE,
        function=_shim,
    ),
    Reckoning(
        name="preload_shim",
        fields={"gap": size("the gap", "length", "1.42mm"), "preload": measure("the preload", "length", "0.05mm")},
        formula="gap + preload",
        source=_TRADE,
        function=_preload_shim,
    ),
    Reckoning(
        name="clearance_shim",
        fields={
            "depth": size("the depth of the housing", "length", "23.46mm"),
            "width": size("the width of the part", "length", "21.98mm"),
            "clearance": measure("the clearance wanted", "length", "0.05mm"),
        },
        formula="depth - width - clearance",
        source=_TRADE,
        function=_clearance_shim,
    ),
    Reckoning(
        name="pack",
        fields={
            "stock": _TRAY,
            "low": _TOTAL_LOW,
            "high": _TOTAL_HIGH,
            "aim": maybe(size("the total aimed at (left out: the middle)", "length", "1.29mm")),
            "most": whole("the most pieces", "6", default="6"),
        },
        formula="every pack in limits, nearest first, then fewest pieces",
        source=_SEARCH,
        function=_pack,
    ),
    Reckoning(
        name="two_packs",
        fields={
            "stock": _TRAY,
            "low": amount("the least sum", "length", "1.64mm"),
            "high": size("the greatest sum", "length", "1.68mm"),
            "left": amount("the left pack wanted", "length", "0.80mm"),
            "spare": maybe(amount("how far the left may be off", "length", "0.05mm")),
        },
        formula="left nearest, then sum nearest the middle, then fewest pieces",
        source=_SEARCH,
        function=_two_packs,
    ),
    Reckoning(
        name="shim_move",
        fields={
            "stock": tray("what is in the tray and in both packs", "1.00x1,0.50x3,0.30x2,0.15x1,0.10x5mm"),
            "left": amount("the left pack now", "length", "0.80mm"),
            "right": amount("the right pack now", "length", "0.85mm"),
            "value": measure("what it makes now, such as backlash", "length", "0.224mm"),
            "low": measure("the least wanted", "length", "0.13mm"),
            "high": measure("the greatest wanted", "length", "0.20mm"),
            "change": number("what it falls by for each unit moved from left to right", "0.658"),
        },
        formula="value - moved x change, nearest the middle first; left + right kept",
        source=_SEARCH,
        function=_move,
    ),
    Reckoning(
        name="nearest_pack",
        fields={"stock": _TRAY, "want": size("the total wanted", "length", "1.66mm")},
        formula="the total nearest to what is wanted, on a tie the thinner",
        source=_SEARCH,
        function=_nearest_pack,
    ),
    Reckoning(
        name="lash_shim",
        fields={
            "old": size("the shim fitted now", "length", "2.80mm"),
            "measured": amount("the lash measured", "length", "0.12mm"),
            "low": amount("the least lash", "length", "0.15mm"),
            "high": measure("the greatest lash", "length", "0.25mm"),
            "step": size("the step of the stock", "length", "0.05mm"),
        },
        formula="old + measured - wanted, to the nearest step, on a tie the thinner",
        source=_TRADE,
        function=_lash,
    ),
    Reckoning(
        name="lash_screw",
        fields={
            "change": measure("the change of lash at the valve", "length", "0.10mm"),
            "ratio": proportion("the rocker's ratio", "1.5"),
            "pitch": size("the screw's pitch", "length", "1mm"),
        },
        formula="change / ratio / pitch",
        source=_TRADE,
        function=_screw,
    ),
    Reckoning(
        name="cold_lash",
        fields={
            "hot": amount("the lash wanted hot", "length", "0.20mm"),
            "growth": measure("by how much growth closes it, from the maker", "length", "0.05mm"),
        },
        formula="hot + growth",
        source=_TRADE,
        function=_cold,
    ),
    Reckoning(
        name="leaves",
        fields={
            "want": size("the thickness wanted", "length", "0.35mm"),
            "leaves": tray("the leaves of the set", "0.05,0.10,0.15,0.20,0.25,0.30mm"),
        },
        formula="every stack of the fewest leaves",
        source=_SEARCH,
        function=_leaves,
    ),
    Reckoning(
        name="gap",
        fields={
            "goes": amount("the leaf that goes", "length", "0.15mm"),
            "wont": size("the next, that doesn't", "length", "0.20mm"),
        },
        formula="at least, below; u = half the width / sqrt(3)",
        source="GUM 4.3.7",
        function=_gap,
    ),
    Reckoning(
        name="match_pairs",
        fields={"parts": several("the parts", "411.5,412.2,411.9,412.8g")},
        formula="largest difference least, then the sum of differences",
        source=_SEARCH,
        function=_pairs,
    ),
    Reckoning(
        name="match_totals",
        fields={
            "first": several("the first group", "411.5,412.2,411.9,412.8g"),
            "second": several("the second group", "585.0,584.2,586.1,585.3g"),
        },
        formula="spread of the totals least; partner's number for each of the first",
        source=_SEARCH,
        function=_totals,
    ),
    Reckoning(
        name="match_clearances",
        fields={
            "bores": several("the bores", "86.012,86.020mm", kind="length"),
            "shafts": several("the shafts", "85.970,85.962mm", kind="length"),
        },
        formula="spread of the clearances least; shaft's number for each bore",
        source=_SEARCH,
        function=_clearances,
    ),
    Reckoning(
        name="match_banks",
        fields={"parts": several("the parts", "411.5,412.2,411.9,412.8g")},
        formula="difference of the two banks' totals least",
        source=_SEARCH,
        function=_banks,
    ),
)
