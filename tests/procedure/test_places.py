"""Places: the product of the axes, less what doesn't go together."""

from benchvoice.procedure.models import Measure
from benchvoice.procedure.places import every_place, places_of


def measure(**parts: object) -> Measure:
    return Measure.model_validate({"what": "gap", "unit": "mm", **parts})


def test_the_last_axis_runs_fastest() -> None:
    assert every_place({"bore": ("one", "two"), "depth": ("top", "bottom")}) == (
        ("one", "top"), ("one", "bottom"), ("two", "top"), ("two", "bottom"),
    )  # fmt: skip


def test_no_axis_is_one_place() -> None:
    assert places_of(measure()) == ((),)


def test_a_listed_order() -> None:
    assert places_of(measure(places={"valve": ["one", "two"]}, order=["two", "one"])) == (("two",), ("one",))


def test_places_picked_out_and_left_out() -> None:
    axes = {"shaft": ["main", "pin"], "number": ["one", "two"]}
    assert places_of(measure(places=axes, only=[["main", "two"]])) == (("main", "two"),)
    assert places_of(measure(places=axes, without=[["pin", "two"], ["one"]])) == (("main", "two"),)
