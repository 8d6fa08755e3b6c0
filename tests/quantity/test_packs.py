from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quantity.packs import BadStock, Pack, less, missing, moves, nearest, packs, two_packs

D = Decimal

# The tray of the shipped reduction gear.
TRAY = {D("1.00"): 2, D("0.50"): 3, D("0.30"): 3, D("0.15"): 1, D("0.10"): 5, D("0.05"): 0}


SIZES = st.sampled_from([D("0.05"), D("0.10"), D("0.15"), D("0.30"), D("0.50"), D("1.00")])
STOCKS = st.dictionaries(SIZES, st.integers(min_value=0, max_value=3), max_size=5)


def pieces(found):
    return [tuple(map(str, pack.pieces)) for pack in found]


def test_pinion_of_the_reduction_gear():
    # 111.38 - 18.04 - 92.05 is 1.29; 1.30 is made of one and three tenths first.
    found = packs(TRAY, D("1.27"), D("1.31"), aim=D("1.29"))
    assert pieces(found)[0] == ("1.00", "0.30")
    assert found[0].total == D("1.30")


def test_every_pack_the_best_first():
    assert pieces(packs({D("0.5"): 2, D("0.3"): 2, D("0.2"): 2}, D("0.5"), D("0.8"), aim=D("0.7"))) == [
        ("0.5", "0.2"),
        ("0.3", "0.2", "0.2"),
        ("0.5", "0.3"),
        ("0.3", "0.3"),
        ("0.3", "0.3", "0.2"),
        ("0.5",),
        ("0.3", "0.2"),
    ]


def test_the_middle_is_aimed_at_unless_told():
    stock = {D("0.4"): 1, D("0.5"): 1, D("0.6"): 1}
    assert pieces(packs(stock, D("0.4"), D("0.6")))[0] == ("0.5",)
    assert pieces(packs(stock, D("0.4"), D("0.6"), aim=D("0.6")))[0] == ("0.6",)


def test_thrust_washers_of_the_bottom_end():
    # Two washers a side from standard, two and a half and five over: exactly two pieces.
    stock = {D("0.091"): 2, D("0.0935"): 2, D("0.096"): 2}
    found = packs(stock, D("0.1840"), D("0.1880"), aim=D("0.1870"), fewest=2, most=2)
    assert pieces(found)[0] == ("0.096", "0.091")
    assert all(len(pack.pieces) == 2 for pack in found)


def test_limits_of_the_total_are_in():
    assert pieces(packs({D("0.5"): 1}, D("0.5"), D("0.5"))) == [("0.5",)]
    assert packs({D("0.5"): 1}, D("0.51"), D("0.6")) == []
    assert packs({D("0.5"): 1}, D("0.4"), D("0.49")) == []


def test_no_shim_at_all_may_be_a_pack():
    assert packs({D("0.5"): 1}, D("0"), D("0.4"), fewest=0) == [Pack((), D(0))]
    assert packs({D("0.5"): 1}, D("0"), D("0.4")) == []
    assert packs({}, D("0.1"), D("0.2")) == []


def test_no_more_pieces_than_asked():
    stock = {D("0.1"): 9}
    assert packs(stock, D("0.7"), D("0.7")) == []  # six at most unless told
    assert pieces(packs(stock, D("0.6"), D("0.6"))) == [("0.1",) * 6]
    assert pieces(packs(stock, D("0.7"), D("0.7"), most=7)) == [("0.1",) * 7]
    assert packs(stock, D("0.7"), D("0.7"), most=0) == []


@pytest.mark.parametrize("stock", [{D("0"): 1}, {D("-0.1"): 1}, {D("0.1"): -1}])
def test_a_stock_that_cannot_be(stock):
    with pytest.raises(BadStock, match="is not a stock: thicknesses are above nought and counts not below it"):
        packs(stock, D("0.1"), D("0.2"))


def test_limits_the_wrong_way_round():
    with pytest.raises(BadStock, match=r"a pack of 0\.3 at least and 0\.2 at most can't be: swap them"):
        packs(TRAY, D("0.3"), D("0.2"))


def test_a_question_too_wide_is_refused():
    wide = {D(n) / 100: 9 for n in range(1, 40)}
    with pytest.raises(BadStock, match=r"more than 20000 packs make 0\.1 to 9: ask for fewer pieces or nearer limits"):
        packs(wide, D("0.1"), D(9))


def brute_force(stock, low, high, most):
    """Every way to take from every heap, tried."""
    for counts in product(*(range(count + 1) for count in stock.values())):
        total = sum(size * count for size, count in zip(stock, counts, strict=True))
        if low <= total <= high and 1 <= sum(counts) <= most:
            yield tuple(
                sorted((size for size, count in zip(stock, counts, strict=True) for _ in range(count)), reverse=True)
            )


