"""Readings, rule by rule. Phrases with an SP number are published check values (common practice, no source)."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.quantity.units import UnknownUnit, convert
from benchvoice.speech import vocabulary
from benchvoice.speech.asking import spoken_doubts
from benchvoice.speech.readings import MOST_WORDS, Action, Context, SpokenReading, parse_reading
from benchvoice.speech.say import UNIT_WORDS, say_quantity
from benchvoice.speech.sense import Doubt
from tests.speech.steps import context, heard, inch, is_value, metric

TAKE, READ_BACK, ASK, BOUND, NOT_A_VALUE = Action


# --- the published values that the rest leans on ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "phrase", "work", "step", "action", "value"),
    [
        ("SP-001", "four and a half thou", "inch", "in", TAKE, "0.0045 in"),
        ("SP-005", "a quarter of a thou", "inch", "in", TAKE, "0.00025 in"),
        ("SP-008", "thirty thou", "inch", "in", READ_BACK, "0.030 in"),
        ("SP-009", "one thou five tenths", "inch", "in", TAKE, "0.0015 in"),
        ("SP-011", "a thou", "metric", "mm", READ_BACK, "0.001 in"),
        ("SP-013", "two tenths", "metric", "mm", TAKE, "0.2 mm"),
        ("SP-023", "three hundredths", "inch", "in", READ_BACK, "0.03 in"),
        ("SP-030", "ten thousandths", "inch", "in", READ_BACK, "0.010 in"),
        ("SP-033", "one and five thousandths", "inch", "in", TAKE, "1.005 in"),
        ("SP-041", "ten under", "inch", "what=undersize", READ_BACK, "-0.010 in"),
        ("SP-050", "fifteen thirty seconds", "inch", "in", TAKE, "0.46875 in"),
        ("SP-058", "nine five point four", "metric", "mm", TAKE, "95.4 mm"),
        ("SP-065", "nineteen point oh one", "metric", "mm 18.95..19.05", TAKE, "19.01 mm"),
        ("SP-068", "point double oh four five", "inch", "in", TAKE, "0.0045 in"),
        ("SP-075", "one nine nine eight", "inch", "in 1.996..2.000", READ_BACK, "1.998 in"),
        ("SP-085", "two two zero", "metric", "N_m 200..240", TAKE, "220 N_m"),
        ("SP-101", "fifteen newton metres", "metric", "N_m 10..95", READ_BACK, "15 N_m"),
        ("SP-109", "forty", "metric", "N_m 12..16", READ_BACK, "40 N_m"),
        ("SP-112", "a hundred and twenty inch pounds", "inch", "ft_lb", READ_BACK, "120 in_lb"),
        ("SP-123", "three quarters of a turn", "metric", "deg what=angle", TAKE, "270 deg"),
        ("SP-130", "two turns and forty three", "metric", "mm div=0.01 what=dial, 1 mm a turn", READ_BACK, "2.43 mm"),
        ("SP-142", "less than two thou", "inch", "in", BOUND, "0.002 in"),
        ("SP-145", "four no five thou", "inch", "in", READ_BACK, "0.005 in"),
        ("SP-150", "eight and a half to one", "inch", "what=ratio", TAKE, "8.5 1"),
    ],
)
def test_published_values(number, phrase, work, step, action, value):
    reading = heard(phrase, step, work)
    assert (reading.action, is_value(reading, value)) == (action, True), number


@pytest.mark.parametrize(
    ("number", "phrase", "work", "step", "candidates"),
    [
        ("SP-027", "two thousand", "inch", "in", ("2000", "0.002")),
        ("SP-031", "two hundred thousandths", "inch", "in", ("0.200", "0.00002")),
        ("SP-032", "a hundred and five thousandths", "inch", "in", ("0.105", "100.005")),
        ("SP-036", "two mil", "inch", "-", ("0.002 in", "2 mm")),
        ("SP-043", "forty over", "metric", "what=oversize", ("0.040 in", "0.40 mm", "40 mm")),
        ("SP-056", "half", "inch", "in", ("0.5 in", "0.0005 in")),
        ("SP-059", "nine five point four", "metric", "mm 95.38..95.42", ("95.4",)),
        ("SP-076", "one nine nine eight", "inch", "-", ("1.998", "19.98", "199.8", "1998")),
        ("SP-083", "ninety five four", "metric", "mm 95.38..95.42", ("95.4", "95.04")),
        ("SP-086", "oh oh", "metric", "mm", ("0", "0.0", "0.00")),
        ("SP-094", "two fifty", "inch", "in 0.2495..0.2505", ("0.250", "0.2500")),
        ("SP-095", "one twenty five", "inch", "-", ("125", "1.25", "0.125", "1 25")),
        ("SP-116", "thirty two pounds", "inch", "what=torque", ("32 ft_lb", "32 in_lb")),
        ("SP-133", "minus one", "metric", "-", ("-1 mm", "-0.01 mm", "-0.001 in")),
        ("SP-137", "five", "inch", "in", ("5 in", "0.005 in", "0.0005 in")),
        ("SP-140", "between four and five thou", "inch", "in", ("0.004", "0.005")),
        ("SP-147", "twenty twenty thou", "inch", "in", ("0.020", "2.020", "0.040")),
    ],
)
def test_published_questions(number, phrase, work, step, candidates):
    reading = heard(phrase, step, work)
    assert (reading.action, reading.candidates) == (ASK, candidates), number
    assert reading.value is None
    assert reading.reason


# --- what a reading keeps --------------------------------------------------------------------------------------------


def test_a_plain_reading_whole():
    assert inch("four and a half thou") == SpokenReading(
        action=TAKE,
        value=Decimal("4.5"),
        unit="thou",
        heard_unit="thou",
        low=Decimal("4.5"),
        high=Decimal("4.5"),
        resolution=Decimal("0.5"),
        decimals=1,
    )


def test_the_unit_of_the_step_is_understood_and_not_heard():
    reading = metric("one point five zero")
    assert (reading.unit, reading.heard_unit) == ("mm", None)


def test_the_decimals_that_were_said_are_kept():
    reading = metric("one point five zero")
    assert (str(reading.value), reading.decimals, str(reading.resolution)) == ("1.50", 2, "0.01")
    assert str(metric("one point five").value) == "1.5"
    assert str(metric("two point five zero millimetres").value) == "2.50"
    assert str(inch("ten thou").value) == "10"


@pytest.mark.parametrize(
    ("phrase", "step", "value"),
    [("half a flat", "deg", "30"), ("a turn and a half", "mm div=0.02 what=dial, 2 mm a turn", "3"),
     ("half a turn", "mm div=0.02 what=dial, 2 mm a turn", "1")],
)  # fmt: skip
def test_parts_of_turns_and_flats_have_no_more_decimals_than_they_need(phrase, step, value):
    assert str(heard(phrase, step).value) == value


@pytest.mark.parametrize(
    ("phrase", "step", "value", "unit"),
    [("half a turn", "deg", "0.5", "turn"), ("a third of a turn", "deg", "120", "deg"),
     ("three tenths of a degree", "degC", "0.3", "degC")],
)  # fmt: skip
def test_the_unit_that_was_said_is_kept_where_its_value_ends(phrase, step, value, unit):
    reading = heard(phrase, step)
    assert (str(reading.value), reading.unit) == (value, unit)


def test_a_count_of_hundreds_is_as_fine_as_a_count_of_ones():
    assert heard("fifteen hundred r p m", "rpm 1498..1503").action is TAKE


def test_a_nought_that_was_left_out_counts_as_said():
    reading = metric("ninety five four", "mm 95.02..95.06")
    assert (str(reading.value), reading.decimals, str(reading.resolution)) == ("95.04", 2, "0.01")


def test_figures_are_kept_with_their_noughts():
    assert inch("oh five oh", "in 0.045..0.055").digits == "050"  # SP-078
    assert inch("two point five").digits is None


def test_what_it_sounds_like_goes_with_the_read_back():
    assert metric("fifteen newton metres", "N_m 10..95").sounds_like == ("fifty newton metres",)
    assert metric("fifteen newton metres", "N_m 12..18").sounds_like == ()
    assert inch("ten thousandths").sounds_like == ("a ten thousandth",)


# --- bounds ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("phrase", "low", "high"),
    [
        ("less than two thou", None, "2"),
        ("two thou or less", None, "2"),
        ("at most two thou", None, "2"),
        ("more than two thou", "2", None),
        ("two thou or more", "2", None),
        ("two thou goes", "2", None),
        ("two thou won't go", None, "2"),
        ("two thou goes three does not", "2", "3"),
        ("two goes three thou doesn't", "2", "3"),
        ("three thou does not two thou goes", "2", "3"),
        ("two thou goes but not three", "2", "3"),
        ("two thou goes three nips", "2", "3"),
        ("two thou nips three won't", "2", "3"),
        ("two thou nips", "2", None),
    ],
)
def test_ends_of_an_interval(phrase, low, high):
    reading = inch(phrase)
    assert reading.action is BOUND
    assert (reading.low, reading.high) == tuple(None if end is None else Decimal(end) for end in (low, high))
    assert reading.value == (reading.low if low is not None else reading.high)
    assert reading.unit == "thou"


def test_an_interval_the_wrong_way_round_is_asked():
    reading = inch("three thou goes two thou won't")
    assert (reading.action, reading.candidates) == (ASK, ("0.003", "0.002"))


def test_an_interval_of_no_width_is_asked():
    assert inch("three thou goes three thou won't").action is ASK


def test_an_end_that_is_unclear_is_asked():
    assert inch("two goes three won't").action is ASK  # two what, in an inch step


# --- reasons and questions -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("phrase", "work", "step", "reason"),
    [
        ("thirty thou", "inch", "in", "it sounds like another number"),
        ("a thou", "metric", "mm", "another unit than the step's"),
        ("ten under", "inch", "what=undersize", "no unit said"),
        ("one oh five", "metric", "mm 1.00..1.10", "no point said, it could be another size"),
        ("one eighty", "inch", "degF 160..200", "no hundred said"),
        ("half", "inch", "in", "half of what?"),
        ("thirty two pounds", "inch", "what=torque", "pounds of what?"),
        ("two kilos", "metric", "what=torque", "kilos of what?"),
        ("five", "inch", "in", "five inches, five thou or half a thou?"),
        ("about four thou", "inch", "in", "say what it reads, not about"),
        ("nine five point four", "metric", "mm 95.38..95.42", "one more figure"),
        ("two point five point one", "metric", "mm", "two points"),
        ("four thou", "metric", "N_m", "that is a length, this is a torque"),
        ("twenty degrees", "metric", "mm", "that is an angle, this is a length"),
        ("it was four thou", "inch", "in", "just the number, please"),
        ("nine one three four", "inch", "in 2.9130..2.9138", "all the figures, please"),
        ("four thou no", "inch", "in", "taken back; say it again"),
        ("one point five", "metric", "-", "what unit?"),
        ("five thou correction six thou", "inch", "in", "corrected"),
        ("four and a half thou", "inch", "in", ""),
        ("two four point", "metric", "mm", "I can't make a number of that"),
        ("three thousand", "inch", "in", "three thousandths?"),
        ("a half", "inch", "in", "half of what?"),
        ("sixty over", "inch", "what=oversize", "it sounds like another number, no unit said"),
        ("minus two pounds", "metric", "kg", "another unit than the step's, less than nothing"),
        ("one and a half", "inch", "in", "one point five inches or one and a half thou?"),
    ],
)
def test_the_reason_is_spoken_in_a_few_words(phrase, work, step, reason):
    assert heard(phrase, step, work).reason == reason


def test_candidates_of_words_round_a_number():
    assert inch("bore two reads four thou").candidates == ("2 in", "0.002 in", "0.0002 in", "0.004")
    assert inch("it was four thou").candidates == ("0.004",)
    assert inch("four thou please").candidates == ("0.004",)
    assert inch("skip this").candidates == ()


def test_a_word_half_heard_is_named():
    reading = inch("two thousand", "in 0.0015..0.0030")
    assert (reading.reason, reading.unit) == ("it sounds like another number", "thou")
    assert reading.sounds_like == ("two thousandths", "two thou")
    assert inch("two thousand").reason == "two thousandths?"
    assert inch("twenty five thousand").sounds_like == ("twenty five thousandths", "twenty five thou")
    assert metric("twenty five hundred").sounds_like == ("twenty five hundredths",)
    reading = metric("three hundred")
    assert (reading.candidates, reading.sounds_like) == (("300", "0.03"), ("three hundredths",))


def test_figures_at_the_end_of_a_size_are_asked_for_with_the_sizes_they_may_be():
    assert metric("forty", "mm 95.38..95.42").candidates == ("95.40 mm", "40 mm")
    assert inch("nine one three four", "in 2.9130..2.9138").candidates == ("2.9134", "9134")


@pytest.mark.parametrize(
    ("phrase", "step", "candidates"),
    [
        ("five sixteenths", "mm", ("0.3125 mm", "0.3125 in")),
        ("oh two five", "mm", ("0.025", "0.25")),
        ("two one four", "mm", ("214", "2.14")),
        ("two two newton metres", "N_m", ("2", "22", "4")),
        ("three thou", "N_m", ("0.003 in",)),
        ("seventy four point oh", "mm 73.98..74.02", ("74.0",)),
        ("about two point five zero", "mm", ("2.50",)),
        ("about four thou", "mm", ("0.004 in",)),
        ("one point nine nine eight", "thou", ("1.998 thou", "1998 thou")),
        ("two pounds", "ft_lb", ("2 ft_lb", "2 in_lb")),
        ("ten ten", "-", ("1.010", "10.10", "101.0", "1010")),
        ("a third of two thou", "mm", ("0.002 in",)),
    ],
)
def test_candidates(phrase, step, candidates):
    assert metric(phrase, step).candidates == candidates


def test_a_reading_without_any_unit_still_says_what_it_sounds_like():
    assert metric("fifteen point five", "-").sounds_like == ("fifty point five",)
    assert metric("fifteen fifty", "-").sounds_like == ("fifty fifty", "fifteen fifteen")


def test_said_twice_with_limits_that_tell():
    reading = metric("two two", "N_m 20..25")
    assert (reading.action, reading.value, reading.reason) == (READ_BACK, Decimal(22), "said twice")
    reading = metric("two two", "N_m 1..2.1")
    assert (reading.action, reading.value) == (READ_BACK, Decimal(2))
    assert metric("two two", "N_m 1..30").action is ASK
    assert metric("two two", "N_m").reason == "once or twice?"


def test_an_end_of_an_interval_says_why_it_is_unclear():
    reading = inch("half goes one won't")
    assert (reading.action, reading.reason) == (ASK, "half of what?")


def test_a_ratio_was_said_when_it_was():
    assert inch("nine to one", "what=ratio").heard_unit == "1"
    assert inch("nine", "what=ratio").heard_unit is None


def test_the_unit_of_a_part_was_said_when_it_was():
    assert inch("two and three tenths of a thou", "thou").heard_unit == "thou"
    assert inch("two point three", "thou").heard_unit is None


@pytest.mark.parametrize("what", ["deviation, left", "run-out", "Height", "step-height, rear"])
def test_nought_by_the_name_of_what_is_measured(what):
    reading = metric("dead on" if "height" not in what.lower() else "dead flush", f"mm what={what}")
    assert (reading.action, reading.value) == (TAKE, 0)


def test_a_nought_that_is_named_is_exact():
    nought = Decimal(0)
    assert inch("standard", "what=oversize") == SpokenReading(
        action=TAKE, value=nought, unit="in", low=nought, high=nought, decimals=0
    )


def test_what_is_too_long_for_a_reading_is_talk():
    corrected = ["one", "no"] * (MOST_WORDS // 2 - 1)
    assert inch(" ".join([*corrected, "two", "thou"])).value == 2
    assert inch(" ".join(["five", *corrected, "two", "thou"])).reason == "just the number, please"


def test_words_of_something_else_are_told_from_a_number():
    assert inch("maybe it was four thou").other_words
    assert inch("it was four thou").other_words
    assert not inch("about four thou").other_words


def test_divisions_that_are_said_are_taken():
    reading = metric("four divisions", "mm div=0.01 what=dial")
    assert (reading.action, reading.value, reading.unit, reading.heard_unit) == (TAKE, Decimal("0.04"), "mm", "mm")


def test_noughts_are_asked_for():
    assert metric("oh oh").reason == "nought with how many places?"
    assert metric("oh").candidates == ("0",)


def test_what_was_said_before_a_correction_must_be_a_number():
    reading = inch("the big one no five thou")
    assert (reading.action, reading.candidates) == (ASK, ("1 in", "0.001 in", "0.0001 in", "0.005"))


def test_every_doubt_has_words():
    for doubt in Doubt:
        assert spoken_doubts(frozenset({doubt})), doubt
    assert spoken_doubts(frozenset()) == ""


# --- limits ----------------------------------------------------------------------------------------------------------


def test_limits_lift_the_doubt_of_what_sounds_alike():
    assert metric("nineteen point oh one").action is READ_BACK
    assert metric("nineteen point oh one", "mm 18.95..19.05").action is TAKE
    # both within the limits, and the partner alone within them
    assert metric("fifty newton metres", "N_m 10..95").action is READ_BACK
    assert metric("forty", "N_m 12..16").action is READ_BACK


def test_one_limit_is_enough_to_lift_it():
    assert metric("fifteen newton metres", "N_m ..20").action is TAKE
    assert metric("fifteen newton metres", "N_m ..60").action is READ_BACK


@pytest.mark.parametrize(
    ("phrase", "step", "action"),
    [
        ("two", "thou 1.5..3.0", ASK),
        ("two", "thou 1..5", TAKE),
        ("two", "thou 1..4.9", ASK),
        ("two", "thou 1.5..3.0 res=0.5", TAKE),
        ("two", "thou 1.5..3.0 res=1", TAKE),
        ("two", "thou 1.5..3.0 res=0.1", ASK),
        ("two and a half", "thou 1.5..3.0 res=0.5", TAKE),
        ("two and a half", "thou 2..3 res=0.25", TAKE),
        ("three and a half", "thou 1.5..3.0", TAKE),
        ("three", "thou 1.5..3.0", ASK),
        ("zero", "thou 0..1", TAKE),
    ],
)
def test_too_coarse_for_the_limits(phrase, step, action):
    assert inch(phrase, step).action is action


def test_limits_do_not_make_a_reading_fit():
    reading = metric("one point one two", "mm 1.29..1.31")
    assert (reading.action, reading.value) == (TAKE, Decimal("1.12"))


def test_an_explicit_unit_is_never_scaled_by_limits():
    reading = inch("five thou", "in 4.9..5.1")
    assert (reading.action, reading.value, reading.unit) == (TAKE, Decimal(5), "thou")


# --- properties ------------------------------------------------------------------------------------------------------

SAYABLE = sorted(set(UNIT_WORDS) - {"1"})
VALUES = st.decimals(min_value=-99999, max_value=99999, places=4) | st.integers(0, 99999).map(Decimal)
SHORT = st.tuples(st.integers(0, 999), st.integers(0, 3)).map(lambda pair: Decimal(pair[0]).scaleb(-pair[1]))
STEPS = st.sampled_from(
    ["in", "in 1.996..2.000", "in 0.0015..0.0030", "thou 1.5..3.0", "mm", "mm 95.38..95.42", "mm ..0.05", "N_m 10..95",
     "mm -0.1..0.1", "-", "what=oversize", "what=torque", "what=ratio", "deg what=angle, hexagon", "rpm", "psi",
     "degC what=temperature", "mm div=0.01 what=dial", "s what=time", "1", "kg what=mass", "thou what=piston height"]
)  # fmt: skip
WORDS = sorted(vocabulary.reading_words(Context()) | vocabulary.duration_words() | {"over", "flush", "it", "next"})
SOUP = st.lists(st.sampled_from(WORDS), min_size=0, max_size=9).map(" ".join)
WORK = st.sampled_from(["inch", "metric"])


@given(value=VALUES | SHORT, unit=st.sampled_from(SAYABLE))
@settings(max_examples=400, deadline=None)
def test_every_number_that_is_said_parses_back_to_itself(value, unit):
    reading = parse_reading(say_quantity(value, unit), context(unit, "inch" if unit in ("in", "thou") else "metric"))
    assert reading.action in (TAKE, READ_BACK)
    assert reading.value is not None
    assert convert(reading.value, str(reading.unit), unit) == convert(value, unit, unit)


@pytest.mark.parametrize("unit", SAYABLE)
@pytest.mark.parametrize("value", ["1", "2", "0.5", "-1"])
def test_one_and_many_of_every_unit_parse_back(value: str, unit: str) -> None:
    said = say_quantity(Decimal(value), unit)
    reading = parse_reading(said, context(unit, "inch" if unit in ("in", "thou") else "metric"))
    assert reading.action in (TAKE, READ_BACK), said
    assert reading.value is not None
    assert convert(reading.value, str(reading.unit), unit) == convert(Decimal(value), unit, unit)


@given(value=SHORT.filter(bool), unit=st.sampled_from(["in", "mm", "N_m", "thou"]), low=SHORT, span=SHORT)
@settings(max_examples=200, deadline=None)
def test_limits_never_change_a_value_said_with_its_unit(value, unit, low, span):
    step = Context(unit=unit, work="inch", low=low, high=low + span)
    reading = parse_reading(say_quantity(value, unit), step)
    assert reading.action is ASK or convert(reading.value, reading.unit, unit) == convert(value, unit, unit)


@given(text=SOUP, step=STEPS, work=WORK)
@settings(max_examples=600, deadline=None)
def test_any_words_give_one_of_the_five_actions_and_only_values_have_values(text, step, work):
    reading = heard(text, step, work)
    if reading.action in (TAKE, READ_BACK):
        assert reading.value == reading.low == reading.high
        assert reading.unit is not None
        assert reading.value.is_finite()
        assert bool(reading.reason) == (reading.action is READ_BACK)
    elif reading.action is BOUND:
        assert reading.value in (reading.low, reading.high)
        assert reading.low is None or reading.high is None or reading.low < reading.high
    else:
        assert reading.value is reading.low is reading.high is None
        assert reading.reason
    assert isinstance(reading, SpokenReading)


@given(text=st.text(max_size=40), step=STEPS, work=WORK)
@settings(max_examples=300, deadline=None)
def test_any_text_is_survived(text, step, work):
    assert heard(text, step, work).action in Action


@given(text=SOUP, step=STEPS, work=WORK, before=st.sampled_from(["about", "roughly", "maybe"]))
@settings(max_examples=200, deadline=None)
def test_a_hedge_is_never_taken(text, step, work, before):
    assert heard(f"{before} {text}", step, work).action not in (TAKE,)


@given(value=SHORT.filter(lambda value: value % 100))  # "a hundred" implies hundreds, 100 does not
@settings(max_examples=100, deadline=None)
def test_typed_figures_mean_what_the_words_mean(value):
    typed = parse_reading(f"{value} mm", Context(unit="mm"))
    said = parse_reading(say_quantity(value, "mm", fractions=False), Context(unit="mm"))
    assert (typed.value, typed.decimals, typed.resolution) == (said.value, said.decimals, said.resolution)
    assert typed.action is TAKE


# --- edges -----------------------------------------------------------------------------------------------------------


def test_silence_is_no_value():
    assert metric("").action is NOT_A_VALUE
    assert metric("   ...  ").action is NOT_A_VALUE


def test_long_talk_is_asked_about_without_reckoning():
    assert metric("five " * (MOST_WORDS + 1)).action is ASK


def test_an_unknown_unit_of_the_step_is_the_callers_fault():
    with pytest.raises(UnknownUnit, match="furlong"):
        heard("two", "furlong")


def test_capitals_hyphens_and_stops_do_not_matter():
    assert inch("Twenty-Three thou.") == inch("twenty three thou")
    assert inch("two goes, three won’t", "thou") == inch("two goes three wont", "thou")


def test_american_spelling_is_the_same():
    assert metric("sixty five newton meters", "N_m") == metric("sixty five newton metres", "N_m")
    assert metric("two millimeters") == metric("two millimetres")
