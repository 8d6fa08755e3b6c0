"""The tray: no piece is in two packs, none is lost, and what is taken back is there again."""

from decimal import Decimal
from itertools import product
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.procedure.load import load_document
from benchvoice.quantity.packs import Pack
from benchvoice.session.entries import PackTaken, StockChanged
from benchvoice.session.state import State
from benchvoice.session.stock import (
    Wanted,
    at_hand,
    say_off,
    say_pack,
    say_piece,
    say_total,
    say_tray,
    standing_packs,
    ways_for,
)
from benchvoice.testing.bench import Bench

D = Decimal
GEAR = Path(__file__).parents[2] / "procedures" / "reduction-gear.yaml"
SAID = st.sampled_from(
    [
        "what shims for one point three",
        "what shims for eighty hundredths",
        "what shims for point four",
        "take it",
        "take the second",
        "take the third",
        "left pack",
        "right pack",
        "pinion pack",
        "another",
        "wrong",
        "yes",
        "add to the tray one of point one five",
        "lost from the tray two of point one",
        "lost from the tray point five",
        "no",
    ]
)


@settings(max_examples=60, deadline=None)
@given(st.lists(SAID, max_size=20), st.integers(0, 20))
def test_pieces_are_kept(said: list[str], kill: int) -> None:
    """What is in the tray and in the packs together is what was listed and what came and went."""
    bench = Bench(GEAR)
    bench.say("ann", "new pair", "yes")
    for at, words in enumerate(said):
        if at == kill:
            bench.kill_and_resume()
            bench.say("ann")
        bench.say(words)
        facts = bench.state.facts
        held = at_hand(bench.state, "shims")
        packs = [row.entry for row in standing_packs(facts).values()]
        assert len(packs) == len(facts.of(PackTaken))
        for size, count in bench.procedure.stock["shims"].sizes.items():
            came = sum(row.entry.number for row in facts.of(StockChanged) if row.entry.size == size)
            assert held[size] >= 0
            assert held[size] + sum(pack.pieces.count(size) for pack in packs) == count + came
        assert all(sum(pack.pieces) == pack.total for pack in packs)


def test_asking_changes_nothing() -> None:
    bench = Bench(GEAR)
    bench.say("ann", "new pair", "yes")
    before = len(bench.written)
    bench.say("what shims for one point three", "what is in the tray", "what shims for tea")
    assert {entry.kind for entry, _ in bench.written[before:]} == {"heard", "said"}


def test_pieces_as_they_are_called() -> None:
    assert say_piece(D("0.15"), "mm") == "point one five"
    assert say_piece(D("1.00"), "mm") == "one"
    assert say_piece(D("2.5"), "thou") == "two and a half"
    assert say_total(D("0.15"), "mm") == "fifteen hundredths"
    assert say_total(D("0.01"), "mm") == "one hundredth"
    assert say_total(D("1.30"), "mm") == "one point three millimetres"
    assert say_total(D("1.2766666667"), "mm") == "one point two seven seven millimetres"
    assert say_total(D("7.5"), "thou") == "seven and a half thou"
    pack = Pack((D("0.50"), D("0.30"), D("0.15")), D("0.95"))
    assert say_pack(pack, "mm") == "point one five, point three, point five gives ninety five hundredths"
    assert say_pack(Pack((), D(0)), "mm") == "no piece"


def test_how_far_a_total_is_off() -> None:
    wanted = Wanted(("pack",), "shims", D("0.10"), D("0.14"), "mm")
    assert say_off(D("0.10"), wanted) == "two hundredths short"
    assert say_off(D("0.15"), wanted) == "three hundredths over"
    assert say_off(D("0.12"), wanted) == ""


def test_the_tray_is_read_out_thickest_first() -> None:
    state = State(load_document(GEAR).procedure)
    assert say_tray(state, "shims") == (
        "shims, in millimetres: two of one, three of point five, three of point three, one of point one five "
        "and five of point one"
    )


SIZES = [D("0.50"), D("0.30"), D("0.15"), D("0.10")]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(0, 2), min_size=4, max_size=4), st.integers(8, 40), st.integers(2, 20))
def test_two_packs_are_found_wherever_there_are_any(counts: list[int], total: int, first: int) -> None:
    """The first pack gives way where the second can't be made of what is left; every way tried as the oracle."""
    gear = load_document(GEAR).procedure
    sizes = dict(zip(SIZES, counts, strict=True))
    tray = gear.stock["shims"].model_copy(update={"sizes": sizes})
    state = State(gear.model_copy(update={"stock": {"shims": tray}}))
    wanted = Wanted(
        ("left", "right"), "shims", D(total) / 20 - D("0.02"), D(total) / 20 + D("0.02"), "mm", D(first) / 20
    )
    ways = ways_for(state, wanted)
    heaps = [range(count + 1) for count in counts]
    splits = [(left, right) for left in product(*heaps) for right in product(*heaps) if any(left) and any(right)]
    feasible = [
        (left, right)
        for left, right in splits
        if all(a + b <= count for a, b, count in zip(left, right, counts, strict=True))
        and sum(left) <= 6
        and sum(right) <= 6
        and wanted.low <= sum((left[at] + right[at]) * size for at, size in enumerate(SIZES)) <= wanted.high
    ]
    assert bool(ways) == bool(feasible)
    for left, right in ways:
        assert wanted.low <= left.total + right.total <= wanted.high
        assert all((left.pieces + right.pieces).count(size) <= count for size, count in sizes.items())
