import math
from dataclasses import replace

import pytest

from benchvoice.ear.confidence import LEFT_OUT_S, SUREST, Policy, Trust, probability, read_policy, trust
from benchvoice.ear.decode import Decoded, Word
from benchvoice.ear.layout import ModelError
from benchvoice.ear.lexicon import OTHER

POLICY = Policy(accept=0.8, refuse=0.4)
"""Without a curve of its own: a probability is the least posterior."""


def heard(*words: tuple[str, float]) -> Decoded:
    return Decoded(tuple(Word(word, confidence, 0.0, 0.1) for word, confidence in words), 1.0, 0.1)


@pytest.mark.parametrize(
    ("decoded", "expected"),
    [
        (heard(), Trust.REFUSE),
        (heard((OTHER, 1.0)), Trust.REFUSE),
        (heard(("two", 0.39)), Trust.REFUSE),
        (heard(("two", 0.4)), Trust.DOUBT),
        (heard(("two", 0.79)), Trust.DOUBT),
        (heard(("two", 0.8)), Trust.ACCEPT),
        (heard(("two", 1.0), ("point", 0.79), ("five", 1.0)), Trust.DOUBT),
        (heard(("two", 1.0), ("point", 0.8), ("five", 1.0)), Trust.ACCEPT),
        (heard(("two", 1.0), ("five", 0.3)), Trust.REFUSE),
        (heard(("two", 1.0), (OTHER, 0.9)), Trust.DOUBT),
        (heard(("two", 0.79), (OTHER, 0.9)), Trust.REFUSE),
        (heard((OTHER, 1.0), ("two", 0.79), (OTHER, 0.9)), Trust.REFUSE),
        (heard(("two", 0.79), ("thou", 1.0), (OTHER, 0.9)), Trust.DOUBT),
    ],
)
def test_thresholds(decoded: Decoded, expected: Trust) -> None:
    assert trust(decoded, POLICY) is expected


def test_something_loud_that_no_word_accounts_for_is_asked_about() -> None:
    sure = heard(("two", 1.0))
    assert trust(replace(sure, left_out_s=LEFT_OUT_S - 0.01), POLICY) is Trust.ACCEPT
    assert trust(replace(sure, left_out_s=LEFT_OUT_S), POLICY) is Trust.DOUBT
    assert trust(replace(heard(("two", 0.3)), left_out_s=1.0), POLICY) is Trust.REFUSE


def test_words_that_the_ear_lacks_are_expected_in_a_remark() -> None:
    remark = heard(("cover", 0.7), (OTHER, 1.0), (OTHER, 1.0))
    assert trust(remark, POLICY) is Trust.REFUSE
    assert trust(remark, POLICY, any_words=True) is Trust.DOUBT


def test_the_curve_goes_through_the_least_sure_word() -> None:
    curve = Policy(constant=-0.5, slope=2.0)
    assert probability(heard(("two", 0.9), ("five", 0.75)), curve) == pytest.approx(
        1 / (1 + math.exp(0.5 - 2 * math.log(3)))
    )
    assert probability(heard(("two", 1.0)), POLICY) == pytest.approx(SUREST)
    assert probability(heard(("two", 0.0)), POLICY) == pytest.approx(1 - SUREST)
    assert probability(heard((OTHER, 1.0)), curve) == 0


def test_a_model_without_thresholds_gets_the_default(tmp_path) -> None:
    assert read_policy(tmp_path) == Policy()


def test_thresholds_on_posteriors_are_still_read(tmp_path) -> None:
    (tmp_path / "confidence.json").write_text('{"accept_least": 0.7, "accept_mean": 0.85, "refuse_mean": 0.3}')
    assert read_policy(tmp_path) == Policy(accept=0.85, refuse=0.3)
    (tmp_path / "confidence.json").write_text('{"accept_mean": 0.85, "strange": 0.3}')
    with pytest.raises(ModelError, match="strange"):
        read_policy(tmp_path)


@pytest.mark.parametrize(
    "values",
    [
        (0.0, 1.0, 0.3, 0.4),
        (0.0, 1.0, 1.1, 0.4),
        (0.0, 1.0, 0.8, -0.1),
        (0.0, -1.0, 0.8, 0.4),
        (math.nan, 1.0, 0.8, 0.4),
    ],
)
def test_a_policy_that_cannot_be_is_refused(values: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match=r"thresholds|curve"):
        Policy(*values)
