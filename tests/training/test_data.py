"""What may be trained on, how pronunciations are chosen, and that rows hold what they say they hold."""

import pytest

pytest.importorskip("torch", reason="training needs torch")

from grammar import Costs, Words
from phones import SPN, choose
from recordings import may_train
from rows import Corpus, RowPlans, words_of
from shards import RATE, ShardWriter, Utterance, read_shard

LEXICON = {"four": [("F", "AO", "R"), ("F", "AO")], "one": [("W", "AH", "N")]}


@pytest.mark.parametrize(
    ("licence", "allowed"),
    [
        ("CC-BY-4.0", True),
        ("CC BY-SA 3.0", True),
        ("GPL-2.0+", False),
        ("CC-BY-NC-4.0", False),
        ("public-domain", True),
    ],
)
def test_gpl_and_non_commercial_recordings_stay_out(licence, allowed):
    assert may_train(licence) is allowed


def test_accents_choose_their_variants():
    assert choose(LEXICON["four"], True) == [("F", "AO", "R")]
    assert choose(LEXICON["four"], False) == [("F", "AO")]
    assert choose(LEXICON["four"], None) == LEXICON["four"]


def test_words_become_units_garbage_its_own_and_unknown_none():
    assert words_of(Utterance(0, 1, "<spn>", "x"), LEXICON) == [[[SPN]]]
    assert words_of(Utterance(0, 1, "one nonesuch", "x"), LEXICON) is None
    assert [len(w) for w in words_of(Utterance(0, 1, "one four", "x"), LEXICON)] == [1, 2]


def test_rows_place_clips_in_order_inside_the_row_with_quiet_at_its_ends():
    corpus = Corpus()
    for k in range(6):
        corpus.start.append(k * 8000)
        corpus.length.append(8000)
        corpus.words.append([[[1, 2]]])
        corpus.weight.append(1.0)
        corpus.gain.append(1.0)
        corpus.joinable[k] = (k * 8000, 8000, "somebody")
    words = Words({"one": [(1, 2)]}, [(3, 4)], Costs())
    plan = RowPlans(corpus, words, 9.0, 12, 1, 14, quiet=1.0, quiet_seconds=(0.5, 1.0), empty=0.0, abrupt=0.0)
    cut_close = next(iter(RowPlans(corpus, words, 9.0, 12, 1, 14, quiet=1.0, empty=0.0, abrupt=1.0)))
    assert not cut_close["place"][:, 0].any()
    batch = next(iter(plan))
    ends = batch["place"] + batch["length"]
    assert (batch["place"][:, 0] >= 0.5 * RATE).all()
    assert (ends.max(1).values <= 9.0 * RATE * 1.3 - 0.5 * RATE).all()
    assert batch["asked"].shape == (12, 2)
    assert (batch["ctc_length"] == 2 * (batch["length"] > 0).sum(1)).all()


def test_shards_come_back_as_written(tmp_path):
    np = pytest.importorskip("numpy")
    writer = ShardWriter(tmp_path, "espeak_1")
    sound = (np.arange(4000) % 200).astype(np.int16)
    writer.add(sound, "one", "somebody", None, True)
    writer.add(sound[:100], "too short", "somebody")
    writer.flush()
    samples, (utterance,) = read_shard(tmp_path / "espeak_1_0000.json")
    assert (samples == sound).all()
    assert (utterance.words, utterance.rhotic, utterance.length) == ("one", True, 4000)
