"""What is loud and no word: counted between the words' times, whatever the level of the whole."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.ear.left_out import FRAME, left_out_s, levels

RATE = 16_000


def sound(*parts: tuple[float, float]) -> np.ndarray:
    """White noise of so many seconds at so many dB under full scale, one part after the other."""
    r = np.random.default_rng(0)
    pieces = [r.uniform(-1, 1, round(s * RATE)) * 32_767 * 10 ** (-db / 20) for s, db in parts]
    return np.rint(np.concatenate(pieces)).astype(np.int16)


def test_a_level_is_the_mean_square_of_ten_milliseconds() -> None:
    assert levels(np.full(FRAME * 2 + 5, 100, np.int16)) == pytest.approx([40, 40], abs=0.01)
    assert levels(np.zeros(FRAME, np.int16)) == pytest.approx([0])
    assert not len(levels(np.zeros(10, np.int16)))


@pytest.mark.parametrize("quieter", [0, 20, 40])
def test_a_word_that_was_left_out_is_found_at_any_level(quieter: float) -> None:
    spoken = sound(
        (0.3, 60 + quieter), (0.4, 10 + quieter), (0.3, 60 + quieter), (0.35, 14 + quieter), (0.4, 60 + quieter)
    )
    assert left_out_s(spoken, [(0.3, 0.7)]) == pytest.approx(0.35, abs=0.02)
    assert left_out_s(spoken, [(0.3, 0.7), (1.0, 1.35)]) == 0
    assert left_out_s(spoken, [(0.2, 0.75), (0.95, 1.3)]) == 0, "times are not exact"


def test_what_is_much_quieter_than_the_words_is_no_word() -> None:
    assert left_out_s(sound((0.3, 60), (0.4, 10), (0.3, 60), (0.3, 26), (0.4, 60)), [(0.3, 0.7)]) == 0


def test_even_noise_all_through_is_no_word() -> None:
    assert left_out_s(sound((1.0, 20), (0.4, 16), (1.0, 20)), [(1.0, 1.4)]) == 0


def test_a_short_closure_does_not_part_a_stretch() -> None:
    spoken = sound((0.4, 10), (0.4, 60), (0.1, 12), (0.03, 60), (0.1, 12), (0.4, 60))
    assert left_out_s(spoken, [(0.0, 0.4)]) == pytest.approx(0.2, abs=0.02), "only what is loud counts"


@given(
    samples=st.lists(st.integers(-32_768, 32_767), max_size=3_000),
    spans=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), max_size=4),
)
def test_it_is_never_longer_than_the_sound_and_nothing_without_words(samples, spans) -> None:
    found = left_out_s(np.array(samples, np.int16), spans)
    assert 0 <= found <= len(samples) / RATE
    if not spans:
        assert found == 0
