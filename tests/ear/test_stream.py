"""Finding utterances, with a scripted detector for exact edges and the real one for real sound."""

from collections.abc import Callable

import numpy as np
import pytest

from benchvoice.ear.decode import RATE, Grammar, Samples, decode, grammar_for
from benchvoice.ear.detector import FRAME
from benchvoice.ear.model import Model
from benchvoice.ear.stream import Ear, Listening, Utterance

DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "point"]
MS = FRAME * 1000 // RATE


class Loudness:
    """A detector for tests: speech is any frame that isn't all zeros."""

    def probability(self, frame: Samples) -> float:
        return 1.0 if np.any(frame) else 0.0

    def reset(self) -> None:
        pass


@pytest.fixture
def grammar(model: Model) -> Grammar:
    return grammar_for(model, DIGITS)


def listen(ear: Ear, sound: Samples, block: int = 320) -> list[Utterance]:
    return [spoken for at in range(0, len(sound), block) for spoken in ear.feed(sound[at : at + block])]


def frames(count: int, value: int = 0) -> Samples:
    return np.full(count * FRAME, value, np.int16)


def test_digital_silence_is_nothing(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar))
    assert listen(ear, np.zeros(20 * RATE, np.int16)) == []
    assert ear.flush() == []


def test_words_come_out_one_utterance_each_with_their_times(model: Model, grammar: Grammar, speak, silence) -> None:
    first, second = speak("two point five"), speak("seven")
    sound = np.concatenate([silence(1.0), first, silence(1.5), second, silence(1.0)])
    found = listen(Ear(model, Listening(grammar)), sound)
    assert [spoken.decoded.text for spoken in found] == ["two point five", "seven"]
    assert found[0].started_s == pytest.approx(1.0, abs=0.45)
    assert found[0].started_s < 1.0
    assert found[1].ended_s > found[1].started_s > found[0].ended_s
    for spoken in found:
        assert spoken.ended_s - spoken.started_s == pytest.approx(len(spoken.samples) / RATE)


def test_an_utterances_clip_decodes_to_the_same_words(model: Model, grammar: Grammar, speak, silence) -> None:
    sound = np.concatenate([silence(0.7), speak("nine point five four", "en-gb+m3"), silence(1.2)])
    (spoken,) = listen(Ear(model, Listening(grammar)), sound)
    assert decode(model, spoken.samples, spoken.grammar).words == spoken.decoded.words


def test_the_size_of_the_blocks_changes_nothing(model: Model, grammar: Grammar, speak, silence) -> None:
    sound = np.concatenate([silence(0.5), speak("six eight"), silence(1.0)])
    one, *others = (
        [
            (s.started_s, s.samples.tolist(), s.decoded.words)
            for s in listen(Ear(model, Listening(grammar)), sound, block)
        ]
        for block in (320, 100, 5000)
    )
    assert all(other == one for other in others)
    assert len(one) == 1


def test_the_end_comes_when_its_silence_is_over(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, end_ms=10 * MS), Loudness())
    assert listen(ear, frames(20)) == []
    assert listen(ear, frames(5, 100)) == []
    assert ear.hearing
    assert listen(ear, frames(9)) == []
    (spoken,) = listen(ear, frames(1))
    assert not ear.hearing
    assert spoken.ended_s == pytest.approx(35 * FRAME / RATE)


def test_a_little_from_before_is_kept(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, end_ms=10 * MS), Loudness())
    (spoken,) = listen(ear, np.concatenate([frames(50), frames(5, 100), frames(10)]))
    lead = int(np.flatnonzero(spoken.samples)[0]) / RATE
    assert 0.3 <= lead < 0.35


def test_one_frame_of_noise_starts_nothing(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, end_ms=10 * MS), Loudness())
    assert listen(ear, np.concatenate([frames(10), frames(1, 100), frames(20)])) == []


def test_something_unfinished_is_waited_for(model: Model, grammar: Grammar, speak, silence) -> None:
    listening = Listening(grammar, end_ms=500, unfinished=lambda words: words[-1:] == ("point",))
    sound = np.concatenate([silence(0.5), speak("two point"), silence(3.0), speak("eight"), silence(1.0)])
    assert [spoken.decoded.text for spoken in listen(Ear(model, listening), sound)] == ["two point eight"]


