"""Sums over ways: against sums over every sequence of words, and against small steps."""

from itertools import product

import numpy as np
import pytest

from benchvoice.ear.fit.paths import AnyWords, by_output, forward_backward, grammar_cost, ways_of
from benchvoice.ear.pack.graph import Costs
from benchvoice.ear.pack.phones import Topology

TOPOLOGY = Topology(("sil", "A", "B", "C"), "sil", {"sil": (0, 0), "A": (1, 2), "B": (3, 4), "C": (5, 6)})
COSTS = Costs(loop=0.45, word=0.2)
LEXICON = {"ab": (("A", "B"), ("A", "C")), "c": (("C",),), "cab": (("C", "A", "B"),)}
SCORES = np.random.default_rng(2).standard_normal((3, 9, 7)).astype(np.float32) * 2


def test_any_words_are_the_sum_of_all_sequences():
    length = 6
    total, _ = AnyWords(LEXICON, TOPOLOGY, COSTS, 1.7).shares(SCORES[:1, :length], [length])
    each = [
        forward_backward(SCORES[0, :length], ways_of(words, LEXICON, TOPOLOGY, COSTS, 1.7))[0]
        for count in range(length + 1)
        for words in product(LEXICON, repeat=count)
    ]
    assert total[0] == pytest.approx(np.logaddexp.reduce(each), abs=1e-4)


def test_one_way_is_its_scores_and_costs():
    """A word of one sound in one output: entered, and over."""
    total, shares = forward_backward(SCORES[0, :1], ways_of(["c"], LEXICON, TOPOLOGY, COSTS, 1.0))
    assert total == pytest.approx(float(SCORES[0, 0, 5]) - 0.2 - 1.0, abs=1e-5)
    assert shares.sum() == pytest.approx(1.0)


def test_words_that_do_not_fit_into_the_sound_have_no_way():
    total, _ = forward_backward(SCORES[0, :2], ways_of(["cab"], LEXICON, TOPOLOGY, COSTS))
    assert total < -1e20


@pytest.mark.parametrize("words", [["ab"], ["c", "ab"], []])
def test_shares_of_known_words_are_the_slope(words):
    ways = ways_of(words, LEXICON, TOPOLOGY, COSTS)
    _, states = forward_backward(SCORES[0], ways)
    shares = by_output(states, ways, 7)
    assert np.allclose(shares.sum(axis=1), 1.0, atol=1e-5)
    for time, unit in ((0, 0), (4, 2), (8, 6)):
        ends = []
        for step in (0.01, -0.01):
            moved = SCORES[0].copy()
            moved[time, unit] += step
            ends.append(forward_backward(moved, ways)[0])
        assert shares[time, unit] == pytest.approx((ends[0] - ends[1]) / 0.02, abs=2e-3)


def test_shares_of_any_words_are_the_slope_for_every_length():
    rivals, counts = AnyWords(LEXICON, TOPOLOGY, COSTS, 1.7), [9, 6, 2]
    _, shares = rivals.shares(SCORES, counts)
    for row, count in enumerate(counts):
        assert np.allclose(shares[row, :count].sum(axis=1), 1.0, atol=1e-5)
        assert not shares[row, count:].any()
        for time, unit in ((0, 0), (count - 1, 2), (1, 4)):
            ends = []
            for step in (0.01, -0.01):
                moved = SCORES.copy()
                moved[row, time, unit] += step
                ends.append(rivals.shares(moved, counts)[0][row])
            assert shares[row, time, unit] == pytest.approx((ends[0] - ends[1]) / 0.02, abs=2e-3)


def test_scores_far_apart_do_not_overflow():
    total, shares = AnyWords(LEXICON, TOPOLOGY, COSTS, 1.7).shares(SCORES * 300, [9, 9, 9])
    assert np.isfinite(total).all()
    assert np.isfinite(shares).all()


def test_a_word_costs_more_in_a_larger_grammar():
    assert grammar_cost(1) == pytest.approx(np.log(8))
    assert grammar_cost(100) > grammar_cost(10)
