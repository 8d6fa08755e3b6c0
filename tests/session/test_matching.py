"""Matched sets at the bench, against every way tried."""

from decimal import Decimal
from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.procedure.load import load_text
from benchvoice.procedure.models import Match
from benchvoice.session.entries import Reading
from benchvoice.session.facts import Instant, fold
from benchvoice.session.matching import matches_of, say_match
from benchvoice.session.state import State
from benchvoice.testing.bench import START

D = Decimal
NAMES = ("one", "two", "three", "four")
DOCUMENT = """
schema: 1
title: Weights
work: metric
steps:
  - step: pistons
    measure: {what: piston, unit: g, places: {number: [one, two, three, four]}}
  - step: rods
    measure: {what: rod, unit: g, places: {number: [one, two, three, four]}}
"""
WEIGHTS = st.lists(st.decimals(places=1, min_value=400, max_value=420), min_size=4, max_size=4)


def state(**weights: list[Decimal]) -> State:
    entries = [
        Reading(step=step, what=step, place=(name,), value=value, unit="g", said="", low=value, high=value)
        for step, values in weights.items()
        for name, value in zip(NAMES, values, strict=True)
    ]
    now = Instant(START, D(0), "boot1")
    return State(load_text(DOCUMENT, "weights.yaml"), fold((entry, now) for entry in entries))


@settings(max_examples=40, deadline=None)
@given(WEIGHTS, WEIGHTS)
def test_even_totals(pistons: list[Decimal], rods: list[Decimal]) -> None:
    found = matches_of(state(pistons=pistons, rods=rods), _match("totals"))
    assert found is not None
    spreads = {
        way: max(a + b for a, b in zip(pistons, way, strict=True))
        - min(a + b for a, b in zip(pistons, way, strict=True))
        for way in permutations(rods)
    }
    assert found.figure == min(spreads.values())
    for way in found.ways:
        partners = {group[0]: group[1] for group in way}
        assert sorted(partners) == sorted(partners.values()) == sorted(NAMES)
        totals = [pistons[NAMES.index(one)] + rods[NAMES.index(other)] for one, other in partners.items()]
        assert max(totals) - min(totals) == found.figure


@settings(max_examples=40, deadline=None)
@given(WEIGHTS)
def test_pairs_and_banks(pistons: list[Decimal]) -> None:
    here = state(pistons=pistons)
    pairs, banks = matches_of(here, _match("pairs")), matches_of(here, _match("banks"))
    assert pairs is not None
    assert banks is not None
    ways = [((0, a), tuple({1, 2, 3} - {a})) for a in (1, 2, 3)]
    largest = [max(abs(pistons[a] - pistons[b]) for a, b in way) for way in ways]
    assert pairs.figure == min(largest)
    whole = sum(pistons)
    assert banks.figure == min(abs(whole - 2 * (a + b)) for a, b in combinations(pistons, 2))
    for way in banks.ways:
        assert sorted(name for bank in way for name in bank) == sorted(NAMES)
        assert len(way[0]) == len(way[1]) == 2


def test_nothing_while_a_reading_is_missing() -> None:
    assert matches_of(state(pistons=[D(1)] * 4), _match("totals")) is None


def test_one_breath() -> None:
    here = state(pistons=[D(410), D(412), D(411), D(413)], rods=[D(601), D(602), D(603), D(604)])
    found = matches_of(here, _match("totals"))
    assert found is not None
    assert found.rows == tuple(range(1, 9))
    assert say_match(_match("totals"), found) == (
        "one with four, two with two, three with three, four with one; totals within zero grams"
    )


def test_partners_go_with_totals_and_clearances_only() -> None:
    with pytest.raises(ValueError, match="totals and clearances have partners"):
        Match.model_validate({"what": "pistons", "how": "pairs", "of": "pistons", "partners": "rods"})


def _match(how: str) -> Match:
    partners = {"partners": "rods"} if how in ("totals", "clearances") else {}
    return Match.model_validate({"what": "pistons", "how": how, "of": "pistons", **partners})
