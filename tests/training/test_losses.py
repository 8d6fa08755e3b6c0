"""The exact MMI sums against enumeration of every path on small cases, and their gradients against differences."""

import itertools
import math
from dataclasses import asdict

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs torch")

import grammar  # noqa: E402
from grammar import Costs, Words, graph_of, words_to_ask  # noqa: E402
from losses import Denominator, LatticeFreeMmi, chain, numerator, pad_chains  # noqa: E402
from phones import PDFS, SPN, first_pdf, rest_pdf  # noqa: E402

from benchvoice.ear.pack import Costs as Packed  # noqa: E402

TIMES = 5
COSTS = Costs(filler_length=2)


@pytest.fixture
def scores():
    return torch.randn(2, TIMES, PDFS, generator=torch.Generator().manual_seed(0))


@pytest.fixture
def words(monkeypatch):
    """Two words and one that is only ever refused, in a world of three sounds and garbage."""
    monkeypatch.setattr(grammar, "UNITS", ["<sil>", "AA", "AE", "AH"])
    return Words({"one": [(1, 2)], "two": [(3,), (1, 2)]}, [(2, 1)], COSTS)


def splits(sounds, frames):
    """All ways to spread sounds over so many frames: lists of pdfs and how many frames are further ones."""
    for cuts in itertools.combinations(range(1, frames), len(sounds) - 1):
        lengths = np.diff([0, *cuts, frames])
        yield [p for u, n in zip(sounds, lengths, strict=True) for p in [first_pdf(u)] + [rest_pdf(u)] * (n - 1)]


def segments(words, asked, frames):
    """Everything that may fill so many frames but silence: (pdfs, cost)."""
    entry = COSTS.word + COSTS.choice
    spoken = [(s, entry + (0 if asked[k] else COSTS.background)) for s, k in words.number.items()]
    spoken.append(((SPN,), entry + COSTS.garbage))
    for count in range(2, frames + 1):
        for run in itertools.product((1, 2, 3), repeat=count):
            tail = COSTS.filler_tail * max(0, count - COSTS.filler_length)
            spoken.append((run, entry + COSTS.filler * count + tail))
    for sounds, cost in spoken:
        for pdfs in splits(sounds, frames):
            yield pdfs, cost + COSTS.loop * (frames - len(sounds))


def all_paths(words, asked, frames, silent=False):
    """Every path of so many frames; two silences never follow one another, for they would be one."""
    if not frames:
        yield [], 0.0
        return
    for first in range(1, frames + 1):
        parts = list(segments(words, asked, first)) + ([] if silent else [([0] * first, 0.0)])
        for pdfs, cost in parts:
            for rest, further in all_paths(words, asked, frames - first, not any(pdfs)):
                yield pdfs + rest, cost + further


def total_of(y, paths):
    return float(np.logaddexp.reduce([sum(float(y[t, p]) for t, p in enumerate(pdfs)) - cost for pdfs, cost in paths]))


def test_denominator_sums_every_path_of_the_decoder(scores, words):
    asked = torch.tensor([[True, True, False], [False, True, True]])
    total, posteriors = Denominator(graph_of(words), COSTS.background, "cpu")(scores, asked)
    for row in range(2):
        assert float(total[row]) == pytest.approx(total_of(scores[row], all_paths(words, asked[row], TIMES)), abs=1e-4)
    assert torch.allclose(posteriors.sum(2), torch.ones(2, TIMES), atol=1e-5)


