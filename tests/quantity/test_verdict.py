"""Verdicts. Rules: JCGM 106:2012 clause 8 (simple and guarded acceptance), clause 7 (conformance probability);
ISO 14253-1 (published, recalled). The figures are invented."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from benchvoice.quantity.limits import Limits
from benchvoice.quantity.units import WrongKind, convert
from benchvoice.quantity.verdict import (
    GUARDED,
    SIMPLE,
    BadReading,
    BadRule,
    Outcome,
    Rule,
    RuleKind,
    Verdict,
    judge,
    probability,
)

D = Decimal
CLEARANCE = Limits(low=D("1.5"), high=D("3.0"), unit="thou")
LIKELY = Rule(kind=RuleKind.PROBABILITY)


def plain(text, unit="thou", limits=CLEARANCE, **more):
    return judge(low=D(text), high=D(text), unit=unit, limits=limits, **more)


@pytest.mark.parametrize(
    ("reading", "outcome", "by"),
    [
        ("1.4", Outcome.UNDER, "0.1"),
        ("1.5", Outcome.IN, None),
        ("2.25", Outcome.IN, None),
        ("3.0", Outcome.IN, None),
        ("3.00", Outcome.IN, None),
        ("3.5", Outcome.OVER, "0.5"),
        ("-1", Outcome.UNDER, "2.5"),
    ],
)
def test_simple_acceptance(reading, outcome, by):
    assert plain(reading) == Verdict(outcome=outcome, by=None if by is None else D(by))


def test_outcomes_are_said_as_the_bench_says_them():
    assert [str(outcome) for outcome in Outcome] == ["in limits", "over", "under", "too close to call"]


@pytest.mark.parametrize(
    ("reading", "unit", "outcome", "by"),
    [
        ("0.0762", "mm", Outcome.IN, None),  # exactly 3 thou: binary floats put it above
        ("0.07620001", "mm", Outcome.OVER, "0.0000003937"),
        ("0.0381", "mm", Outcome.IN, None),
        ("0.0030", "in", Outcome.IN, None),
        ("76.2", "um", Outcome.IN, None),
    ],
)
def test_reading_in_another_unit_is_compared_exactly(reading, unit, outcome, by):
    assert plain(reading, unit) == Verdict(outcome=outcome, by=None if by is None else D(by))


@pytest.mark.parametrize(
    ("low", "high", "outcome", "by", "reason"),
    [
        ("2", "2.5", Outcome.IN, None, ""),
        ("1.5", "3.0", Outcome.IN, None, ""),
        ("4", "5", Outcome.OVER, "1.0", ""),
        ("0.5", "1", Outcome.UNDER, "0.5", ""),
        ("2.5", "3.5", Outcome.CLOSE, None, "the reading lies across the upper limit"),
        ("3.0", "3.5", Outcome.CLOSE, None, "the reading lies across the upper limit"),
        ("1.0", "1.5", Outcome.CLOSE, None, "the reading lies across the lower limit"),
        ("1", "4", Outcome.CLOSE, None, "the reading lies across both limits"),
        ("3.5", None, Outcome.OVER, "0.5", ""),
        (None, "1", Outcome.UNDER, "0.5", ""),
        ("2", None, Outcome.CLOSE, None, "the reading lies across the upper limit"),
        (None, "2", Outcome.CLOSE, None, "the reading lies across the lower limit"),
        ("1", None, Outcome.CLOSE, None, "the reading lies across both limits"),
    ],
)
def test_interval_reading(low, high, outcome, by, reason):
    ends = [None if end is None else D(end) for end in (low, high)]
    verdict = judge(low=ends[0], high=ends[1], unit="thou", limits=CLEARANCE)
    assert verdict == Verdict(outcome=outcome, by=None if by is None else D(by), reason=reason)


@pytest.mark.parametrize(
    ("low", "high", "reading", "outcome"),
    [
        (None, "3", "-99", Outcome.IN),
        (None, "3", "3.1", Outcome.OVER),
        ("3", None, "99", Outcome.IN),
        ("3", None, "2.9", Outcome.UNDER),
    ],
)
def test_one_sided_limits(low, high, reading, outcome):
    limits = Limits(low=None if low is None else D(low), high=None if high is None else D(high), unit="mm")
    assert plain(reading, "mm", limits).outcome is outcome


def test_open_reading_against_one_sided_limits():
    limits = Limits(low=None, high=D(3), unit="mm")
    assert judge(low=None, high=D(2), unit="mm", limits=limits).outcome is Outcome.IN
    assert judge(low=D(4), high=None, unit="mm", limits=limits).outcome is Outcome.OVER
    assert judge(low=D(2), high=None, unit="mm", limits=limits).outcome is Outcome.CLOSE


@pytest.mark.parametrize(
    ("reading", "outcome", "by"),
    [
        ("2.2", Outcome.IN, None),
        ("2.8", Outcome.IN, None),  # 2.8 + 0.2 is the limit, and on the limit is in
        ("2.81", Outcome.CLOSE, None),
        ("3.2", Outcome.CLOSE, None),
        ("3.21", Outcome.OVER, "0.21"),  # by how much it reads over, the band left aside
        ("1.7", Outcome.IN, None),
        ("1.69", Outcome.CLOSE, None),
        ("1.3", Outcome.CLOSE, None),
        ("1.29", Outcome.UNDER, "0.21"),
    ],
)
def test_guarded_acceptance(reading, outcome, by):
    verdict = plain(reading, rule=GUARDED, uncertainty=D("0.2"))
    assert (verdict.outcome, verdict.by) == (outcome, None if by is None else D(by))


def test_guard_band_reasons():
    assert plain("2.9", rule=GUARDED, uncertainty=D("0.2")).reason == "within the uncertainty of the upper limit"
    assert plain("1.6", rule=GUARDED, uncertainty=D("0.2")).reason == "within the uncertainty of the lower limit"
    assert plain("2.2", rule=GUARDED, uncertainty=D("2")).reason == "within the uncertainty of both limits"


def test_guard_band_may_be_a_share_of_the_uncertainty():
    half = Rule(kind=RuleKind.GUARDED, guard=D("0.5"))
    assert plain("2.9", rule=half, uncertainty=D("0.2")).outcome is Outcome.IN
    assert plain("2.91", rule=half, uncertainty=D("0.2")).outcome is Outcome.CLOSE
    none = Rule(kind=RuleKind.GUARDED, guard=D(0))
    assert plain("3.01", rule=none, uncertainty=D("0.2")).outcome is Outcome.OVER


def test_guard_band_of_an_interval_is_added_to_both_ends():
    verdict = judge(low=D("1.8"), high=D("2.7"), unit="thou", limits=CLEARANCE, rule=GUARDED, uncertainty=D("0.2"))
    assert verdict.outcome is Outcome.IN
    verdict = judge(low=D("3.1"), high=D("3.6"), unit="thou", limits=CLEARANCE, rule=GUARDED, uncertainty=D("0.2"))
    assert verdict.outcome is Outcome.CLOSE
    verdict = judge(low=D("3.3"), high=None, unit="thou", limits=CLEARANCE, rule=GUARDED, uncertainty=D("0.2"))
    assert verdict == Verdict(outcome=Outcome.OVER, by=D("0.3"))


def test_guard_band_on_temperatures_is_a_difference():
    limits = Limits(low=D(50), high=D(86), unit="degF")  # 10 to 30 degC
    for reading, outcome in (("12", Outcome.IN), ("28", Outcome.IN), ("29", Outcome.CLOSE), ("33", Outcome.OVER)):
        assert plain(reading, "degC", limits, rule=GUARDED, uncertainty=D(2)).outcome is outcome


def test_uncertainty_is_left_aside_by_simple_acceptance():
    assert plain("2.99", rule=SIMPLE, uncertainty=D(1)).outcome is Outcome.IN


@pytest.mark.parametrize("rule", [GUARDED, LIKELY])
def test_rule_that_needs_an_uncertainty_and_has_none_cannot_call_it(rule):
    assert plain("2", rule=rule) == Verdict(outcome=Outcome.CLOSE, reason="no uncertainty is stated")
    with pytest.raises(WrongKind):
        plain("2", "N_m", rule=rule)


@pytest.mark.parametrize("rule", [GUARDED, LIKELY])
def test_no_uncertainty_at_all_is_simple_acceptance(rule):
    for reading in ("1.4", "1.5", "2", "3.0", "3.1"):
        assert plain(reading, rule=rule, uncertainty=D(0)) == plain(reading)


# u = 0.15 thou; one-sided 95 % needs 1.645 u = 0.247 thou inside the limit.
@pytest.mark.parametrize(
    ("reading", "outcome"),
    [
        ("2.25", Outcome.IN),
        ("2.75", Outcome.IN),
        ("2.76", Outcome.CLOSE),
        ("3.00", Outcome.CLOSE),
        ("3.24", Outcome.CLOSE),
        ("3.25", Outcome.OVER),
        ("1.75", Outcome.IN),
        ("1.74", Outcome.CLOSE),
        ("1.26", Outcome.CLOSE),
        ("1.25", Outcome.UNDER),
    ],
)
def test_conformance_probability(reading, outcome):
    assert plain(reading, rule=LIKELY, uncertainty=D("0.3")).outcome is outcome


def test_conformance_probability_says_why_and_by_how_much():
    close = plain("3", rule=LIKELY, uncertainty=D("0.3"))
    assert close.reason == "the probability of conforming is neither high nor low enough"
    assert plain("3.5", rule=LIKELY, uncertainty=D("0.3")).by == D("0.5")
    assert plain("1.0", rule=LIKELY, uncertainty=D("0.3")).by == D("0.5")


def test_conformance_probability_by_another_share():
    cautious = Rule(kind=RuleKind.PROBABILITY, share=D("0.999"))
    assert plain("2.75", rule=cautious, uncertainty=D("0.3")).outcome is Outcome.CLOSE
    assert plain("2.25", rule=cautious, uncertainty=D("0.3")).outcome is Outcome.IN


def test_conformance_probability_of_intervals_is_taken_where_it_is_least():
    def interval(low, high, limits=CLEARANCE):
        ends = [None if end is None else D(end) for end in (low, high)]
        return judge(low=ends[0], high=ends[1], unit="thou", limits=limits, rule=LIKELY, uncertainty=D("0.3")).outcome

    assert interval("2.0", "2.5") is Outcome.IN
    assert interval("2.0", "2.9") is Outcome.CLOSE
    assert interval("1.6", "2.5") is Outcome.CLOSE
    assert interval("3.3", "4.0") is Outcome.OVER
    assert interval("3.3", None) is Outcome.OVER
    assert interval("2.0", None) is Outcome.CLOSE
    assert interval(None, "1.0") is Outcome.UNDER
    assert interval(None, "2.0") is Outcome.CLOSE
    most = Limits(low=None, high=D(3), unit="thou")
    assert interval(None, "2.0", most) is Outcome.IN
    least = Limits(low=D(1), high=None, unit="thou")
    assert interval("2.0", None, least) is Outcome.IN


def test_conformance_probability_in_another_unit():
    assert plain("0.0635", "mm", rule=LIKELY, uncertainty=D("0.00762")).outcome is Outcome.IN  # 2.5 with 0.3 thou
    assert plain("0.0732", "mm", rule=LIKELY, uncertainty=D("0.00762")).outcome is Outcome.CLOSE
    warm = Limits(low=D(50), high=D(86), unit="degF")
    assert plain("29", "degC", warm, rule=LIKELY, uncertainty=D(2)).outcome is Outcome.CLOSE
    assert plain("28", "degC", warm, rule=LIKELY, uncertainty=D(2)).outcome is Outcome.IN


def test_narrow_limits_against_a_poor_instrument_are_never_called_in():
    tight = Limits(low=D("1.9"), high=D("2.1"), unit="thou")
    assert plain("2", limits=tight, rule=LIKELY, uncertainty=D(1)).outcome is Outcome.CLOSE
    assert plain("2", limits=tight, rule=GUARDED, uncertainty=D(1)).outcome is Outcome.CLOSE


def test_faults_of_a_reading():
    with pytest.raises(BadReading, match=r"^a reading with both ends open says nothing: give at least one of them$"):
        judge(low=None, high=None, unit="thou", limits=CLEARANCE)
    with pytest.raises(BadReading, match="the reading's lower end 3 thou is above its upper end 2 thou: swap them"):
        judge(low=D(3), high=D(2), unit="thou", limits=CLEARANCE)
    with pytest.raises(BadReading, match=r"an uncertainty of -0\.1 thou is less than none: give 0 or more"):
        plain("2", uncertainty=D("-0.1"))
    with pytest.raises(WrongKind):
        plain("2", "N_m")


def test_faults_of_a_rule():
    with pytest.raises(BadRule, match="a guard band of -1 uncertainties is less than none: give 0 or more"):
        Rule(kind=RuleKind.GUARDED, guard=D(-1))
    for share in ("0.5", "1", "0", "1.2"):
        with pytest.raises(BadRule, match=r"decides nothing: give one between 0\.5 and 1"):
            Rule(kind=RuleKind.PROBABILITY, share=D(share))


SIZES = st.decimals(allow_nan=False, allow_infinity=False, places=3, min_value=-20, max_value=20)
RULES = st.sampled_from([SIMPLE, GUARDED, LIKELY])
_RANK = {Outcome.IN: 0, Outcome.CLOSE: 1, Outcome.OVER: 2, Outcome.UNDER: 2}


@given(SIZES, SIZES, SIZES, SIZES, RULES, st.decimals(places=2, min_value=0, max_value=3))
def test_moving_a_reading_further_out_never_makes_it_better(one, two, inner, further, rule, uncertainty):
    low, high = sorted((one, two))
    limits = Limits(low=low, high=high, unit="mm")
    middle = (Fraction(low) + Fraction(high)) / 2
    assume(Fraction(inner) >= middle)
    outer = inner + abs(further)
    first = judge(low=inner, high=inner, unit="mm", limits=limits, rule=rule, uncertainty=uncertainty)
    second = judge(low=outer, high=outer, unit="mm", limits=limits, rule=rule, uncertainty=uncertainty)
    assert _RANK[second.outcome] >= _RANK[first.outcome]
    if first.by is not None and second.by is not None:
        assert second.by >= first.by


@given(SIZES, SIZES, SIZES, SIZES, RULES, st.decimals(places=2, min_value=0, max_value=3))
def test_a_wider_reading_is_never_called_more_surely(one, two, reading, width, rule, uncertainty):
    low, high = sorted((one, two))
    limits = Limits(low=low, high=high, unit="mm")
    narrow = judge(low=reading, high=reading, unit="mm", limits=limits, rule=rule, uncertainty=uncertainty).outcome
    wide = judge(
        low=reading - abs(width),
        high=reading + abs(width),
        unit="mm",
        limits=limits,
        rule=rule,
        uncertainty=uncertainty,
    ).outcome
    assert wide in (narrow, Outcome.CLOSE)


@given(SIZES, SIZES, SIZES, st.sampled_from(["in", "thou", "tenth", "um", "mm"]))
def test_the_unit_of_the_reading_changes_no_verdict(one, two, reading, unit):
    low, high = sorted((one, two))
    limits = Limits(low=low, high=high, unit="mm")
    exact = convert(reading, unit, "mm")
    verdict = judge(low=reading, high=reading, unit=unit, limits=limits)
    expected = Outcome.OVER if exact > high else Outcome.UNDER if exact < low else Outcome.IN
    assert verdict.outcome is expected


def test_stated_guard_band_is_in_the_unit_of_the_limits_and_needs_no_uncertainty():
    stated = Rule(kind=RuleKind.GUARDED, band=D("0.2"))
    assert plain("2.8", rule=stated).outcome is Outcome.IN
    assert plain("2.81", rule=stated).outcome is Outcome.CLOSE
    assert plain("3.21", rule=stated, uncertainty=D(9)) == Verdict(outcome=Outcome.OVER, by=D("0.21"))
    assert plain("0.0714", "mm", rule=stated).outcome is Outcome.CLOSE  # 2.811 thou
    with pytest.raises(BadRule):
        Rule(kind=RuleKind.GUARDED, band=D(-1))


# Published: JCGM 106:2012 clause 7 examples, recalled: 0.92 (breakdown voltage), 0.66 (oil viscosity).
@pytest.mark.parametrize(
    ("reading", "u", "low", "high", "printed"),
    [("-5.47", "0.05", None, "-5.40", "0.92"), ("13.6", "1.8", "12.5", "16.3", "0.66")],
)
def test_probability_of_published_examples(reading, u, low, high, printed):
    limits = Limits(low=None if low is None else D(low), high=D(high), unit="mm")
    found = probability(low=D(reading), high=D(reading), unit="mm", limits=limits, uncertainty=2 * D(u))
    assert found is not None
    assert round(found, 2) == D(printed)


def test_probability_of_nothing_in_doubt_is_not_told():
    for uncertainty in (None, D(0)):
        assert probability(low=D(2), high=D(2), unit="thou", limits=CLEARANCE, uncertainty=uncertainty) is None


BADNESS = {Outcome.IN: 0, Outcome.CLOSE: 1, Outcome.OVER: 2, Outcome.UNDER: 2}
EVERY_RULE = st.one_of(
    st.just(SIMPLE),
    st.builds(lambda times: Rule(kind=RuleKind.GUARDED, guard=times), st.decimals(places=1, min_value=0, max_value=3)),
    st.builds(lambda band: Rule(kind=RuleKind.GUARDED, band=band), st.decimals(places=2, min_value=0, max_value=2)),
    st.builds(
        lambda share: Rule(kind=RuleKind.PROBABILITY, share=share),
        st.decimals(places=3, min_value=D("0.501"), max_value=D("0.999")),
    ),
)
LIMITS = st.sampled_from(
    [CLEARANCE, Limits(low=None, high=D(3), unit="thou"), Limits(low=D("1.5"), high=None, unit="thou")]
)


@given(
    EVERY_RULE,
    LIMITS,
    st.decimals(places=2, min_value=0, max_value=6),
    st.decimals(places=2, min_value=0, max_value=1),
    st.decimals(places=2, min_value=0, max_value=2),
    st.decimals(places=2, min_value=0, max_value=2),
)
def test_further_out_is_never_better_under_any_rule(rule, limits, start, width, out, uncertainty):
    """Moving a reading, or an interval, away from the limits' middle never makes its verdict better."""

    def outcome(low):
        return judge(low=low, high=low + width, unit="thou", limits=limits, rule=rule, uncertainty=uncertainty).outcome

    middle = D("2.25") - width / 2
    upwards = limits.high is not None and (limits.low is None or start >= middle)
    if limits.low is not None and limits.high is not None:
        start = max(start, middle) if upwards else min(start, middle)
    further = start + out if upwards else start - out
    assert BADNESS[outcome(further)] >= BADNESS[outcome(start)]


@given(EVERY_RULE, st.decimals(places=2, min_value=0, max_value=6), st.decimals(places=2, min_value=0, max_value=2))
def test_doubt_never_makes_a_reading_sure(rule, reading, uncertainty):
    """What a rule calls in, over or under, the reading as taken is too."""
    verdict = plain(str(reading), rule=rule, uncertainty=uncertainty)
    assert verdict.outcome is Outcome.CLOSE or verdict == plain(str(reading))