@given(
    STOCKS,
    st.decimals(places=2, min_value=0, max_value=3),
    st.decimals(places=2, min_value=0, max_value=1),
    st.integers(min_value=1, max_value=7),
)
def test_as_many_as_brute_force_and_in_order(stock, low, width, most):
    high = low + width
    found = packs(stock, low, high, most=most)
    assert sorted(pack.pieces for pack in found) == sorted(brute_force(stock, low, high, most))
    middle = (low + high) / 2
    distances = [(abs(pack.total - middle), len(pack.pieces)) for pack in found]
    assert distances == sorted(distances)
    assert all(pack.total == sum(pack.pieces) for pack in found)


@given(STOCKS, st.decimals(places=2, min_value=0, max_value=5), st.integers(min_value=1, max_value=7))
def test_nearest_as_brute_force(stock, wanted, most):
    every = {sum(pieces) for pieces in brute_force(stock, D(0), D(100), most)}
    for below, totals in ((False, every), (True, {total for total in every if total <= wanted})):
        found = nearest(stock, wanted, most, below=below)
        if not totals:
            assert found is None
            continue
        assert found.total == sum(found.pieces) == min(totals, key=lambda total: (abs(total - wanted), total))
        assert found.pieces in set(brute_force(stock, found.total, found.total, most))


@given(STOCKS, st.decimals(places=2, min_value=0, max_value=3), st.decimals(places=2, min_value=0, max_value=D("0.1")))
def test_what_is_missing_would_do(stock, low, width):
    lacking = missing(stock, low, low + width)
    for size in stock:
        more = {**stock, size: stock[size] + 1}
        assert (size in lacking) == bool(list(brute_force(more, low, low + width, 6)))


def test_what_is_missing_for_the_wheel_of_the_reduction_gear():
    """The pinion took the only 0.15: no two packs make 1.64 to 1.68 without one of the odd sizes."""
    left = {D("1.00"): 1, D("0.50"): 3, D("0.30"): 3, D("0.15"): 0, D("0.10"): 3, D("0.05"): 0}
    assert two_packs(left, D("1.64"), D("1.68"), D("0.80")) == []
    assert nearest(left, D("1.66")).total == D("1.7")
    assert missing(left, D("1.64"), D("1.68")) == (D("0.15"), D("0.05"))


def test_nothing_is_nearest_in_an_empty_tray():
    assert nearest({D("0.10"): 0}, D("0.10")) is None
    assert nearest({D("0.10"): 1}, D("0.05"), below=True) is None


def test_what_is_left_in_the_tray():
    left = less(TRAY, [D("1.00"), D("0.30")])
    assert left == {**TRAY, D("1.00"): 1, D("0.30"): 2}
    assert TRAY[D("1.00")] == 2
    assert less(left, [D("1.00")])[D("1.00")] == 0
    for gone in (D("0.05"), D("0.20")):
        with pytest.raises(BadStock, match=f"there is no {gone} left in the tray: count it again"):
            less(TRAY, [gone])
    with pytest.raises(BadStock):
        less(TRAY, [D("0.15"), D("0.15")])


def test_wheel_of_the_reduction_gear():
    # After the pinion took its own: sum for the preload 1.64 to 1.68, left pack 0.80.
    found = two_packs(less(TRAY, [D("1.00"), D("0.30")]), D("1.64"), D("1.68"), D("0.80"))
    left, right = found[0]
    assert tuple(map(str, left.pieces)) == ("0.50", "0.30")
    assert sorted(map(str, right.pieces)) == ["0.10", "0.10", "0.15", "0.50"]
    assert left.total + right.total == D("1.65")


@given(
    st.dictionaries(SIZES, st.integers(min_value=0, max_value=2), max_size=4),
    st.decimals(places=2, min_value=0, max_value=2),
    st.decimals(places=2, min_value=0, max_value=1),
)
def test_two_packs_as_brute_force(stock, low, left):
    high = low + D("0.1")
    heaps = [(size, count) for size, count in stock.items() if count]
    ways = set()
    for ones in product(*(range(count + 1) for _, count in heaps)):
        for others in product(*(range(count - one + 1) for (_, count), one in zip(heaps, ones, strict=True))):
            totals = [sum(size * n for (size, _), n in zip(heaps, side, strict=True)) for side in (ones, others)]
            if sum(ones) and sum(others) and totals[0] == left and low <= sum(totals) <= high:
                ways.add((ones, others))
    found = two_packs(stock, low, high, left, most=9)
    assert len(found) == len(ways)
    assert all(one.total == left and low <= one.total + other.total <= high for one, other in found)


