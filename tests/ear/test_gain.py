"""Every sample comes back, the same whatever the blocks, quiet words raised and loud ones as they were."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.ear.gain import AHEAD, FRAME, MOST_DB, TARGET_DB, Gain, levelled

RATE = 16_000


def peak_db(samples: np.ndarray) -> float:
    return float(20 * np.log10(np.abs(samples.astype(np.int32)).max() / 32_768))


def tone(seconds: float, db: float) -> np.ndarray:
    return np.rint(np.sin(np.arange(round(seconds * RATE)) * 0.4) * 32_767 * 10 ** (db / 20)).astype(np.int16)


@given(
    samples=st.lists(st.integers(-32_768, 32_767), max_size=60),
    stretched=st.integers(1, 200),
    cuts=st.lists(st.integers(0, 12_000), max_size=6),
)
def test_the_size_of_the_blocks_changes_nothing(samples, stretched, cuts) -> None:
    sound = np.repeat(np.array(samples, np.int16), stretched)
    gain = Gain()
    parts = [gain.feed(part) for part in np.split(sound, sorted(c for c in cuts if c <= len(sound)))]
    whole = np.concatenate([*parts, gain.finish()])
    assert whole.dtype == np.int16
    assert np.array_equal(whole, levelled(sound))
    assert len(whole) == len(sound)


@given(st.lists(st.integers(-32_768, 32_767), max_size=2_000))
def test_nothing_becomes_quieter_and_nothing_wraps_round(samples) -> None:
    sound = np.array(samples, np.int16)
    loud = levelled(sound)
    assert (np.abs(loud.astype(int)) >= np.abs(sound.astype(int)) - 1).all()
    assert (np.sign(loud) * np.sign(sound) >= 0).all()
    assert (np.abs(loud.astype(int)) <= np.abs(sound.astype(int)) * 10 ** (MOST_DB / 20) + 1).all()


@pytest.mark.parametrize("db", [-1, -15, -20, -30, -40, -60])
def test_an_even_sound_comes_to_the_target_as_far_as_the_gain_goes(db: float) -> None:
    assert peak_db(levelled(tone(1.0, db))) == pytest.approx(max(db, min(TARGET_DB, db + MOST_DB)), abs=0.3)


def test_a_quiet_word_after_a_loud_one_is_raised_and_the_loud_one_is_not() -> None:
    loud, quiet = tone(0.4, -6), tone(0.5, -36)
    heard = levelled(np.concatenate([loud, quiet]))
    assert np.array_equal(heard[: len(loud)], loud)
    assert peak_db(heard[-RATE // 10 :]) == pytest.approx(TARGET_DB, abs=0.5)


def test_an_onset_is_not_cut_off_by_the_gain_before_it() -> None:
    heard = levelled(np.concatenate([tone(0.5, -40), tone(0.3, -3)]))
    assert np.array_equal(heard[RATE // 2 : RATE // 2 + 800], tone(0.3, -3)[:800])


def test_sound_comes_back_no_later_than_it_looks_ahead() -> None:
    gain, sound = Gain(), tone(1.0, -10)
    assert len(gain.feed(sound)) == len(sound) - AHEAD * FRAME
