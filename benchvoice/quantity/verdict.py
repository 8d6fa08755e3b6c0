"""What was read against what is asked: in limits, over, under, or too close to call.

A reading is an interval. A plain reading has both ends equal; a feeler leaf that goes and one that won't give an
interval; "over fifty" has one open end. The truth lies somewhere in it, so a verdict is certain only when the whole
interval is on one side of each limit.

The decision rule says how doubt is treated (JCGM 106:2012; ISO 14253-1):

* *simple acceptance*: the reading as taken decides;
* *guarded acceptance*: the reading is widened by a guard band, one expanded uncertainty unless stated otherwise (so
  many uncertainties, or a band in the unit of the limits), and only what is in (or out) with all of it is called so;
* *conformance probability*: in when the probability of conforming reaches the asked share, out when the probability
  of not conforming does.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from benchvoice.errors import DocumentError, InputError
from benchvoice.quantity.limits import Limits
from benchvoice.quantity.probability import below, conformance
from benchvoice.quantity.units import convert, to_decimal


class Outcome(StrEnum):
    """What a reading is against its limits."""

    IN = "in limits"
    OVER = "over"
    UNDER = "under"
    CLOSE = "too close to call"


class RuleKind(StrEnum):
    """How doubt in a reading is treated."""

    SIMPLE = "simple acceptance"
    GUARDED = "guarded acceptance"
    PROBABILITY = "conformance probability"


class BadRule(DocumentError):
    """A decision rule with a figure that can't be."""


