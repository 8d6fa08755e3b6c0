"""A fit moves the net so that what was said stands out, and a personal model is whole or not there."""

import numpy as np
import pytest

from benchvoice.ear.fit import moving
from benchvoice.ear.fit.acoustics import read_acoustics
from benchvoice.ear.fit.features import as_decoded, cepstra
from benchvoice.ear.fit.moving import Example, fitted, gain
from benchvoice.ear.fit.paths import AnyWords, grammar_cost, ways_of
from benchvoice.ear.fit.personal import fit_model
from benchvoice.ear.integrity import check_sums
from benchvoice.ear.layout import ModelError
from benchvoice.ear.lexicon import read
from benchvoice.ear.model import load_model
from benchvoice.ear.pack.directory import Packed
from benchvoice.ear.words import model_with

WORDS = ("one", "two", "fifteen", "fifty", "done", "next")


@pytest.fixture(scope="module")
def examples(speak):
    """Whispered, which the ear hears worse: of a voice that stands out already there is nothing to be gained."""
    return [Example((word,), speak(word, "en-gb-scotland+whisper")) for word in WORDS]


@pytest.fixture(autouse=True)
def few_steps(monkeypatch):
    monkeypatch.setattr(moving, "STEPS", 3)


def objective(shipped, examples, changes):
    net, packed, lexicon = read_acoustics(shipped / "am/final.mdl"), Packed.read(shipped), read(shipped / "lexicon.txt")
    rivals = AnyWords({w: lexicon[w] for w in WORDS}, packed.topology, packed.costs, grammar_cost(len(WORDS)))
    known = [
        moving._Known(cepstra(as_decoded(e.samples)), ways_of(e.words, lexicon, packed.topology, packed.costs, 3.9))
        for e in examples
    ]
    return gain(net, rivals, known, changes)[0]


def test_what_was_said_stands_out_more(shipped, examples):
    net, packed, lexicon = read_acoustics(shipped / "am/final.mdl"), Packed.read(shipped), read(shipped / "lexicon.txt")
    told = []
    changes = fitted(net, packed, lexicon, examples, WORDS, lambda done, of: told.append((done, of)))
    assert objective(shipped, examples, changes) > objective(shipped, examples, {})
    assert told == [(1, 3), (2, 3), (3, 3)]
    assert set(changes) == set(net.movable)


def test_without_examples_nothing_moves(shipped):
    net, packed, lexicon = read_acoustics(shipped / "am/final.mdl"), Packed.read(shipped), read(shipped / "lexicon.txt")
    unknown = [Example(("xyzzyq",), np.zeros(16_000, np.int16))]
    for some in ([], unknown):
        assert net.moved(fitted(net, packed, lexicon, some, WORDS)) == net.data


def test_a_personal_model_loads_learns_words_and_has_a_hash_of_its_own(shipped, examples, tmp_path):
    path = fit_model(shipped, examples, WORDS, tmp_path / "models")
    model = load_model(path)
    assert path.name == model.hash[:12] != check_sums(shipped)[:12]
    assert model.words == load_model(shipped).words
    assert model.policy == load_model(shipped).policy
    extended = model_with(["flonkhurst"], base=path, cache=tmp_path / "cache")
    assert extended.added == ("flonkhurst",)
    assert load_model(extended.path).hash not in (model.hash, check_sums(shipped))


def test_the_same_clips_make_the_same_model(shipped, examples, tmp_path):
    paths = [fit_model(shipped, examples[:2], WORDS, tmp_path / "models") for _ in range(2)]
    assert paths[0] == paths[1]
    assert [path.name for path in (tmp_path / "models").iterdir()] == [paths[0].name]


def test_an_interrupted_fit_leaves_nothing(shipped, examples, tmp_path):
    def stop(done, of):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        fit_model(shipped, examples, WORDS, tmp_path / "models", stop)
    assert not (tmp_path / "models").exists()


def test_a_model_that_was_not_packed_here_is_refused(shipped, tmp_path):
    (tmp_path / "packed.json").write_text("{}")
    with pytest.raises(ModelError):
        fit_model(tmp_path, [], WORDS, tmp_path / "models")
