"""The tray: what packs it makes, taking one that was named, what it holds, pieces that came or went.

Asking moves nothing; "take it", "add to the tray" and "lost from the tray" do.
"""

import re
from decimal import Decimal
from fractions import Fraction

from benchvoice.quantity.units import convert, kind_of, to_decimal
from benchvoice.session.commands.table import Command
from benchvoice.session.entries import StockChanged
from benchvoice.session.figures import figure_in, note_figure, which_figure
from benchvoice.session.packing import Offer, every_way, take_packs, wanted_on_way_out
from benchvoice.session.plan import current_step, title_of
from benchvoice.session.questions import aside, listed, one_of, yes_or_no
from benchvoice.session.state import State
from benchvoice.session.stock import (
    Wanted,
    Way,
    at_hand,
    packs_owed,
    say_none,
    say_off,
    say_pack,
    say_piece,
    say_pieces,
    say_tray,
    say_wanted,
    say_way,
    standing_packs,
)
from benchvoice.session.turn import Turn
from benchvoice.speech.counts import whole_number
from benchvoice.speech.readings import Context
from benchvoice.speech.say import say_count, say_digits
from benchvoice.speech.tokens import words_of

MOST_SAID = 5
"""Ways that are said in one breath; how many more there are is said after them."""
ORDINALS = ("first", "second", "third", "fourth", "fifth")


def _stocks(state: State, words: str) -> tuple[str, ...]:
    """The stocks that may be meant: the one whose name was said, else the one of the step in hand, else all."""
    stock = state.procedure.stock
    named = tuple(name for name, each in stock.items() if each.what.rstrip("s") in words)
    if named or len(stock) < 2:
        return named or tuple(stock)
    step = current_step(state)
    here = {each.stock for each in step.measure.computed.values() if each.stock} if step and step.measure else set()
    return tuple(here) if len(here) == 1 else tuple(stock)


def _context(state: State, stock: str) -> Context:
    """Sizes of a stock: from its thinnest piece to all of it together."""
    each = state.procedure.stock[stock]
    whole = sum((Fraction(size) * max(1, count) for size, count in each.sizes.items()), Fraction(0))
    work, low, high = state.procedure.work, min(each.sizes), to_decimal(whole)
    return Context(unit=each.unit, work=work, low=low, high=high, resolution=Decimal("0.01"))


def _within(state: State, stock: str) -> Decimal:
    """How far a pack from this stock may be off, as its computed values have it: the nearest of them."""
    unit = state.procedure.stock[stock].unit
    allowed = [
        convert(computed.within or Decimal(0), computed.unit or step.measure.unit, unit)
        for step in state.procedure.steps
        if step.measure is not None
        for computed in step.measure.computed.values()
        if computed.stock == stock
    ]
    return to_decimal(min(allowed, default=Fraction(0)))


def which_shims(turn: Turn, rest: str) -> None:
    """Every pack that makes a size, the best first, in one breath. Nothing is taken."""
    said = turn.utterance.text.lower() if turn.utterance is not None else rest
    stocks = _stocks(turn.state, said)
    if not stocks:
        turn.say("This procedure has no stock to choose from")
        return
    if len(stocks) > 1:
        names = {turn.state.procedure.stock[name].what: name for name in stocks}

        def then(inner: Turn, what: str) -> None:
            _say_ways(inner, names[what], rest)

        turn.ask(aside(one_of("which stock", f"From which: {listed(names)}?", names, then)))
        return
    _say_ways(turn, stocks[0], rest)


def _needed(turn: Turn, _rest: str) -> None:
    """The pack that the step in hand asks for, or its way out would, the best way alone; else what is in the tray."""
    step = current_step(turn.state)
    owed = packs_owed(turn.state, step) if step is not None else ()
    wanted = owed[0] if owed else wanted_on_way_out(turn.state, step) if step is not None else None
    if wanted is None:
        turn.say("No pack is asked for here")
        _tray(turn, "")
        return
    ways = every_way(turn.state, wanted)
    turn.say(say_wanted(wanted), *((say_way(wanted, ways[0]),) if ways else say_none(turn.state, wanted)))


def _say_ways(turn: Turn, stock: str, rest: str) -> None:
    state = turn.state
    unit = state.procedure.stock[stock].unit
    words = _without(rest, state.procedure.stock[stock].what)
    heard = figure_in(words, _context(state, stock))
    if heard is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != kind_of(unit):
        turn.say(which_figure(words, _context(state, stock)))
        return
    size, within = convert(heard.value, heard.unit, unit), _within(state, stock)
    wanted = Wanted(("pack",), stock, to_decimal(size - Fraction(within)), to_decimal(size + Fraction(within)), unit)
    ways = every_way(state, wanted)
    exact = tuple(way for way in ways if Fraction(way[0].total) == size)
    ways = exact or ways
    note_figure(turn, to_decimal(size), unit)
    turn.talk(offer=None)
    if not ways:
        turn.say(*say_none(state, wanted))
        return
    turn.talk(offer=Offer("", wanted, ways, lambda way: say_pack(way[0], unit)))
    turn.say(_in_one_breath(wanted, ways))


