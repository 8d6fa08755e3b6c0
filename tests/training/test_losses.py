"""The exact MMI sums against enumeration of every path on small cases, and their gradients against differences."""

import itertools
import math

import numpy as np
import pytest

torch = pytest.importorskip("torch", reason="training needs torch")

import losses  # noqa: E402
from losses import Denominator, LatticeFreeMmi, chain, numerator, pad_chains, phone_trigram  # noqa: E402
from phones import PDFS, UNITS, first_pdf, rest_pdf  # noqa: E402

TIMES = 4


@pytest.fixture
def scores():
    return torch.randn(2, TIMES, PDFS, generator=torch.Generator().manual_seed(0))


def paths_of_strings(units, times):
    """All ways to spread strings of units over frames: lists of (unit, is first frame)."""
    for starts in itertools.product([True, False], repeat=times - 1):
        lengths = [len(list(g)) for g in np.split(np.arange(times), [i + 1 for i, s in enumerate(starts) if s])]
        for string in itertools.product(units, repeat=len(lengths)):
            yield string, [(u, k == 0) for u, n in zip(string, lengths, strict=True) for k in range(n)]


def test_denominator_sums_all_strings(scores):
    trigram = torch.zeros(len(UNITS), len(UNITS), len(UNITS))
    kept = [0, 1, 2]
    part = torch.rand(3, 3, 3, generator=torch.Generator().manual_seed(1))
    trigram[:3, :3, :3] = part / part.sum(2, keepdim=True)
    total, posteriors = Denominator(trigram, "cpu")(scores)
    for row in range(2):
        logs = []
        for string, frames in paths_of_strings(kept, TIMES):
            value, h, p = 0.0, 0, 0
            for q in string:
                value += math.log(float(trigram[h, p, q]))
                h, p = p, q
            value += sum(
                float(scores[row, t, first_pdf(u) if first else rest_pdf(u)]) for t, (u, first) in enumerate(frames)
            )
            logs.append(value)
        assert float(total[row]) == pytest.approx(float(np.logaddexp.reduce(logs)), abs=1e-4)
    assert torch.allclose(posteriors.sum(2), torch.ones(2, TIMES), atol=1e-5)


def test_numerator_sums_the_alignments_of_its_own_phones(scores):
    total, posteriors = numerator(scores, pad_chains([chain([[1, 2]]), chain([[3]])], multiple=8))
    # one word of phones 1 2 in four frames, silence before and after or not
    logs = []
    for before, one, two in itertools.product(range(TIMES), range(1, TIMES + 1), range(1, TIMES + 1)):
        after = TIMES - before - one - two
        if after < 0:
            continue
        pdfs = [0] * before + [1] + [2] * (one - 1) + [3] + [4] * (two - 1) + [0] * after
        cost = sum(losses.SILENCE_IN if n else losses.SILENCE_SKIP for n in (before, after))
        logs.append(cost + sum(float(scores[0, t, p]) for t, p in enumerate(pdfs)))
    assert float(total[0]) == pytest.approx(float(np.logaddexp.reduce(logs)), abs=1e-4)
    assert torch.allclose(posteriors.sum(2), torch.ones(2, TIMES), atol=1e-4)


def test_gradient_is_that_of_the_loss(scores):
    mmi = LatticeFreeMmi(Denominator(phone_trigram([[0, 1, 2, 0], [0, 3, 0]]), "cpu"))
    chains = pad_chains([chain([[1, 2]]), chain([[3]])], multiple=8)
    _, gradient, used = mmi(scores, chains)
    assert float(used) == 1.0
    for row, t, pdf in ((0, 0, 0), (0, 1, 1), (1, 2, 6), (1, 3, 0)):
        changed = [scores.clone().double() for _ in range(2)]
        for sign, y in zip((1, -1), changed, strict=True):
            y[row, t, pdf] += sign * 1e-3
        high, low = (float(mmi(y.float(), chains)[0]) for y in changed)
        assert (high - low) / 2e-3 == pytest.approx(float(gradient[row, t, pdf]), abs=5e-3)


def test_a_row_too_short_for_its_phones_counts_nothing(scores):
    mmi = LatticeFreeMmi(Denominator(phone_trigram([[0, 1, 0]]), "cpu"))
    _, gradient, used = mmi(scores, pad_chains([chain([[1] * 9]), chain([[3]])]))
    assert float(used) == 0.5
    assert not gradient[0].any()


def test_trigram_rows_are_distributions_and_leave_nothing_impossible():
    trigram = phone_trigram([[0, 5, 7, 0]])
    assert torch.allclose(trigram.sum(2), torch.ones(len(UNITS), len(UNITS)), atol=1e-5)
    assert float(trigram.min()) >= 0.3 / len(UNITS) - 1e-6
