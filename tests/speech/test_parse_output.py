"""A reading as plain data, as `benchvoice parse` prints it."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.errors import InputError
from benchvoice.speech.parse_output import parse_as

KEYS = ["action", "value", "unit", "heard_unit", "low", "high", "resolution", "decimals", "candidates", "reason"]


def test_the_phrase_of_the_manual():
    assert parse_as("four and a half thou", unit="in") == {
        "action": "take",
        "value": "0.0045",
        "unit": "in",
        "heard_unit": "thou",
        "low": "0.0045",
        "high": "0.0045",
        "resolution": "0.0005",
        "decimals": 4,
        "candidates": [],
        "reason": "",
    }


@pytest.mark.parametrize(
    ("text", "options", "value", "resolution"),
    [
        ("ten thou", {"unit": "in", "work": "inch"}, "0.010", "0.001"),
        ("ten thou", {"unit": "mm"}, "0.254", "0.0254"),
        ("one point five zero", {"unit": "mm"}, "1.50", "0.01"),
        ("five microns", {"unit": "mm"}, "0.005", "0.001"),
        ("three quarters of a turn", {"unit": "deg"}, "270", "90"),
        ("two kilograms", {"unit": "g"}, "2000", "1000"),
        ("eighty two degrees fahrenheit", {"unit": "degC"}, "27.7777777778", "0.5555555556"),
        ("fourteen foot pounds", {"unit": "N_m"}, "18.9814512766396056", "1.3558179483314004"),
        ("a tenth of a millimetre", {"unit": "thou", "work": "inch"}, "3.9370078740", "3.9370078740"),
        ("zero point zero", {"unit": "mm"}, "0.0", "0.1"),
        ("minus two tenths", {"unit": "in", "work": "inch"}, "-0.0002", "0.0001"),
        ("eight and a half to one", {"unit": "1"}, "8.5", "0.5"),
        ("two point two five thou", {"unit": "thou"}, "2.25", "0.01"),
    ],
)
def test_values_in_the_unit_asked_for(text, options, value, resolution):
    got = parse_as(text, **options)
    assert (got["value"], got["resolution"]) == (value, resolution)
    assert got["unit"] == options["unit"]
    assert got["decimals"] == len(value.partition(".")[2])


def test_an_interval():
    got = parse_as("two thou goes three won't", unit="in", work="inch")
    assert (got["action"], got["value"], got["low"], got["high"]) == ("bound", "0.002", "0.002", "0.003")
    got = parse_as("less than two thou", unit="in", work="inch")
    assert (got["value"], got["low"], got["high"]) == ("0.002", None, "0.002")


@pytest.mark.parametrize("text", ["about four thou", "scratch that", "five", "", "sixty five newton metres"])
def test_no_value_no_interval(text):
    got = parse_as(text, unit="in", work="inch")
    assert got["action"] in ("ask again", "not a value")
    assert [got[key] for key in ("value", "low", "high", "resolution", "decimals")] == [None] * 5
    assert got["unit"] == "in"


def test_limits_are_heeded_as_text():
    assert parse_as("nineteen point oh one", unit="mm", low="18.95", high="19.05")["action"] == "take"
    assert parse_as("nineteen point oh one", unit="mm")["action"] == "read back"
    assert parse_as("two thou", unit="thou", low="2", high="2")["reason"] == "one more figure"
    assert parse_as("one nine nine eight", unit="in", work="inch", low="1.996", high="2.000")["value"] == "1.998"


def test_without_a_unit_the_one_that_was_said_is_given():
    assert parse_as("twenty thou over", work="inch", what="oversize")["unit"] == "thou"
    assert parse_as("thirty two pounds", work="inch", unit="psi", what="pressure")["value"] == "32"
    assert parse_as("bang on", unit="thou", what="deviation")["value"] == "0"
    assert parse_as("bang on", unit="thou")["value"] is None
    assert parse_as("one point five")["unit"] is None
    assert parse_as("two tenths", work="inch")["unit"] == "tenth"
    assert parse_as("two tenths", work="metric")["unit"] == "mm"


@pytest.mark.parametrize(
    ("options", "fault"),
    [
        ({"unit": "furlong"}, "'furlong' is not a unit"),
        ({"unit": "mm", "work": "imperial"}, "work is inch or metric, not 'imperial'"),
        ({"unit": "mm", "low": "wide"}, "the low limit 'wide' is no number"),
        ({"unit": "mm", "high": "nan"}, "the high limit 'nan' is no number"),
        ({"unit": "mm", "high": "Infinity"}, "the high limit 'Infinity' is no number"),
        ({"unit": "mm", "low": "2", "high": "1"}, "the low limit 2 is above the high limit 1: swap them"),
    ],
)
def test_wrong_use_gets_one_clear_sentence(options, fault):
    with pytest.raises(InputError, match=fault):
        parse_as("two", **options)


@given(
    st.sampled_from(["four and a half thou", "fifteen newton metres", "two bar", "half a turn", "about two", "go"]),
    st.sampled_from(["in", "thou", "mm", "um", "ft_lb", "in_lb", "N_m", "kgf_m", "g", "kg", "oz", "psi", "bar", "deg",
                     "degC", "degF", "delta_degC", "rpm", "s", "min", "cc", None]),
    st.sampled_from(["inch", "metric"]),
)  # fmt: skip
@settings(deadline=None)
def test_always_the_same_keys_and_plain_data(text, unit, work):
    got = parse_as(text, unit=unit, work=work)
    assert list(got) == KEYS
    assert json.loads(json.dumps(got)) == got