def _without(rest: str, what: str) -> str:
    """The size without the name of the stock before or after it."""
    words = rest.removeprefix(f"{what} for ").removesuffix(f" {what}")
    return words.removesuffix(" of")


def _in_one_breath(wanted: Wanted, ways: tuple[Way, ...]) -> str:
    """Pieces of each way; the total is said once where all have it."""
    said: list[str] = []
    before = None
    for (pack,) in ways[:MOST_SAID]:
        off = say_off(pack.total, wanted)
        whole = f"{say_pack(pack, wanted.unit)}{off and ', ' + off}"
        said.append(say_pieces(pack, wanted.unit) if pack.total == before else whole)
        before = pack.total
    more = len(ways) - MOST_SAID
    return "; or ".join(said) + (f"; and {say_count(more)} more" if more > 0 else "")


# Taking --------------------------------------------------------------------------------------------------------------


def _take_it(turn: Turn, rest: str) -> None:
    """Take the pack that was named: log it, and its pieces are out of the tray."""
    offer = turn.state.talk.offer
    at = ORDINALS.index(rest.removesuffix(" one")) if rest.removesuffix(" one") in ORDINALS else 0
    if offer is None or at >= len(offer.ways):
        turn.say('No pack was named. Say "what shims for" and the size')
        return
    names = _names(turn.state, offer.wanted.stock)
    if len(names) == 1:
        _take_as(turn, offer, at, names[0])
        return

    def then(inner: Turn, name: str) -> None:
        _take_as(inner, offer, at, name)

    turn.ask(one_of("which pack", f"Which pack is it: {listed(names)}?", names, then))


def _names(state: State, stock: str) -> tuple[str, ...]:
    """What packs from this stock are called, and one more for a pack that the procedure doesn't name."""
    named = tuple(
        dict.fromkeys(
            name
            for step in state.procedure.steps
            if step.measure is not None
            for key, computed in step.measure.computed.items()
            if computed.stock == stock
            for name in (computed.packs or (key.replace("_", " "),))
        )
    )
    return (*named, "another")


def _take_as(turn: Turn, offer: Offer, at: int, name: str) -> None:
    step = current_step(turn.state)
    title = title_of(step) if step is not None else ""
    pack = f"pack at {title}" if name == "another" else name
    before = standing_packs(turn.state.facts).get((pack, ()))
    owed = [each for each in (packs_owed(turn.state, step) if step is not None else ()) if each.names == (pack,)]
    reading = before.entry.reading if before is not None else owed[0].reading if owed else None
    wanted = offer.wanted
    mine = Wanted((pack,), wanted.stock, wanted.low, wanted.high, wanted.unit, reading=reading)
    where = before.entry.step if before is not None else step.step if step is not None else ""
    turn.talk(offer=None)
    held = at_hand(turn.state, wanted.stock, but=((pack, ()),))
    way = offer.ways[at]
    if any(way[0].pieces.count(piece) > held.get(piece, 0) for piece in way[0].pieces):
        turn.say("Its pieces are not all in the tray any more. Ask again")
        return
    take_packs(turn, Offer(where, mine, (way,), offer.say, reason="as the person asked"), way)


# What is in the tray --------------------------------------------------------------------------------------------------


def _tray(turn: Turn, _rest: str) -> None:
    stocks = tuple(turn.state.procedure.stock)
    turn.say(*(say_tray(turn.state, name) for name in stocks) if stocks else ("This procedure has no stock",))


_COUNTED = re.compile(r"(?:(?P<count>one|two|three|four|five|six) (?:[a-z]+ )??of )?(?P<size>.+)")


