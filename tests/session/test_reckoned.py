"""Figures in other units, settings, fits and sizes at twenty degrees, in words."""

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.procedure.load import load_document
from benchvoice.quantity.units import UNITS, convert
from benchvoice.session.entries import Reading
from benchvoice.session.facts import Instant, fold
from benchvoice.session.reckoned import Converted, at_twenty, converted, fit_limits, is_conversion, is_twenty
from benchvoice.session.state import State
from benchvoice.speech.fits import spoken_fit
from benchvoice.speech.readings import Context, parse_reading
from benchvoice.speech.units import PART_TABLE, UNIT_TABLE
from benchvoice.testing.bench import START

D = Decimal
ENGINE = load_document(Path(__file__).parents[2] / "procedures" / "launch-bottom-end.yaml").procedure


def read(value: str, unit: str, resolution: str | None = None) -> State:
    """A build in which this was the last reading."""
    size = D(value)
    entry = Reading(
        step="end_float", what="end float", value=size, unit=unit, said="", low=size, high=size,
        resolution=None if resolution is None else D(resolution),
    )  # fmt: skip
    return State(ENGINE, fold([(entry, Instant(START, D(0), "boot1"))]))


@pytest.mark.parametrize(
    ("value", "unit", "asked", "said"),
    [
        ("0.0045", "in", "thou", "zero point zero zero four five inches is four and a half thou"),
        ("2.25", "thou", "inches", "two and a quarter thou is zero point zero zero two two five inches"),
        ("0.057", "mm", "microns", "zero point zero five seven millimetres is fifty seven microns"),
        ("2.1252", "in", "millimetres", "two point one two five two inches is about fifty three point nine eight zero"),
        ("0.15", "mm", "hundredths", "zero point one five millimetres is fifteen hundredths"),
        ("25", "N_m", "foot pounds", "twenty five newton metres is about eighteen point four foot pounds"),
        ("0.50", "bar", "p s i", "zero point five zero bar is about seven point three p s i"),
        ("20", "degC", "fahrenheit", "twenty degrees celsius is sixty eight degrees fahrenheit"),
        ("20", "degC", "thou", "twenty degrees celsius is a temperature; that is no unit of it"),
    ],
)
def test_conversions(value: str, unit: str, asked: str, said: str) -> None:
    found = converted(read(value, unit), asked)
    words = found.sentence if isinstance(found, Converted) else found
    assert words.startswith(said)


@pytest.mark.parametrize("words", [" ".join(words) for words in (*UNIT_TABLE, *PART_TABLE)])
def test_every_unit_that_can_be_said_is_answered(words: str) -> None:
    assert is_conversion(words)
    for value, unit in (("2.25", "thou"), ("25", "N_m"), ("0.5", "bar"), ("20", "degC"), ("400", "g"), ("90", "deg")):
        found = converted(read(value, unit), words)
        assert isinstance(found, str) or found.sentence or len(found.choices) > 1
        for choice in found.choices if isinstance(found, Converted) else ():
            assert isinstance(converted(read(value, unit), choice), Converted)


@settings(deadline=None)
@given(st.integers(1, 9999), st.integers(1, 4), st.sampled_from(["thou", "mm", "um"]))
def test_what_is_said_is_within_half_a_step(figures: int, places: int, unit: str) -> None:
    """The spoken figure parses back to the exact value, or to the nearest at the resolution that was read."""
    value = D(figures).scaleb(-places)
    for asked, to in (("thou", "thou"), ("millimetres", "mm"), ("microns", "um")):
        found = converted(read(f"{value:f}", unit), asked)
        assert isinstance(found, Converted)
        tail = found.sentence.partition(" is ")[2]
        heard = parse_reading(tail.removeprefix("about "), Context(unit=to, work="inch"))
        assert heard.value is not None
        assert heard.unit is not None
        exact = convert(value, unit, to)
        step = convert(D(1).scaleb(-places), unit, to)
        off = abs(convert(heard.value, heard.unit, to) - exact)
        assert off <= step / 2
        assert off == 0 or tail.startswith("about ")


def test_no_figure_yet() -> None:
    assert converted(State(ENGINE), "thou") == "No figure was read or said yet"
    assert at_twenty(State(ENGINE), "for steel") == "No figure was read or said yet"


def test_twenty_degrees() -> None:
    """100 mm of steel at 30 degrees: 11.5e-6 x 10 x 100 = 0.0115 less (check value TX-001)."""
    found = at_twenty(read("100.00", "mm"), "for steel at thirty degrees")
    assert not isinstance(found, str)
    assert "is about ninety nine point nine eight nine millimetres at twenty" in found.sentence
    assert at_twenty(read("25", "N_m"), "for steel at thirty") == "twenty five newton metres is no length"
    asked = at_twenty(read("100.00", "mm"), "")
    assert not isinstance(asked, str)
    assert asked.ask_material
    assert at_twenty(read("100.00", "mm"), "for steel") == "How warm is it? Say it at the end: at thirty degrees"


def test_what_is_asked_about_twenty_degrees() -> None:
    assert all(map(is_twenty, ("", "degrees", "for cast iron", "four steel", "for steel read at thirty degrees")))
    assert not any(map(is_twenty, ("for cheese", "past nine", "newton metres")))


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("twenty five h seven g six", "Clearance seven to forty one microns"),
        ("twenty five h seven p six", "Interference one to thirty five microns"),
        ("twenty five h seven k six", "From fifteen tight to nineteen microns loose"),
    ],
)
def test_fits(name: str, said: str) -> None:
    """ISO 286-1 for 18 to 30 mm: H7 0/+21, g6 -20/-7, p6 +22/+35, k6 +2/+15 (recalled)."""
    fit = spoken_fit(name)
    assert fit is not None
    assert fit_limits(fit)[1] == said


def test_units_are_known() -> None:
    assert {"thou", "mm", "um"} <= UNITS.keys()
    assert Fraction(1) == convert(1, "thou", "thou")