def test_whether_it_waits_for_more_can_be_asked(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, end_ms=10 * MS, unfinished=lambda _: True, unfinished_ms=30 * MS), Loudness())
    listen(ear, frames(5, 100))
    assert (ear.hearing, ear.waiting) == (True, False)
    assert listen(ear, frames(10)) == []
    assert ear.waiting
    listen(ear, frames(1, 100))
    assert not ear.waiting
    (spoken,) = listen(ear, frames(30))
    assert spoken.silent_s == pytest.approx(30 * FRAME / RATE)


def test_but_not_for_ever(model: Model, grammar: Grammar, speak, silence) -> None:
    listening = Listening(grammar, end_ms=500, unfinished=lambda words: True, unfinished_ms=2000)
    sound = np.concatenate([silence(0.5), speak("two point"), silence(4.0)])
    (spoken,) = listen(Ear(model, listening), sound)
    assert spoken.decoded.text == "two point"
    assert spoken.ended_s == pytest.approx(0.5 + len(speak("two point")) / RATE + 2.0, abs=0.4)


def test_endless_speech_is_cut(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, longest_ms=40 * MS), Loudness())
    found = listen(ear, frames(100, 100))
    assert [len(spoken.samples) // FRAME for spoken in found] == [40, 40]


def test_the_end_of_the_sound_ends_what_was_being_said(model: Model, grammar: Grammar, speak, silence) -> None:
    ear = Ear(model, Listening(grammar))
    assert listen(ear, np.concatenate([silence(0.5), speak("seven"), silence(0.1)])) == []
    assert [spoken.decoded.text for spoken in ear.flush()] == ["seven"]
    assert ear.flush() == []


def test_resetting_drops_what_is_being_said_and_keeps_the_time(model: Model, grammar: Grammar) -> None:
    ear = Ear(model, Listening(grammar, end_ms=10 * MS), Loudness())
    listen(ear, np.concatenate([frames(10), frames(5, 100)]))
    ear.reset()
    assert not ear.hearing
    (spoken,) = listen(ear, np.concatenate([frames(5, 100), frames(10)]))
    assert spoken.started_s == pytest.approx(15 * FRAME / RATE)
    assert np.count_nonzero(spoken.samples) == 5 * FRAME


def test_another_question_counts_from_the_next_utterance(model: Model, grammar: Grammar, speak, silence) -> None:
    other = grammar_for(model, ["yes", "no"])
    ear = Ear(model, Listening(grammar))
    listen(ear, np.concatenate([silence(0.5), speak("seven")[:6000]]))
    ear.listen_for(Listening(other))
    found = listen(ear, np.concatenate([speak("seven")[6000:], silence(1.0), speak("yes"), silence(1.0)]))
    assert [(spoken.decoded.text, spoken.grammar) for spoken in found] == [("seven", grammar), ("yes", other)]


def test_tones_are_nothing(model: Model, grammar: Grammar) -> None:
    times = np.arange(3 * RATE) / RATE
    ear = Ear(model, Listening(grammar))
    for pitch in (100, 440, 1000, 2000):
        assert listen(ear, (np.sin(times * 2 * np.pi * pitch) * 8000).astype(np.int16)) == []
    assert ear.flush() == []


def test_hammering_and_a_running_engine_are_nothing(model: Model, grammar: Grammar) -> None:
    random: Callable[..., np.ndarray] = np.random.default_rng(5).normal
    length = 8 * RATE
    engine = (
        np.sin(np.cumsum(2 * np.pi * (27 + np.sin(np.arange(length) / RATE)) / RATE) * 3) * 4000
        + random(size=length) * 800
    )
    for at in range(4000, length - 3000, 9000):
        engine[at : at + 3000] += random(size=3000) * 15_000 * np.exp(-np.arange(3000) / 300)
    ear = Ear(model, Listening(grammar))
    found = listen(ear, np.clip(engine, -32768, 32767).astype(np.int16)) + ear.flush()
    assert [spoken.decoded.known for spoken in found if spoken.decoded.known] == []