class _Change:
    """Pieces that come into the tray (1) or are lost to it (-1): "two of point one five"."""

    def __init__(self, sign: int) -> None:
        self.sign = sign

    def __call__(self, turn: Turn, rest: str) -> None:
        stocks = _stocks(turn.state, rest)
        if len(stocks) != 1:
            names = listed((each.what for each in turn.state.procedure.stock.values()), "or")
            turn.say(f"Of which: {names}? Say it with the name" if names else "This procedure has no stock")
            return
        stock = stocks[0]
        each = turn.state.procedure.stock[stock]
        found = _COUNTED.fullmatch(_without(rest, each.what))
        assert found is not None
        number = self.sign * (whole_number(found["count"]) or 1 if found["count"] else 1)
        heard = figure_in(found["size"], _context(turn.state, stock))
        if heard is None or heard.value is None or heard.unit is None or kind_of(heard.unit) != kind_of(each.unit):
            turn.say(which_figure(found["size"], _context(turn.state, stock)))
            return
        size = _as_listed(to_decimal(convert(heard.value, heard.unit, each.unit)), each.sizes)
        if number < 0 and at_hand(turn.state, stock).get(size, 0) < -number:
            turn.say(f"There are not so many of {say_piece(size, each.unit)} in the tray")
            return
        _confirm_change(turn, stock, size, number, rest)


def _confirm_change(turn: Turn, stock: str, size: Decimal, number: int, said: str) -> None:
    side = "more" if number > 0 else "fewer"
    unit = turn.state.procedure.stock[stock].unit

    def yes(inner: Turn) -> None:
        inner.write(StockChanged(stock=stock, size=size, unit=unit, number=number, said=said))
        inner.say(f"{say_count(at_hand(inner.state, stock)[size])} of {say_piece(size, unit)} in the tray")

    def no(inner: Turn) -> None:
        inner.say("The tray stays as it was")

    prompt = f"{say_count(abs(number))} {side} of {say_digits(size)}. Yes or no?"
    turn.ask(yes_or_no("confirm stock", prompt, yes, no))


def _as_listed(size: Decimal, sizes: dict[Decimal, int]) -> Decimal:
    """The size with the decimals that the document gives it."""
    return next((each for each in sizes if each == size), size)


def _shims_words(state: State) -> tuple[str, ...]:
    """The openings by the names of the stocks, and figures: none where there is no stock."""
    names = [each.what if each.what in _CALLED else "pack" for each in state.procedure.stock.values()]
    return (*(f"what {name} for" for name in names), *_FIGURES) if names else ()


_CALLED = ("shims", "shim", "pack", "washers", "halves", "thrust halves")
"""What a stock may be asked for by name; any other answers to "what pack for"."""


_FIGURES = (
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty", "thirty", "forty",
    "fifty", "sixty", "seventy", "eighty", "ninety", "point", "hundredths", "and a half",
)  # fmt: skip


def _take_words(state: State) -> tuple[str, ...]:
    """Taking is listened for once packs were named."""
    offer = state.talk.offer
    ways = len(offer.ways) if offer is not None else 0
    return ("take it", *(f"take the {word}" for word in ORDINALS[:ways])) if ways else ()


def _tray_words(state: State) -> tuple[str, ...]:
    return ("what's in the tray",) if state.procedure.stock else ()


def _change_words(state: State) -> tuple[str, ...]:
    return ("add to the tray one of", "lost from the tray one of") if state.procedure.stock else ()


def _has_number(rest: str) -> bool:
    return bool(words_of(rest))


_MAKES = ("for", "four", "make", "makes", "make up")

STOCK = (
    Command(
        name="what shims for",
        leads=(
            *(f"{which} {what} {to}" for which in ("what", "which") for what in _CALLED for to in _MAKES),
            *(f"what {what} do i need for" for what in _CALLED),
            *(f"{what} for" for what in _CALLED),
        ),
        act=which_shims,
        fits=_has_number,
        heard=_shims_words,
    ),
    Command(
        name="take it",
        says=("take it", "take them", "take that pack", "take those"),
        leads=("take the",),
        act=_take_it,
        moves=True,
        fits=lambda rest: rest.removesuffix(" one") in ORDINALS,
        heard=_take_words,
    ),
    Command(
        name="what shims do i need",
        says=(
            "what shims do i need",
            "which shims do i need",
            "what shims",
            "which shims",
            "what pack",
            "what packs",
            "which pack",
        ),
        act=_needed,
        heard=lambda _state: (),
    ),
    Command(
        name="what's in the tray",
        says=(
            "what's in the tray",
            "what is in the tray",
            "what's left in the tray",
            "what shims are left",
            "what shims are there",
            "what shims have i got",
        ),
        act=_tray,
        heard=_tray_words,
    ),
    Command(
        name="add to the tray",
        leads=("add to the tray", "into the tray"),
        act=_Change(1),
        moves=True,
        fits=_has_number,
        heard=_change_words,
    ),
    Command(
        name="lost from the tray",
        leads=("lost from the tray", "out of the tray"),
        act=_Change(-1),
        moves=True,
        fits=_has_number,
        heard=lambda _state: (),
    ),
)