def test_numerator_sums_the_alignments_of_its_own_phones(scores, words):
    asked = np.array([True, False, False])
    said = [words.price((1, 2), asked)]
    total, posteriors = numerator(scores, pad_chains([chain(said, COSTS.loop), chain([], COSTS.loop)], multiple=8))
    paths = [
        ([0] * before + pdfs + [0] * (TIMES - before - length), COSTS.word + COSTS.choice + COSTS.loop * (length - 2))
        for length in range(2, TIMES + 1)
        for before in range(TIMES - length + 1)
        for pdfs in splits((1, 2), length)
    ]
    assert float(total[0]) == pytest.approx(total_of(scores[0], paths), abs=1e-4)
    assert float(total[1]) == pytest.approx(total_of(scores[1], [([0] * TIMES, 0.0)]), abs=1e-4)
    assert torch.allclose(posteriors.sum(2), torch.ones(2, TIMES), atol=1e-4)


def test_what_is_said_is_one_of_the_decoders_paths(scores, words):
    """A numerator with costs of its own would be learned to cheat."""
    denominator = Denominator(graph_of(words), COSTS.background, "cpu")
    asked = torch.tensor([[False, True, False]]).expand(2, 3)
    for said in ([(1, 2)], [(3,), (2, 1)], [(1, 3)], [(1, 1, 3)], [(SPN,)], []):
        priced = [words.price(s, asked[0].numpy()) for s in said]
        some, _ = numerator(scores, pad_chains([chain(priced, COSTS.loop)] * 2, multiple=8))
        everything, _ = denominator(scores, asked)
        assert (some < everything).all(), said


def test_gradient_is_that_of_the_loss(scores, words):
    mmi = LatticeFreeMmi(Denominator(graph_of(words), COSTS.background, "cpu"))
    asked = torch.tensor([[True, True, False], [False, True, True]])
    said = [[words.price((1, 2), asked[0].numpy())], [words.price((3,), asked[1].numpy())]]
    chains = pad_chains([chain(s, COSTS.loop) for s in said], multiple=8)
    _, gradient, used = mmi(scores, asked, chains)
    assert float(used) == 1.0
    for row, t, pdf in ((0, 0, 0), (0, 1, 1), (1, 2, 6), (1, 3, 0)):
        changed = [scores.clone().double() for _ in range(2)]
        for sign, y in zip((1, -1), changed, strict=True):
            y[row, t, pdf] += sign * 1e-3
        high, low = (float(mmi(y.float(), asked, chains)[0]) for y in changed)
        assert (high - low) / 2e-3 == pytest.approx(float(gradient[row, t, pdf]), abs=5e-3)


def test_a_row_too_short_for_its_phones_counts_nothing(scores, words):
    mmi = LatticeFreeMmi(Denominator(graph_of(words), COSTS.background, "cpu"))
    asked = torch.ones(2, 3, dtype=torch.bool)
    said = [[words.price([1] * 9, asked[0].numpy())], [words.price([3], asked[1].numpy())]]
    _, gradient, used = mmi(scores, asked, pad_chains([chain(s, COSTS.loop) for s in said]))
    assert float(used) == 0.5
    assert not gradient[0].any()


def test_costs_are_those_that_the_decoder_has():
    """But for silence's: training asks for a word where the net gives it up."""
    ours, theirs = asdict(Costs()), Packed().to_json()
    del theirs["silence"]
    assert {name: ours[name] for name in theirs} == theirs


def test_words_asked_for_differ_by_row_and_the_benchs_are_asked_for_most():
    lexicon = {"one": [("W", "AH", "N")], "won": [("W", "AH", "N")], "two": [("T", "UW")], "cat": [("K", "AE", "T")]}
    heard = {(1, 2): 0.5, (3, 4): 0.1, (5, 6): 0.4}
    words = words_to_ask(lexicon, ["one", "won", "two", "sixty"], heard, 2)
    assert words.bench == 3
    assert len(words.number) == 4, "one and won sound the same, and two others are heard most"
    draws = np.array([words.draw(np.random.default_rng(k)) for k in range(300)])
    assert 0.6 < draws[:, :2].mean() < 0.95
    assert 0 < draws[:, 2:].mean() < 0.1
    said = words.price((5, 6), np.zeros(4, bool))
    assert said[1] == [pytest.approx(0.8 + math.log(129) + 2.5), 0.0]