class BadReading(InputError):
    """A reading whose ends are the wrong way round, or that says nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """A decision rule: its guard band in expanded uncertainties, or `band` as stated; `share`, the probability asked.

    A stated band is in the unit of the limits.
    """

    kind: RuleKind
    guard: Decimal = Decimal(1)
    band: Decimal | None = None
    share: Decimal = Decimal("0.95")

    def __post_init__(self) -> None:
        if self.guard < 0:
            raise BadRule(f"a guard band of {self.guard} uncertainties is less than none: give 0 or more")
        if self.band is not None and self.band < 0:
            raise BadRule(f"a guard band of {self.band} is less than none: give 0 or more")
        if not Decimal("0.5") < self.share < 1:
            raise BadRule(f"a conformance probability of {self.share} decides nothing: give one between 0.5 and 1")


SIMPLE = Rule(kind=RuleKind.SIMPLE)
GUARDED = Rule(kind=RuleKind.GUARDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """An outcome, how far out the reading is (in the limits' unit; of an interval, its nearest end), and why."""

    outcome: Outcome
    by: Decimal | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Span:
    """The ends of a reading in the limits' unit, exactly; None is an open end."""

    low: Fraction | None
    high: Fraction | None


def judge(
    *,
    low: Decimal | None,
    high: Decimal | None,
    unit: str,
    limits: Limits,
    rule: Rule = SIMPLE,
    uncertainty: Decimal | None = None,
) -> Verdict:
    """Judge the reading that lies between `low` and `high` (equal for a plain reading, None for an open end).

    `uncertainty` is the expanded uncertainty of the reading (k = 2), in `unit`. A rule that needs it and has none
    answers "too close to call". Compared exactly, in the unit of the limits. Raises BadReading, WrongKind.
    """
    _check(low, high, unit, uncertainty)
    span = _span(low, high, unit, limits.unit)
    if rule.kind is RuleKind.SIMPLE:
        return _placed(span, span, limits)
    if rule.kind is RuleKind.GUARDED and rule.band is not None:
        return _placed(span, _widened(span, Fraction(rule.band)), limits)
    if uncertainty is None:
        return Verdict(outcome=Outcome.CLOSE, reason="no uncertainty is stated")
    if rule.kind is RuleKind.GUARDED:
        band = Fraction(rule.guard) * Fraction(uncertainty)
        return _placed(span, _span(low, high, unit, limits.unit, band), limits)
    if uncertainty == 0:
        return _placed(span, span, limits)
    return _weighed(span, _standard(uncertainty, unit, limits), limits, rule.share)


def probability(
    *, low: Decimal | None, high: Decimal | None, unit: str, limits: Limits, uncertainty: Decimal | None
) -> Decimal | None:
    """The probability that what was read conforms (JCGM 106:2012, 7.4), of an interval the least over its ends.

    `uncertainty` as for `judge`; None where it is not stated, or is nought, and nothing can be said.
    """
    _check(low, high, unit, uncertainty)
    if not uncertainty:
        return None
    return _conforming(_span(low, high, unit, limits.unit), _standard(uncertainty, unit, limits), limits)


def _standard(uncertainty: Decimal, unit: str, limits: Limits) -> Decimal:
    """The standard uncertainty in the limits' unit. A difference of two readings has no offset, and converts so."""
    return to_decimal((convert(uncertainty, unit, limits.unit) - convert(0, unit, limits.unit)) / 2, 30)


def _check(low: Decimal | None, high: Decimal | None, unit: str, uncertainty: Decimal | None) -> None:
    if low is None and high is None:
        raise BadReading("a reading with both ends open says nothing: give at least one of them")
    if low is not None and high is not None and low > high:
        raise BadReading(f"the reading's lower end {low} {unit} is above its upper end {high} {unit}: swap them")
    if uncertainty is not None and uncertainty < 0:
        raise BadReading(f"an uncertainty of {uncertainty} {unit} is less than none: give 0 or more")


def _span(low: Decimal | None, high: Decimal | None, unit: str, to: str, band: Fraction = Fraction(0)) -> _Span:
    """The reading in another unit, widened by `band` on both sides in its own unit first."""
    return _Span(
        None if low is None else convert(Fraction(low) - band, unit, to),
        None if high is None else convert(Fraction(high) + band, unit, to),
    )


def _widened(span: _Span, band: Fraction) -> _Span:
    return _Span(None if span.low is None else span.low - band, None if span.high is None else span.high + band)


def _placed(reading: _Span, widened: _Span, limits: Limits) -> Verdict:
    """Where an interval lies against limits of the same unit: wholly over, wholly under, wholly in, or across."""
    if limits.high is not None and widened.low is not None and widened.low > limits.high:
        return _over(reading, limits)
    if limits.low is not None and widened.high is not None and widened.high < limits.low:
        return _under(reading, limits)
    past_high = limits.high is not None and (widened.high is None or widened.high > limits.high)
    past_low = limits.low is not None and (widened.low is None or widened.low < limits.low)
    if not past_high and not past_low:
        return Verdict(outcome=Outcome.IN)
    sides = "both limits" if past_high and past_low else "the upper limit" if past_high else "the lower limit"
    doubt = "the reading lies across" if widened == reading else "within the uncertainty of"
    return Verdict(outcome=Outcome.CLOSE, reason=f"{doubt} {sides}")


def _over(reading: _Span, limits: Limits) -> Verdict:
    return Verdict(outcome=Outcome.OVER, by=_gap(limits.high, reading.low))


def _under(reading: _Span, limits: Limits) -> Verdict:
    return Verdict(outcome=Outcome.UNDER, by=_gap(limits.low, reading.high))


def _gap(limit: Decimal | None, end: Fraction | None) -> Decimal | None:
    """How far the nearest end of a reading is from the limit that it is past."""
    return None if limit is None or end is None else to_decimal(abs(end - Fraction(limit)))


def _weighed(span: _Span, u: Decimal, limits: Limits, share: Decimal) -> Verdict:
    """The verdict by probability. Of an interval, each probability is taken at the end where it is least."""
    low = None if span.low is None else to_decimal(span.low, 30)
    high = None if span.high is None else to_decimal(span.high, 30)
    if limits.high is not None and low is not None and 1 - below(limits.high, low, u) >= share:
        return _over(span, limits)
    if limits.low is not None and high is not None and below(limits.low, high, u) >= share:
        return _under(span, limits)
    if _conforming(span, u, limits) >= share:
        return Verdict(outcome=Outcome.IN)
    return Verdict(outcome=Outcome.CLOSE, reason="the probability of conforming is neither high nor low enough")


def _conforming(span: _Span, u: Decimal, limits: Limits) -> Decimal:
    low = None if span.low is None else to_decimal(span.low, 30)
    high = None if span.high is None else to_decimal(span.high, 30)
    return min(
        Decimal(int(limits.low is None)) if low is None else conformance(low, u, limits.low, limits.high),
        Decimal(int(limits.high is None)) if high is None else conformance(high, u, limits.low, limits.high),
    )
