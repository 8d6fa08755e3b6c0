import pytest

from benchvoice.ear.confidence import Policy, Trust, read_policy, trust
from benchvoice.ear.decode import Decoded, Word
from benchvoice.ear.lexicon import OTHER

POLICY = Policy(accept_least=0.7, accept_mean=0.8, refuse_mean=0.4)


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
        (heard(("two", 1.0), ("point", 0.69), ("five", 1.0)), Trust.DOUBT),
        (heard(("two", 1.0), ("point", 0.7), ("five", 1.0)), Trust.ACCEPT),
        (heard(("two", 0.75), ("five", 0.75)), Trust.DOUBT),
        (heard(("two", 1.0), (OTHER, 0.9)), Trust.DOUBT),
    ],
)
def test_thresholds(decoded: Decoded, expected: Trust) -> None:
    assert trust(decoded, POLICY) is expected


def test_a_model_without_thresholds_gets_the_default(tmp_path) -> None:
    assert read_policy(tmp_path) == Policy()


@pytest.mark.parametrize("values", [(0.7, 0.3, 0.4), (1.1, 0.8, 0.4), (0.7, 1.2, 0.4), (0.7, 0.8, -0.1)])
def test_thresholds_that_cannot_be_are_refused(values: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="thresholds"):
        Policy(*values)
