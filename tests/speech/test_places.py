"""Places as they are spoken."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.speech.places import FoundPlace, FoundPlaces, find_place, find_places
from benchvoice.speech.say import say_place, say_position

MAINS = {"main": ["one", "two", "three", "four", "five"]}
BORES = {
    "bore": ["one", "two", "three", "four"],
    "depth": ["top", "middle", "bottom"],
    "direction": ["along", "across"],
}
RINGS = {"bore": ["1", "2", "3", "4"], "ring": ["top", "second", "oil"]}
VALVES = {"valve": [str(n) for n in range(1, 9)]}
BOLTS = {"bolt": ["1A", "1B", "2A", "2B"]}
CAPS = {"cap": ["1L", "1R", "2L", "2R"]}
LONG_END = "far end of the long shaft"
TEN = [str(n) for n in range(1, 11)]


@pytest.mark.parametrize(
    ("text", "axes", "place"),
    [
        ("main three", MAINS, ("three",)),
        ("Main 3", MAINS, ("three",)),
        ("number three", MAINS, ("three",)),
        ("main number three", MAINS, ("three",)),
        ("three", MAINS, ("three",)),
        ("bore two top across", BORES, ("two", "top", "across")),
        ("two, top, across", BORES, ("two", "top", "across")),
        ("top across bore two", BORES, ("two", "top", "across")),
        ("the top of bore two across", BORES, ("two", "top", "across")),
        ("valve four", VALVES, ("4",)),
        ("four", VALVES, ("4",)),
        ("two second", RINGS, ("2", "second")),
        ("one a", BOLTS, ("1A",)),
        ("1a", BOLTS, ("1A",)),
        ("bolt two bravo", BOLTS, ("2B",)),
        ("one left", CAPS, ("1L",)),
        ("two r", CAPS, ("2R",)),
        ("cap 2R", CAPS, ("2R",)),
        ("fan end", {"end": ["fan end", "flywheel end"]}, ("fan end",)),
        ("a hundred", {"hole": ["99", "100", "101"]}, ("100",)),
        ("row oscar", {"row": ["n", "o"]}, ("o",)),
        ("o", {"row": ["n", "o"]}, ("o",)),
        ("far end of the long shaft", {"end": ["near end", LONG_END]}, (LONG_END,)),
        ("twenty one", {"nut": [str(n) for n in range(1, 30)]}, ("21",)),
    ],
)
def test_places(text, axes, place):
    assert find_place(text, axes) == FoundPlace(place)


@pytest.mark.parametrize(
    ("text", "axes", "reason"),
    [
        ("six", MAINS, "I don't know the place six"),
        ("three thou", MAINS, "I don't know the place three thou"),
        ("", MAINS, "no place said"),
        ("the", MAINS, "I don't know the place the"),
        ("main", MAINS, "I don't know the place main"),
        ("bore two top", BORES, "which direction?"),
        ("across", BORES, "which bore?"),
        ("one", CAPS, "I don't know the place one"),
        ("two three", MAINS, "I don't know the place two three"),
        ("two", {"inner_face": ["left", "right"], "nut": ["one", "two"]}, "which inner face?"),
    ],
)
def test_what_names_no_one_place(text, axes, reason):
    assert find_place(text, axes) == FoundPlace(None, reason)


def test_two_axes_with_the_same_values_in_order_or_named():
    axes = {"rod": ["one", "two"], "cap": ["one", "two"]}
    assert find_place("rod one cap two", axes).place == ("one", "two")
    assert find_place("cap two rod one", axes).place == ("one", "two")
    assert find_place("one", axes) == FoundPlace(None, "which cap?")
    assert find_place("one two", axes) == FoundPlace(None, "one two or two one?")


def test_what_is_not_said_is_taken_from_the_place_in_hand():
    assert find_place("middle across", BORES, current=("two", "top", "along")).place == ("two", "middle", "across")
    assert find_place("bore three", BORES, current=("two", "top", "along")).place == ("three", "top", "along")
    assert find_place("three", MAINS, current=("one",)).place == ("three",)
    assert find_place("nonsense", BORES, current=("two", "top", "along")).place is None
    assert find_place("middle", BORES, current=("two",)).place is None


def test_an_axis_of_one_value_fills_itself():
    assert find_place("two", {"side": ["left"], "nut": ["one", "two"]}).place == ("left", "two")


def test_names_are_compared_without_stops_dashes_and_case():
    axes = {"end": ["fan-end", "fly_wheel"], "side": ["driver's"]}
    assert find_place("Fan end, drivers.", axes).place == ("fan-end", "driver's")
    assert find_place("fly wheel; driver's!", axes).place == ("fly_wheel", "driver's")
    assert find_place("a", {"row": ["a", "b"]}).place == ("a",)
    assert find_place("hundred", {"speed": ["hundred", "thousand"]}).place == ("hundred",)


def test_words_for_what_the_places_are_of():
    assert find_place("main bearing two", MAINS, names=["bearing"]).place == ("two",)
    assert find_place("bearing two", MAINS).place is None
    assert find_place("main bearing two", MAINS).place is None


@pytest.mark.parametrize(
    ("text", "places"),
    [
        ("seven", "7"),
        ("number seven", "7"),
        ("one to seven", "1 2 3 4 5 6 7"),
        ("one through three", "1 2 3"),
        ("ten to eight", "10 9 8"),
        ("one, two and five", "1 2 5"),
        ("one two five", "1 2 5"),
        ("one to three and seven", "1 2 3 7"),
        ("1-3", "1 2 3"),
        ("1 to 3", "1 2 3"),
        ("all", "1 2 3 4 5 6 7 8 9 10"),
        ("all of them", "1 2 3 4 5 6 7 8 9 10"),
        ("all but seven", "1 2 3 4 5 6 8 9 10"),
        ("all but one to eight", "9 10"),
        ("everything except three and four", "1 2 5 6 7 8 9 10"),
        ("three and three", "3"),
        ("bolts two and three", "2 3"),
    ],
)
def test_lists(text, places):
    assert find_places(text, TEN, names=["bolts"]) == FoundPlaces(tuple(places.split()))


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("", "no place said"),
        ("eleven", "I don't know the place eleven"),
        ("one to", "I don't know the place one to"),
        ("to seven", "I don't know the place to seven"),
        ("all but", "all but which?"),
        ("all but eleven", "all but which?"),
        ("all three", "all but which?"),
        ("and", "I don't know the place and"),
        ("one to to three", "I don't know the place one to to three"),
    ],
)
def test_what_is_no_list(text, reason):
    assert find_places(text, TEN) == FoundPlaces(None, reason)


def test_lists_of_positions_with_sides():
    assert find_places("one left to two left", CAPS["cap"]).places == ("1L", "1R", "2L")
    assert find_places("all but two right", CAPS["cap"]).places == ("1L", "1R", "2L")


@given(st.sampled_from([MAINS, BORES, RINGS, VALVES, BOLTS, CAPS]), st.data())
def test_a_place_that_is_said_is_found(axes, data):
    place = tuple(data.draw(st.sampled_from(list(values))) for values in axes.values())
    assert find_place(say_place(place, tuple(axes)), axes).place == place


@given(st.lists(st.sampled_from(TEN), min_size=1, max_size=5, unique=True))
def test_positions_that_are_listed_are_found(positions):
    assert find_places(", ".join(say_position(p) for p in positions), TEN).places == tuple(positions)
