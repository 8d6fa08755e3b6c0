"""What documents may write, and what becomes of it."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, TypeAdapter, ValidationError

from benchvoice.procedure.fields import Names, Number, Size, Texts, Unit, Whole, YesNo
from benchvoice.procedure.models import Choose, Expected, Limits, Master, Measure, Procedure, Stage, Step, Wait, WayOut


def why(model: type[BaseModel], value: Any) -> str:
    with pytest.raises(ValidationError) as caught:
        model.model_validate(value)
    (error,) = caught.value.errors()
    return str(error["ctx"]["error"])


@pytest.mark.parametrize("text", ["1.50", "0.10", "-2", "+3", "007", "0"])
def test_numbers_keep_their_decimals(text: str) -> None:
    number = TypeAdapter(Number).validate_python(text)
    assert isinstance(number, Decimal)
    assert number == Decimal(text)
    assert number.as_tuple().exponent == Decimal(text).as_tuple().exponent


@pytest.mark.parametrize(
    "text", ["1e3", "1_000", "nan", "inf", ".5", "5.", "1,5", "٣", "", " ", "1.2.3", "--1", "9" * 31]
)
def test_what_is_no_plain_number(text: str) -> None:
    with pytest.raises(ValidationError):
        TypeAdapter(Number).validate_python(text)


def test_a_float_has_lost_its_decimals_already() -> None:
    with pytest.raises(ValidationError, match="as text"):
        TypeAdapter(Number).validate_python(1.5)


@given(st.decimals(allow_nan=False, allow_infinity=False, places=4, min_value=-999, max_value=999))
def test_every_decimal_is_read_back_exactly(value: Decimal) -> None:
    assert str(TypeAdapter(Number).validate_python(f"{value:f}")) == str(Decimal(f"{value:f}"))


def test_sizes_units_and_switches() -> None:
    assert str(TypeAdapter(Size).validate_python("25 N_m")) == "25 N_m"
    assert TypeAdapter(Unit).validate_python("thou") == "thou"
    assert TypeAdapter(YesNo).validate_python("yes") is True
    assert TypeAdapter(YesNo).validate_python("no") is False
    assert TypeAdapter(Whole).validate_python("08") == 8
    for kind, text in ((Size, ["25"]), (Unit, "furlong"), (YesNo, "on"), (Whole, "1_0"), (Whole, "-1")):
        with pytest.raises(ValidationError):
            TypeAdapter(kind).validate_python(text)


def test_one_stands_for_a_list_of_one() -> None:
    assert TypeAdapter(Names).validate_python("a") == ("a",)
    assert TypeAdapter(Texts).validate_python(["a b", "c"]) == ("a b", "c")


def test_plain_limits() -> None:
    limits = Limits.model_validate(["1.5", None])
    assert limits.by is None
    assert limits.bands == {"new": (Decimal("1.5"), None)}


def test_new_and_worn_limits() -> None:
    limits = Limits.model_validate({"new": ["1", "2"], "worn": ["1", "3"], "nominal": "1.6"})
    assert limits.bands["worn"] == (1, 3)
    assert limits.worn == {}
    assert limits.nominal == Decimal("1.6")


def test_limits_by_a_table_with_worn_ones() -> None:
    limits = Limits.model_validate({"by": "ring", "top": {"new": ["1", "2"], "worn": ["1", "4"]}, "other": ["1", "3"]})
    assert limits.by == "ring"
    assert limits.bands == {"top": (1, 2), "other": (1, 3)}
    assert limits.worn == {"top": (1, 4)}


def test_limits_survive_a_round_trip() -> None:
    limits = Limits.model_validate({"by": "ring", "top": {"new": ["1", "2"], "worn": ["1", "4"]}})
    assert Limits.model_validate(limits.model_dump()) == limits


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ({"worn": ["1", "2"]}, "worn limits without new ones; add new"),
        ({"nominal": "1"}, "no limits are given; write [least, most]"),
        ({"by": "size"}, "no limits are given; write [least, most]"),
        (["2", "1"], "limits for new are the wrong way round: 2 is more than 1; swap them"),
    ],
)
def test_limits_that_limit_nothing(value: Any, said: str) -> None:
    assert why(Limits, value) == said


def test_expected_marks() -> None:
    assert Expected.model_validate("top").text == "top"
    assert Expected.model_validate({"equal_to": "pair"}).equal_to == "pair"
    table = Expected.model_validate({"by": "size", "standard": "plain", "first": "10"})
    assert table.by == "size"
    assert table.marks == {"standard": "plain", "first": "10"}
    assert "one way" in why(Expected, {"text": "a", "equal_to": "b"})
    assert "each of its answers" in why(Expected, {"by": "size"})


def test_ways_out() -> None:
    assert WayOut.model_validate("clean").back_to == "clean"
    assert WayOut.model_validate({"ask": "Which?", "back_to": {"dirt": "clean"}}).back_to == {"dirt": "clean"}
    assert "add ask" in why(WayOut, {"back_to": {"dirt": "clean"}})
    assert "leads nowhere" in why(WayOut, {"ask": "Which?"})


def test_a_master_has_one_size_or_several_and_what_chooses() -> None:
    assert Master.model_validate({"what": "ring", "size": "25 mm"}).by is None
    assert why(Master, {"what": "ring", "size": {"standard": "25 mm"}}) == why(
        Master, {"what": "ring", "size": "25 mm", "by": "size"}
    )


def test_a_measure_reads_again_with_a_reason_only() -> None:
    value = {"what": "lash", "unit": "thou", "again": "lash"}
    assert "without a reason" in why(Measure, value)
    assert Measure.model_validate({**value, "reason": "it creeps"}).again == ("lash",)
    assert "only axis" in why(Measure, {"what": "lash", "unit": "thou", "order": ["one"]})


def test_stages_know_their_way() -> None:
    ways = ({"torque": "9 N_m"}, {"angle": "90 deg"}, {"turns": "0.25"}, {"hand": "finger tight"})
    assert [Stage.model_validate(way).way for way in ways] == ["torque", "angle", "turns", "hand"]
    assert Stage.model_validate({"stretch": ["5", "6"], "unit": "thou"}).way == "stretch"
    drag = {"drag": ["0.8", "1.2"], "unit": "N_m", "start": "60 N_m", "most": "180 N_m"}
    assert Stage.model_validate(drag).way == "drag"


def test_steps_know_their_kind() -> None:
    assert Step.model_validate({"step": "a", "which_way_up": "Upside down."}).kind == "which_way_up"


def test_a_wait_and_a_choice_are_one_thing() -> None:
    assert Wait.model_validate({"what": "dry", "cure_time": "2 h"}).open_time is None
    assert Choose.model_validate({"ask": "size"}).ask == ("size",)
    assert "neither asks" in why(Choose, {"name": "gasket", "by": "height.most"})


def test_a_loaded_document_is_frozen() -> None:
    procedure = Procedure.model_validate(
        {"schema": "1", "title": "x", "work": "inch", "steps": [{"step": "a", "tell": "Go."}]}
    )
    with pytest.raises(ValidationError):
        procedure.title = "y"  # type: ignore[misc]
