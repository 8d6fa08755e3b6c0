import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchvoice.ear.confidence import Trust, trust
from benchvoice.ear.decode import (
    RATE,
    Decoder,
    Grammar,
    decode,
    fits,
    grammar_for,
)
from benchvoice.ear.lexicon import OTHER
from benchvoice.ear.model import Model

DIGITS = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]


def test_digits_are_heard_with_confidence_and_times(model: Model, speak) -> None:
    sound = speak("five, two, seven")
    decoded = decode(model, sound, grammar_for(model, DIGITS))
    assert decoded.text == "five two seven"
    assert decoded.known == ("five", "two", "seven")
    assert all(0 < word.confidence <= 1 for word in decoded.words)
    times = [edge for word in decoded.words for edge in (word.start, word.end)]
    assert times == sorted(times)
    assert 0 <= times[0] < times[-1] <= decoded.audio_s == len(sound) / RATE
    assert decoded.compute_s > 0


def test_the_size_of_the_blocks_changes_nothing(model: Model, speak) -> None:
    sound, grammar = speak("four and a half thou"), grammar_for(model, ["four and a half thou", *DIGITS])
    whole = decode(model, sound, grammar)
    for block in (160, 320, 512, 7_001):
        decoder = Decoder(model, grammar)
        for at in range(0, len(sound), block):
            decoder.feed(sound[at : at + block])
        assert decoder.finish().words == whole.words
    assert whole.text == "four and a half thou"


def test_somebody_far_away_is_heard_as_well(model: Model, speak) -> None:
    """At 50 dB under full scale, however the sound comes in; the clip as it was is what is kept."""
    sound = (speak("four and a half thou").astype(np.float64) * 0.01).astype(np.int16)
    assert np.abs(sound).max() < 150
    grammar = grammar_for(model, ["four and a half thou", *DIGITS])
    whole, decoder = decode(model, sound, grammar), Decoder(model, grammar)
    for at in range(0, len(sound), 160):
        decoder.feed(sound[at : at + 160])
    assert decoder.finish().words == whole.words
    assert whole.text == "four and a half thou"


@pytest.mark.parametrize("seconds", [0, 0.001, 0.3, 3, 12])
def test_silence_is_nothing(model: Model, silence, seconds: float) -> None:
    assert decode(model, silence(seconds), grammar_for(model, DIGITS)).words == ()


def test_a_tone_is_never_accepted(model: Model) -> None:
    for pitch in (100, 440, 1000, 2000):
        tone = (np.sin(np.arange(2 * RATE) / RATE * 2 * np.pi * pitch) * 8000).astype(np.int16)
        assert trust(decode(model, tone, grammar_for(model, DIGITS)), model.policy) is not Trust.ACCEPT


def test_full_scale_noise_and_clipping_end_nothing(model: Model) -> None:
    noise = np.random.default_rng(0).choice(np.array([-32768, 32767], np.int16), RATE)
    assert decode(model, noise, grammar_for(model, DIGITS)).audio_s == 1.0


def test_pieces_between_long_pauses_are_joined(model: Model, speak, silence) -> None:
    sound = np.concatenate([speak("two"), speak("point"), silence(3.0), speak("eight")])
    decoded = decode(model, sound, grammar_for(model, [*DIGITS, "point"]))
    assert decoded.text == "two point eight"
    assert decoded.words[-1].start > 3.0


def test_a_decoder_tells_what_it_has_so_far(model: Model, speak, silence) -> None:
    decoder = Decoder(model, grammar_for(model, [*DIGITS, "point"]))
    assert decoder.partial() == ()
    decoder.feed(np.concatenate([speak("two point"), silence(1.0)]))
    assert decoder.partial() == ("two", "point")
    decoder.feed(np.concatenate([speak("eight"), silence(0.6)]))
    assert decoder.finish().text == "two point eight"


def test_other_words_are_refused(model: Model, speak) -> None:
    heard = decode(model, speak("the customer telephoned about his bicycle again"), grammar_for(model, DIGITS))
    assert OTHER in heard.text.split()


@pytest.mark.parametrize("phrases", [[], [""], ["   "], ["xyzzyplugh"], [OTHER], ["[]"], ["{}"], ["one xyzzyplugh"]])
def test_a_grammar_of_nothing_hears_nothing_and_crashes_nothing(model: Model, speak, phrases: list[str]) -> None:
    grammar = grammar_for(model, phrases)
    assert grammar.phrases == ()
    decoder = Decoder(model, grammar)
    decoder.feed(speak("one two three"))
    assert decoder.partial() == ()
    assert decoder.finish().words == ()


def test_phrases_with_an_unknown_word_are_left_out_whole(model: Model) -> None:
    grammar = grammar_for(model, ["One  two", "one xyzzyplugh", "three", "one two", 'nine "quoted"'])
    assert grammar == Grammar(("one two", "three"), ("xyzzyplugh", '"quoted"'))
    assert grammar.words == {"one", "two", "three"}


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(phrases=st.lists(st.text(max_size=12), max_size=6))
def test_no_text_in_a_grammar_ends_the_process(model: Model, phrases: list[str]) -> None:
    decode(model, np.zeros(800, np.int16), grammar_for(model, phrases))


def test_without_a_grammar_all_words_may_come(model: Model, speak) -> None:
    assert decode(model, speak("hammer"), None).audio_s > 0.2


def test_many_decoders_may_share_a_model(model: Model, speak) -> None:
    sounds = {word: speak(word) for word in ("two", "five", "nine")}
    decoders = {word: Decoder(model, grammar_for(model, DIGITS)) for word in sounds}
    for at in range(0, 16_000, 320):
        for word, decoder in decoders.items():
            decoder.feed(sounds[word][at : at + 320])
    assert {word: decoder.finish().text for word, decoder in decoders.items()} == {word: word for word in sounds}


class TestFits:
    PHRASES = ("next", "go back", "two", "two point five")

    @pytest.mark.parametrize("said", ["next", "go back", "two point five", "two"])
    def test_a_whole_phrase(self, said: str) -> None:
        assert fits(said.split(), self.PHRASES)

    @pytest.mark.parametrize("said", ["", "go", "back", "next next", "two point"])
    def test_a_piece_or_more_than_one(self, said: str) -> None:
        assert not fits(said.split(), self.PHRASES)

    @pytest.mark.parametrize(
        ("said", "strung"),
        [("next go back two", True), ("two two point five", True), ("two point", False), ("", False)],
    )
    def test_strung_together(self, said: str, strung: bool) -> None:
        assert fits(said.split(), self.PHRASES, strung=True) is strung

    @given(st.lists(st.sampled_from(PHRASES), min_size=1, max_size=6))
    def test_any_string_of_phrases_fits(self, phrases: list[str]) -> None:
        assert fits(" ".join(phrases).split(), self.PHRASES, strung=True)
