"""A verdict in words: what is too close to call, give or take how much, why, and what would tell."""

from decimal import Decimal

from benchvoice.procedure.models import Computed, Measure
from benchvoice.session.entries import Reading, Verdict
from benchvoice.session.readings import Bandwidth
from benchvoice.speech.about import say_about
from benchvoice.speech.say import say_limits, say_number, to_say

LEAF = "try the leaf between"
"""What would tell with feeler gauges: a reading is a leaf that goes and one that won't."""


def close_call(reading: Reading, verdict: Verdict, kind: str) -> str:
    """Four and a half, give or take a third of a thou: can't call it, try the leaf between.

    `kind` is the instrument's.
    """
    value = value_words(reading)
    doubt = verdict.uncertainty
    give = f", give or take {say_about(doubt, verdict.unit)}" if doubt else ""
    hints = [_why(verdict)]
    if reading.counts_as != "computed" and ("feeler" in kind or "leaf" in kind or _is_interval(reading)):
        hints.append(LEAF)
    elif verdict.reason == "no uncertainty is stated":
        hints = ["no uncertainty is known here"]
    return f"{value}{give}: can't call it, {', '.join(hint for hint in hints if hint)}".rstrip(", ")


def value_words(reading: Reading) -> str:
    """The value, or the interval that it lies in."""
    if reading.value is not None:
        value = to_say(reading.value, reading.unit) if reading.counts_as == "computed" else reading.value
        return say_number(value, reading.unit in ("thou", "tenth"))
    return say_limits(reading.low, reading.high, reading.unit)


def _is_interval(reading: Reading) -> bool:
    return reading.value is None and reading.low is not None and reading.high is not None


def _why(verdict: Verdict) -> str:
    """Which limit it is too near to, or how sure it is."""
    if verdict.rule.startswith("conformance") and verdict.probability is not None:
        asked = verdict.rule.rpartition(", ")[2].removesuffix(" %")
        sure = (verdict.probability * 100).to_integral_value(rounding="ROUND_FLOOR")
        return f"{say_number(sure)} per cent sure and {say_number(Decimal(asked))} is asked"
    for words, plain in (("within the uncertainty of ", "too near "), ("the reading lies across ", "it lies across ")):
        if verdict.reason.startswith(words):
            return plain + verdict.reason.removeprefix(words)
    return verdict.reason


def limits_words(of: Measure | Computed, band: Bandwidth, unit: str) -> str:
    """The limits with the nominal value, how far they may wear, and how doubt counts: for one who asks."""
    parts = [say_limits(band.low, band.high, unit)]
    if band.nominal is not None:
        parts.append(f"nominal {say_limits(band.nominal, band.nominal, unit)}")
    if band.worn is not None:
        parts.append(f"worn {say_limits(*band.worn, unit)}")
    return ", ".join(filter(None, (*parts, rule_words(of))))


def rule_words(of: Measure | Computed) -> str:
    """How doubt counts, for one who asks what the limits are; empty for simple acceptance."""
    rule = of.rule
    if rule is None or not rule.weighs:
        return ""
    if rule.per_cent is not None:
        return f"{say_number(rule.per_cent)} per cent sure"
    if rule.band is not None:
        unit = of.unit
        return f"with {say_about(rule.band, unit)} to spare" if unit else "with some to spare"
    times = "" if rule.guard == 1 else f"{say_number(rule.guard)} times "
    return f"with {times}the uncertainty to spare"