def test_shim_moved_from_side_to_side_keeps_the_sum():
    found = two_packs(less(TRAY, [D("1.00"), D("0.30")]), D("1.65"), D("1.65"), D("0.75"))
    left, right = found[0]
    assert (left.total, right.total) == (D("0.75"), D("0.90"))


def test_left_pack_may_be_off_by_what_is_allowed():
    stock = {D("0.50"): 2, D("0.30"): 1}
    assert two_packs(stock, D("0.80"), D("1.00"), D("0.45")) == []
    found = two_packs(stock, D("0.80"), D("1.00"), D("0.45"), spare=D("0.15"))
    assert [(one.total, other.total) for one, other in found] == [
        (D("0.50"), D("0.50")),
        (D("0.50"), D("0.30")),
        (D("0.30"), D("0.50")),
    ]


def test_of_equal_sums_the_fewest_pieces():
    stock = {D("0.4"): 2, D("0.2"): 3, D("0.1"): 1}
    found = two_packs(stock, D("0.8"), D("0.8"), D("0.4"))
    counts = [len(one.pieces) + len(other.pieces) for one, other in found]
    assert counts == sorted(counts)
    assert found[0] == (Pack((D("0.4"),), D("0.4")), Pack((D("0.4"),), D("0.4")))
    assert all(len(one.pieces) == 1 for one, _ in two_packs(stock, D("0.8"), D("0.8"), D("0.4"), most=1))


def test_two_packs_come_from_one_tray():
    stock = {D("0.5"): 1}
    assert two_packs(stock, D("1.0"), D("1.0"), D("0.5")) == []


def test_both_packs_keep_to_the_most_pieces():
    stock = {D("0.5"): 1, D("0.1"): 5}
    assert two_packs(stock, D("1.0"), D("1.0"), D("0.5"), most=4) == []
    assert len(two_packs(stock, D("1.0"), D("1.0"), D("0.5"), most=5)) == 2


def test_sum_nearest_the_middle_comes_first():
    stock = {D("0.50"): 1, D("0.30"): 1, D("0.40"): 1, D("0.45"): 1}
    found = two_packs(stock, D("0.80"), D("1.00"), D("0.50"))
    assert [other.total for _, other in found] == [D("0.40"), D("0.45"), D("0.30")]


# The wheel of the shipped reduction gear: what is in the tray and in both packs once the pinion took 1.00 + 0.30.
WHEEL = {D("1.00"): 1, D("0.50"): 3, D("0.30"): 2, D("0.15"): 1, D("0.10"): 5}
CHANGE = D("0.658")  # 2 tan 20 deg sin 64.7 deg


def test_shim_moved_brings_the_backlash_in():
    """Scenario: 0.05 moved from 0.80 and 0.85 makes 0.75 and 0.90; a backlash of 0.224 falls to about 0.191."""
    found = moves(WHEEL, (D("0.80"), D("0.85")), D("0.224"), (D("0.13"), D("0.20")), CHANGE)
    assert str(found[0].moved) == "0.1"
    assert round(float(found[0].value), 3) == 0.158
    small = next(move for move in found if move.moved == D("0.05"))
    assert (small.first.total, small.second.total) == (D("0.75"), D("0.9"))
    assert small.value == Fraction(224, 1000) - Fraction(5, 100) * Fraction(658, 1000)


@given(
    st.decimals(places=3, min_value=D("0.05"), max_value=D("0.40")),
    st.sampled_from([D("0.658"), D("-0.658"), D("1.2")]),
    st.sampled_from([(D("0.80"), D("0.85")), (D("0.50"), D("1.15")), (D("1.00"), D("0.30"))]),
)
def test_moves_as_brute_force(value, change, now):
    aim = (D("0.13"), D("0.20"))
    found = moves(WHEEL, now, value, aim, change)
    every = set()
    for one in brute_force(WHEEL, D(0), sum(now), 6):
        rest = {size: count - one.count(size) for size, count in WHEEL.items()}
        for other in brute_force(rest, sum(now) - sum(one), sum(now) - sum(one), 6):
            if sum(one) != now[0] and aim[0] <= value - (now[0] - sum(one)) * change <= aim[1]:
                every.add((one, other))
    assert {(move.first.pieces, move.second.pieces) for move in found} == every
    assert all(sum(move.first.pieces) + sum(move.second.pieces) == sum(now) for move in found)
    distances = [abs(move.value - Fraction(165, 1000)) for move in found]
    assert distances == sorted(distances)


def test_a_move_that_changes_nothing_is_refused():
    with pytest.raises(BadStock, match="a change other than nought"):
        moves(WHEEL, (D("0.80"), D("0.85")), D("0.224"), (D("0.13"), D("0.20")), D(0))
